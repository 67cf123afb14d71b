"""Boards on somebody else's page: the very example of the docs page, put into a page of another origin."""

import html
import re

import pytest
from playwright.sync_api import expect
from serve import serving

from browser.page.steps import HOUSE, SAMPLE, add_axe
from fuzz.damage import linked

SHOPS = (HOUSE / "docs/for-shops.md").read_text()
FRAME, PICTURE = re.findall(r"```html\n(.*?)```", SHOPS, re.DOTALL)
HEIGHT = int(re.search(r'height="(\d+)"', FRAME)[1])


@pytest.fixture(scope="module")
def shop(tmp_path_factory):
    """A shop's own server: another port of this machine, and so another origin. Gives a function that publishes a page."""
    folder = tmp_path_factory.mktemp("shop")
    with serving(folder) as address:

        def publish(body):
            (folder / "index.html").write_text(f'<!doctype html><meta charset="utf-8"><link rel="icon" href="data:,"><title>A shop</title><style>body {{ margin: 0 }}</style>{body}')
            return address

        yield publish


@pytest.fixture
def visit(shop, browser, site_url):
    """Opens a shop's page and gives it; nothing but the shop and this site may be asked for anything."""
    contexts, wrong = [], []

    def opened(body, width=800, **settings):
        context = browser.new_context(viewport={"width": width, "height": 700}, **{"color_scheme": "light", **settings})
        contexts.append(context)
        page = context.new_page()
        address = shop(body.replace("https://boards.example/", site_url))
        context.on("request", lambda request: None if request.url.startswith((site_url, address, "data:")) else wrong.append(request.url))
        page.on("console", lambda message: wrong.append(message.text) if message.type in ("error", "warning") else None)
        page.goto(address)
        return page

    yield opened
    for context in contexts:
        context.close()
    assert not wrong, wrong


def test_the_example_of_the_docs_shows_the_board_and_the_shops_title(visit, site_url):
    page = visit(FRAME)
    frame = page.frame_locator("iframe")
    expect(frame.locator("h1")).to_have_text("Winter tour")
    expect(frame.locator(".bw-frame__title")).to_have_text("Harbour Street Workshop")
    expect(frame.get_by_role("img")).to_be_visible()
    expect(frame.get_by_text("your local electrical code")).to_be_visible()
    assert page.frames[1].url.startswith(site_url) and not page.url.startswith(site_url)
    assert page.context.cookies() == []
    with page.expect_popup() as popup:
        frame.get_by_role("link", name="Open in the checker").click()
    expect(popup.value.locator(".bw-desk__title bdi")).to_have_text("Harbour Street Workshop")
    expect(popup.value.locator(".bw-desk__name")).to_have_text("Winter tour")
    assert popup.value.evaluate("opener") is None


@pytest.mark.parametrize("width", [280, 360, 700, 1200])
@pytest.mark.parametrize("name", ["winter-tour", "spare-room-five-before", "saltmarsh-tour"])
def test_all_of_it_fits_into_its_height(visit, name, width):
    page = visit(FRAME.replace("winter-tour", name), width)
    assert page.locator("iframe").bounding_box()["height"] == HEIGHT
    frame = page.frames[1]
    frame.wait_for_selector(".bw-frame__title:visible")
    fits = "() => [document.documentElement, document.body].every(all => all.scrollHeight <= innerHeight && all.scrollWidth <= innerWidth)"
    assert frame.evaluate(fits)
    for part in (".bw-frame__title", "h1", ".bw-frame__said", ".bw-scroll", "footer"):
        box = frame.evaluate("part => { const {top, bottom, height} = document.querySelector(part).getBoundingClientRect(); return [top, bottom, height] }", part)
        assert box[0] >= 0 and box[1] <= HEIGHT and box[2] > 10, part
    assert frame.evaluate("document.querySelector('.bw-scroll').clientHeight") >= 150


def test_a_title_is_text_whatever_it_says(visit):
    page = visit(FRAME.replace("#title=Harbour%20Street%20Workshop", "#title=%3Cimg%20src%3Dx%20onerror%3Dalert(1)%3E"))
    frame = page.frame_locator("iframe")
    expect(frame.locator(".bw-frame__title")).to_have_text("<img src=x onerror=alert(1)>")
    expect(frame.locator("img")).to_have_count(0)


def test_without_a_title_there_is_none(visit):
    page = visit(re.sub("#title=[^\"]*", "", FRAME))
    expect(page.frame_locator("iframe").locator("h1")).to_be_visible()
    expect(page.frame_locator("iframe").locator(".bw-frame__title")).to_be_hidden()


def client_frame(end):
    return FRAME.replace("winter-tour.html#title=", f"board.html{html.escape(end)}&amp;title=")


def test_a_clients_board_is_carried_in_the_link_and_judged_only_when_asked(visit, site_url):
    asked = []
    page = visit("")
    page.context.on("request", lambda request: asked.append(request))
    page.set_content(client_frame(linked(SAMPLE.read_text())).replace("https://boards.example/", site_url))
    frame = page.frame_locator("iframe")
    expect(frame.locator("h1")).to_have_text("Spare-room five before")
    expect(frame.locator(".bw-frame__title")).to_have_text("Harbour Street Workshop")
    assert frame.locator("pre").inner_text().strip() == SAMPLE.read_text().strip()
    assert not any("worker" in request.url or "fake" in request.url for request in asked)
    assert all("board=" not in request.url.partition("#")[0] for request in asked)
    frame.get_by_role("button", name="Check it here").click()
    expect(frame.locator(".bw-frame__said")).to_contain_text("Found ")
    expect(frame.get_by_role("img")).to_be_visible()
    with page.expect_popup() as popup:
        frame.get_by_role("link", name="Open in the checker").click()
    expect(popup.value.locator(".bw-desk__title bdi")).to_have_text("Harbour Street Workshop")
    expect(popup.value.locator(".bw-desk__name")).to_have_text("Spare-room five before")


@pytest.mark.parametrize(
    ("end", "said"),
    [
        ("#board=1.AAAA", "is damaged"),
        ("#board=9.AAAA", "made by another version"),
        (linked(b"#" * 20_000_000), "unfolds into more than 1 MB"),
        ("#", "holds no board"),
    ],
)
def test_a_bad_link_in_a_frame_says_so(visit, end, said):
    page = visit(client_frame(end))
    expect(page.frame_locator("iframe").locator(".bw-frame__said")).to_contain_text(said)


def test_a_hostile_board_in_a_frame_is_text(visit):
    board = "board: {name: <script>document.title='run'</script>}\npedals: {'<img src=x onerror=alert(1)>': {kind: fuzz, needs: 9V dc centre-negative 5mA, feed: x.1}}\n"
    page = visit(client_frame(linked(board)))
    frame = page.frame_locator("iframe")
    expect(frame.locator("h1")).to_have_text("<script>document.title='run'</script>")
    frame.get_by_role("button", name="Check it here").click()
    expect(frame.locator(".bw-frame__said")).to_contain_text("The text cannot be read in ")
    expect(frame.locator("img, main script")).to_have_count(0)


def test_the_frame_that_the_checker_copies_works(visit, open_page):
    page = open_page("checker/#example=boards/cafe-duo.yaml")
    page.get_by_role("button", name="Share and download").click()
    page.get_by_text("For shops and builders").click()
    page.get_by_label("Your own title").fill('Harbour "Street" <b>')
    page.get_by_role("button", name="Copy frame for a web page").click()
    expect(page.locator(".bw-desk__note")).to_contain_text("Frame copied")
    copied = page.evaluate("navigator.clipboard.readText()")
    assert "frames/cafe-duo.html#title=" in copied and f'height="{HEIGHT}"' in copied
    shown = visit(copied)
    expect(shown.frame_locator("iframe").locator(".bw-frame__title")).to_have_text('Harbour "Street" <b>')
    assert shown.locator("iframe").bounding_box()["height"] == HEIGHT


def test_the_link_with_a_picture_works(visit):
    page = visit(PICTURE)
    picture = page.get_by_role("img", name="Winter tour: the board drawn to scale")
    picture.evaluate("picture => picture.decode()")
    assert picture.evaluate("picture => picture.naturalWidth") > 300
    page.get_by_role("link").click()
    expect(page.locator(".bw-desk__name")).to_have_text("Winter tour")
    expect(page.locator(".bw-desk__title bdi")).to_have_text("Harbour Street Workshop")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_frame_meets_wcag(open_page, scheme):
    page = open_page("frames/winter-tour.html#title=Harbour%20Street", color_scheme=scheme)
    expect(page.locator(".bw-frame__title")).to_be_visible()
    add_axe(page)
    found = page.evaluate("axe.run()")
    assert [f"{each['id']}: {[node['html'] for node in each['nodes']]}" for each in found["violations"]] == []
