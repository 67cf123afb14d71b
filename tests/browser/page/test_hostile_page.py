"""Hostile input at the page: scripts in every field, what the browser keeps gone bad, a megabyte pasted. Nothing runs, and the page stays of use."""

from urllib.parse import quote

import pytest
from playwright.sync_api import expect

from boardwright.spec.read import read
from browser.page.steps import CLEAN, HOUSE, editor_text, paste
from fuzz.at_page import COULD_RUN
from fuzz.damage import linked
from fuzz.texts import MARK, SCRIPTS, scripted_board, scripted_words

SCRIPT = "".join(SCRIPTS[:3])
TOUR = (HOUSE / "demo_boards/saltmarsh-tour.yaml").read_text()
SCRIPTED = {"field": scripted_board(SCRIPT), "word": scripted_words(read(TOUR).tree.root.plain(), SCRIPT)}


@pytest.fixture
def watched(open_page):
    """Opens a page, and fails for anything that any page beside it complains of: a violation of the policy is a console error."""
    wrong = []

    def opened(path):
        page = open_page(path)
        page.context.on("console", lambda message: wrong.append(message.text) if message.type in ("error", "warning") else None)
        page.context.on("weberror", lambda error: wrong.append(str(error.error)))
        page.context.on("dialog", lambda dialog: (wrong.append(dialog.message), dialog.dismiss()))
        return page

    yield opened
    assert not wrong, wrong


def is_words(page, within):
    page.evaluate("document.querySelectorAll('details').forEach(fold => { fold.open = true })")
    assert MARK in page.locator(within).first.inner_text()
    assert page.evaluate(COULD_RUN, within) == []
    assert page.title() != MARK


@pytest.mark.parametrize("kind", SCRIPTED)
def test_a_script_in_every_field_is_words_wherever_it_is_shown(watched, site_url, kind):
    text = SCRIPTED[kind]
    page = watched(f"checker/{linked(text)}&title={quote(SCRIPT)}")
    expect(page.locator(".bw-drawings")).not_to_have_attribute("aria-busy", "true")
    is_words(page, ".bw-bench")
    page.locator(".cm-content").click()
    page.keyboard.press("Control+End")
    page.keyboard.type(" ")
    expect(page.locator(".bw-desk__state").last).to_have_text("kept in this browser")
    page.get_by_role("button", name="Boards", exact=True).click()
    page.get_by_role("button", name="Handover book").click()
    expect(page.locator(".bw-book")).to_contain_text("from the text as it stood then", timeout=20_000)
    is_words(page, ".bw-bench")
    with page.context.expect_page() as opening:
        page.get_by_role("button", name="Open to print").click()
    is_words(opening.value, "body")

    page.goto(f"{site_url}fault-finder/")
    page.wait_for_selector(".bw-hunt__kind")
    assert page.evaluate(COULD_RUN, ".bw-hunt") == [] and page.title() != MARK

    page.goto(f"{site_url}frames/board.html{linked(text)}&title={quote(SCRIPT)}")
    page.get_by_role("button", name="Check it here").click()
    expect(page.locator(".bw-frame__said")).not_to_contain_text("Getting the checker ready")
    is_words(page, "main, header, footer")


# ---- a megabyte

SIZE = 300_000
"""What takes the length of a text squared takes minutes here already."""
LONG = {
    "line ends": "\n" * SIZE,
    "a key far from its colon": "a" + " " * SIZE + ":",
    "open brackets": "pedals: " + "[" * SIZE,
    "one line in brackets": "pedals: {" + "a, " * (SIZE // 3) + "}",
    "comments, a megabyte of them": "# c\n" * 249_999,
}


def test_long_texts_of_anything_are_answered_and_can_be_written_in(open_page):
    page = open_page()
    for kind, text in LONG.items():
        paste(page, text)
        page.keyboard.press("Control+End")
        page.keyboard.type("k")
        page.get_by_role("button", name="Tidy").click()
        expect(page.locator(".bw-remark"), kind).not_to_be_empty()
        page.locator("summary", has_text="Put in").click()
        page.locator(".bw-piece").first.click()
        expect(page.locator(".bw-remark"), kind).to_contain_text("Put in")
        expect(page.locator(".bw-state"), kind).to_contain_text("Up to date", timeout=20_000)
    page.reload()
    page.wait_for_selector(".cm-content")
    assert editor_text(page).startswith("# c\n# c\n")
    paste(page, CLEAN)
    expect(page.locator(".bw-headline")).to_contain_text("Nothing wrong found")


def test_a_checker_whose_file_comes_empty_is_given_up_in_words(open_page, site_url):
    page = open_page("cautions/")
    page.clock.install()
    page.route("**/assets/checker/worker.mjs", lambda route: route.fulfill(body="", content_type="text/javascript"))
    page.goto(f"{site_url}checker/")
    page.wait_for_selector(".cm-content")
    page.clock.fast_forward(61_000)
    expect(page.locator(".bw-note__head")).to_have_text("The checker has stopped")
    page.unroute_all()
    page.get_by_role("button", name="Start again").click()
    page.clock.resume()
    expect(page.locator(".bw-state")).to_contain_text("Up to date")


@pytest.mark.parametrize("letter", ["\0", "\u202e", "a\u200b"])
def test_hidden_letters_are_shown_and_not_by_the_ten_thousand(open_page, letter):
    page = open_page(f"checker/{linked(letter * 20_000)}")
    signs = page.locator(".cm-specialChar")
    expect(signs.first).to_have_attribute("aria-label", f"Hidden letter U+{ord(letter[-1]):04X}")
    assert signs.count() == 1000
    assert editor_text(page) == letter * 20_000


@pytest.mark.parametrize("kept", ["", "{", "null", '"x"', '{"index":0,"color":{"<b>":"x"}}', '{"index":"x","color":{}}', '{"index":0,"color":null}'])
def test_what_the_theme_keeps_breaks_one_page_at_most(open_page, site_url, kept):
    page = open_page("404.html", expect_errors=True)
    page.evaluate("kept => localStorage.setItem('/.__palette', kept)", kept)
    page.goto(f"{site_url}cautions/")
    wrong = []
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.goto(f"{site_url}cautions/")
    page.evaluate("document.querySelectorAll('[data-md-component=palette] input')[1].click()")
    assert page.evaluate("JSON.parse(localStorage.getItem('/.__palette')).index") == 1
    page.reload()
    assert page.evaluate("document.body.dataset.mdColorScheme") == "slate" and not wrong


PASTED_INSIDE_CALLS = """text => {
  const content = document.querySelector(".bw-code").shadowRoot.querySelector(".cm-content");
  const clipboardData = new DataTransfer();
  clipboardData.setData("text/plain", text);
  const descend = (calls) => {
    if (calls > 0) descend(calls - 1);
    else content.dispatchEvent(new ClipboardEvent("paste", { clipboardData, bubbles: true, cancelable: true }));
  };
  content.focus();
  descend(4000);
}"""
"""About two fifths of the calls inside calls that Chromium allows, as long as it has not compiled them."""


@pytest.mark.parametrize(
    "text",
    ["pedals: " + "[" * 299, "pedals: " + "[" * 4000, "pedals:\n" + "- " * 299 + "x", "pedals:\n" + "- " * 4000 + "x"],
    ids=lambda text: f"{len(text)} letters of {text[-3:-1]}",
)
def test_the_editor_follows_no_more_levels_than_a_browser_allows(open_page, text):
    page = open_page()
    page.keyboard.press("Control+A")
    page.evaluate(PASTED_INSIDE_CALLS, text)
    assert editor_text(page).endswith(text)
    expect(page.locator(".bw-state")).to_contain_text("Up to date, checked in")
