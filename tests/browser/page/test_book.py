"""The handover book from the page: written while the page stays in use, opened for printing, saved as a file."""

import re

from playwright.sync_api import expect

from boardwright import judge
from boardwright.report.book import CHAPTERS, handover_book
from browser.page.steps import CLEAN, SAMPLE, paste


def writes(page):
    page.get_by_role("button", name="Handover book").click()
    expect(page.locator(".bw-book")).to_contain_text("from the text as it stood then")


def test_it_is_saved_as_the_command_line_writes_it(open_page):
    page = open_page()
    writes(page)
    with page.expect_download() as saving:
        page.get_by_role("link", name="Save").click()
    saved = saving.value
    assert saved.path().read_text("utf-8") == handover_book(*judge(SAMPLE.read_text("utf-8")))
    assert re.fullmatch(r"[a-z0-9-]+-handover-book\.html", saved.suggested_filename)


def test_it_opens_in_a_tab_that_looks_as_it_prints(open_page):
    """Under the page's own policy, which lets no style sheet through that stands in a page."""
    page = open_page()
    paste(page, CLEAN)
    expect(page.locator(".bw-headline")).to_contain_text("Nothing wrong found")
    writes(page)
    with page.context.expect_page() as opening:
        page.get_by_role("button", name="Open to print").click()
    tab, wrong = opening.value, []
    tab.on("console", lambda message: wrong.append(message.text))
    expect(tab.locator("h1")).to_have_text(judge(CLEAN)[1].board.name)
    assert "handover book" in tab.title()
    assert tab.evaluate("document.compatMode") == "CSS1Compat"
    assert tab.locator(".cover h1").evaluate("e => getComputedStyle(e).fontSize") == "34.6667px"  # 26 pt
    assert tab.locator("main > section.chapter").count() >= 10
    assert tab.locator("figure svg").count() >= 3 and not wrong


def test_it_says_which_chapter_is_written_and_the_page_stays_in_use(open_page):
    page = open_page()
    page.evaluate(
        """() => {
            window.said = [];
            const status = document.querySelector('.bw-book [role=status]');
            new MutationObserver(() => window.said.push(status.textContent)).observe(status, { childList: true });
        }"""
    )
    page.get_by_role("button", name="Handover book").click()
    paste(page, CLEAN)  # checked all the same
    expect(page.locator(".bw-headline")).to_contain_text("Nothing wrong found")
    expect(page.locator(".bw-book")).to_contain_text("from the text as it stood then")
    said = page.evaluate("window.said")
    chapters = [re.fullmatch(r"Writing chapter (\d+) of (\d+): (.*)", each) for each in said[1:-1]]
    assert said[0].startswith("Waiting") and [each[3] for each in chapters] == [chapter.title for chapter in CHAPTERS][-len(chapters) :]


def test_a_crash_says_so_and_another_text_is_written(open_page):
    page = open_page(expect_errors=True)
    paste(page, "# crash\n")
    page.get_by_role("button", name="Handover book").click()
    expect(page.locator(".bw-book")).to_contain_text("No book: ")
    paste(page, CLEAN)
    writes(page)
