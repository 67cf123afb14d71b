"""Links that carry a board, and what can be copied and downloaded. Old links open for ever; bad ones lose nothing."""

import base64
import hashlib
import json
import random
import string
import zlib

import pytest
from playwright.sync_api import expect

from boardwright.browser import write
from browser.page.steps import CLEAN, SAMPLE, add_axe, canned, editor_text, paste
from fuzz.damage import linked

MINE = "board: {name: Größe & Söhne 🎸}\npedals:\n  a: {kind: fuzz, needs: 9V dc centre-negative 5mA}\n"

VERSION_1 = {
    # As version 1 made them; they are in people's messages, and are never to be changed here.
    "#board=1.eJxLyk8sSrFSqM5LzE21UgjJLy2q5SpITUnMKbbiUlBIBMpkZ-YBFaSVVlXVcgEAdWwPkw": "board: {name: Tour}\npedals:\n  a: {kind: fuzz}\n",
    "#board=1.eJxLyk8sSrFSqM5LzE21UnAvOrzt8PxUBTWF4MPbMvJSFT7M79tRy1WQmpKYU2zFpaCQCFSanZkH1JFWWlWlo5CXmppSbKVgGaaQkqyQnJpXUpSqm5eanliSWZaqYJrrWMsFACI1I5M&title=Harbour%20Street%20Workshop": MINE,
}


def one_bit_off(text):
    """Readable all the same, were it not for the checksum."""
    data = bytearray(zlib.compress(text.encode(), 0))
    data[40] ^= 1
    return f"#board=1.{base64.urlsafe_b64encode(data).decode().rstrip('=')}"


def fold(page):
    page.get_by_role("button", name="Share and download").click()
    return page.get_by_role("region", name="Share and download")


def note(page):
    return page.locator(".bw-desk__note")


def clipboard(page):
    return page.evaluate("navigator.clipboard.readText()")


def hop(page, end):
    page.evaluate("end => { location.hash = end }", end)


@pytest.mark.parametrize("end", VERSION_1)
def test_links_of_version_1_open(open_page, end):
    page = open_page(f"checker/{end}")
    expect(page.locator(".bw-desk__state").last).to_contain_text("from a link")
    assert editor_text(page) == VERSION_1[end]


def test_a_copied_link_opens_the_same_board_in_another_browser_and_says_how_long_it_is(open_page):
    page = open_page()
    paste(page, MINE)
    fold(page).get_by_role("button", name="Copy link").click()
    expect(note(page)).to_contain_text("Link copied. It is ")
    link = clipboard(page)
    assert f"It is {len(link)} characters long." in note(page).inner_text()
    address, _, end = link.partition("#")
    assert address == page.url.partition("#")[0] and end.startswith("board=1.")
    assert zlib.decompress(base64.urlsafe_b64decode(end.removeprefix("board=1.") + "==")).decode() == MINE
    other = open_page(f"checker/#{end}")
    assert editor_text(other) == MINE
    expect(other.locator(".bw-desk__name")).to_have_text("Größe & Söhne 🎸")


def test_the_link_of_a_worked_example_is_its_short_and_stable_one(open_page):
    page = open_page("checker/#example=boards/cafe-duo.yaml")
    share = fold(page)
    share.get_by_text("For shops and builders").click()
    share.get_by_label("Your own title").fill("  Harbour & Söhne #1  ")
    share.get_by_role("button", name="Copy link").click()
    expect(note(page)).to_contain_text("Link copied.")
    assert clipboard(page).endswith("checker/#example=boards/cafe-duo.yaml&title=Harbour%20%26%20S%C3%B6hne%20%231")


@pytest.mark.parametrize(("size", "said"), [(900, "some chat and mail programs cut links of that length"), (5000, "many programs refuse or cut links of that length")])
def test_a_long_link_says_that_some_places_will_not_take_it(open_page, size, said):
    page = open_page()
    # Noise does not get shorter by packing.
    text = "# " + b"".join(hashlib.sha256(bytes([n % 256, n // 256])).digest() for n in range(size // 16)).hex() + "\n"
    paste(page, f"{text}{CLEAN}")
    fold(page).get_by_role("button", name="Copy link").click()
    expect(note(page)).to_contain_text(said)
    assert f"{len(clipboard(page)):,} characters" in note(page).inner_text()


def test_the_title_of_a_link_is_shown_as_text_and_short(open_page):
    page = open_page("checker/#example=boards/cafe-duo.yaml&title=%3Cimg%20src%3Dx%20onerror%3Dalert(1)%3E%E2%80%AE%0A%00two" + "x" * 200)
    title = page.locator(".bw-desk__title bdi")
    expect(title).to_have_text("<img src=x onerror=alert(1)> two" + "x" * 47 + "…")
    assert page.locator(".bw-desk img").count() == 0
    expect(page.locator(".bw-desk__title")).to_contain_text("(words from the link)")


BAD = {
    "of another version": (linked(CLEAN, version="7"), "made by another version of this page (link version 7; this page reads 1)"),
    "of a version named like a part of objects": (linked(CLEAN, version="toString"), "made by another version of this page"),
    "without a version": ("#board=eJxLyk8sSrFSqFbI", "is damaged"),
    "empty": ("#board=", "is damaged"),
    "empty behind the version": ("#board=1.", "is damaged"),
    "not base64": ("#board=1.%C3%A4%C3%B6%C3%BC", "is damaged"),
    "cut off": (linked(CLEAN)[:-30], "is damaged"),
    "with something behind it": (linked(CLEAN) + "AAAA", "is damaged"),
    "with one letter of the text changed": (one_bit_off(CLEAN), "is damaged"),
    "not UTF-8": (linked(b"pedals: \xff\xfe"), "is damaged"),
    "not packed at all": ("#board=1." + base64.urlsafe_b64encode(CLEAN.encode()).decode().rstrip("="), "is damaged"),
    "a bomb": (linked(b"#" * 50_000_000), "unfolds into more than 1 MB of text"),
    "a letter longer than any board": (linked(b"#" * 1_000_001), "unfolds into more than 1 MB of text"),
}


@pytest.fixture(scope="module")
def opened(browser, site_url):
    """One page for all bad links, since none of them may leave a trace."""
    context = browser.new_context()
    page = context.new_page()
    page.goto(f"{site_url}checker/{linked(MINE)}")
    page.wait_for_selector(".cm-content")
    yield page
    context.close()


@pytest.mark.parametrize("kind", BAD)
def test_a_bad_link_says_so_in_plain_words_and_loses_nothing(opened, kind):
    end, said = BAD[kind]
    hop(opened, end)
    expect(note(opened)).to_contain_text(said)
    assert editor_text(opened) == MINE
    assert opened.evaluate("Object.keys(localStorage).filter(key => key.startsWith('boardwright'))") == []
    hop(opened, "#")


def test_a_link_with_any_letter_changed_says_that_it_is_damaged(opened):
    chance, end = random.Random(7), linked(CLEAN)
    for _ in range(20):
        place = chance.randrange(len("#board=1."), len(end) - 1)  # of the last letter some bits are of no use
        letter = chance.choice([letter for letter in string.ascii_letters + string.digits + "-_" if letter != end[place]])
        note(opened).locator("[role=status]").evaluate("said => { said.textContent = '' }")
        hop(opened, end[:place] + letter + end[place + 1 :])
        expect(note(opened)).to_contain_text("is damaged")
        assert editor_text(opened) == MINE
    hop(opened, "#")


def test_a_page_that_opens_with_a_bad_link_still_works(open_page):
    page = open_page("checker/#board=1.AAAA")
    expect(note(page)).to_contain_text("is damaged")
    assert editor_text(page).strip() == SAMPLE.read_text().strip()


def test_a_hostile_board_in_a_link_is_text(open_page):
    hostile = "board: {name: \"<script>document.title='run'</script>\"}\npedals:\n  '<img src=x onerror=document.title=1>': {kind: fuzz, needs: 9V dc centre-negative 5mA, feed: x.1}\n"
    page = open_page(f"checker/{linked(hostile)}")
    expect(page.locator(".bw-desk__name")).to_have_text("<script>document.title='run'</script>")
    assert page.locator(".bw-bench img, .bw-bench script").count() == 0 and page.title() not in ("run", "1")


# ---- copying and downloading


def saved(page, share, button):
    with page.expect_download() as download:
        share.get_by_role("button", name=button, exact=True).click()
    return download.value.suggested_filename, download.value.path().read_text("utf-8")


def test_every_download_is_what_the_checker_writes_and_bears_the_boards_name(open_page):
    page = open_page("checker/#example=boards/winter-tour.yaml")
    text = editor_text(page)
    share = fold(page)
    base = page.url.partition("checker/")[0]
    assert saved(page, share, "Board (YAML)") == ("winter-tour.yaml", text)
    assert saved(page, share, "Report (JSON)") == ("winter-tour-report.json", write(text, "json"))
    assert saved(page, share, "Report (Markdown)") == ("winter-tour-report.md", write(text, "markdown", base))
    assert saved(page, share, "Cut list (CSV)") == ("winter-tour-cut-list.csv", write(text, "cut-list"))
    drawings = json.loads(page.evaluate("async text => await (await fetch('/fake-check', {method: 'POST', body: text})).text()", text))["drawings"]
    assert len(drawings) >= 3
    assert page.locator(".bw-desk__pictures button").count() == len(drawings)
    for name, source in drawings.items():
        words = name.replace("-", " ").capitalize()
        assert saved(page, share, f"{words} (SVG)") == (f"winter-tour-{name}.svg", source)


def test_the_report_is_copied_as_markdown_with_links_to_the_lessons(open_page):
    page = open_page()
    fold(page).get_by_role("button", name="Copy report as Markdown").click()
    expect(note(page)).to_have_text("Report copied.")
    base = page.url.partition("checker/")[0]
    assert clipboard(page) == write(editor_text(page), "markdown", base)
    assert f"](<{base}lessons/" in clipboard(page)


def test_a_drawing_is_always_that_of_the_text_as_it_stands(open_page):
    page = open_page()
    share = fold(page)
    paste(page, f"# wait 1500\n{CLEAN}")
    share.get_by_role("button", name="Power map (SVG)").click()
    expect(note(page)).to_contain_text("its drawings are not made yet")
    expect(page.locator(".bw-state")).to_have_text("Checking…")
    expect(page.locator(".bw-state")).to_contain_text("Up to date")
    name, source = saved(page, share, "Power map (SVG)")
    assert name.endswith("-power-map.svg") and "<svg" in source


def test_what_is_written_does_not_cost_the_page_its_drawings(open_page):
    page = open_page()
    share = fold(page)
    paste(page, f"# draw 1200\n{CLEAN}")
    expect(page.locator(".bw-state")).to_contain_text("Up to date")
    assert saved(page, share, "Report (Markdown)")[1].startswith("# Spare-room five")
    expect(page.locator(".bw-drawings")).not_to_have_attribute("aria-busy", "true")
    expect(page.get_by_role("img", name="Power map of Spare-room five")).to_be_visible()


def test_what_cannot_be_written_is_said(open_page):
    page = open_page()
    canned["# fail"] = {}
    paste(page, "# fail\n")
    fold(page).get_by_role("button", name="Report (JSON)").click()
    expect(note(page)).to_contain_text("That did not work: the checker met an error of its own")


def test_where_the_browser_forbids_copying_the_link_can_be_copied_by_hand(open_page):
    page = open_page(permissions=[])
    page.evaluate("() => { navigator.clipboard.write = () => Promise.reject(new DOMException('no', 'NotAllowedError')) }")
    share = fold(page)
    box = share.get_by_label("To be copied by hand")
    expect(box).to_be_hidden()
    share.get_by_role("button", name="Copy link").click()
    expect(box).to_be_focused()
    assert box.input_value().endswith("checker/#example=boards/spare-room-five-before.yaml")
    expect(note(page)).to_contain_text("marked below, for you to copy")


@pytest.mark.parametrize(
    ("name", "file"),
    [("Größe & Söhne 🎸", "größe-söhne.yaml"), ("../../etc/passwd", "etc-passwd.yaml"), ("   ", "unnamed-board.yaml"), ("遅延器", "遅延器.yaml"), ("x" * 300, "x" * 60 + ".yaml")],
)
def test_names_of_files_come_from_the_boards_name(open_page, name, file):
    page = open_page()
    paste(page, f"board: {{name: {json.dumps(name)}}}\n")
    expect(page.locator(".bw-state")).to_contain_text("Up to date")
    assert saved(page, fold(page), "Board (YAML)")[0] == file


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_folds_meet_wcag_and_fit_a_phone(open_page, scheme):
    page = open_page("checker/#example=boards/cafe-duo.yaml&title=Harbour%20Street", viewport={"width": 320, "height": 640}, color_scheme=scheme)
    page.locator(".cm-content").click()
    page.keyboard.type("# mine\n")
    add_axe(page)
    for button in ("Boards", "Share and download"):
        page.get_by_role("button", name=button, exact=True).click()
        page.evaluate("document.querySelectorAll('.bw-desk details').forEach(fold => fold.open = true)")
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
        found = page.evaluate("axe.run('.bw-desk')")
        assert [f"{each['id']}: {[node['html'] for node in each['nodes']]}" for each in found["violations"]] == []
