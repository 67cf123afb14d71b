"""The handover book on paper: nothing beyond a page, nothing too small, nothing too pale, in the pages that a browser prints."""

from __future__ import annotations

from pathlib import Path

import pytest

from boardwright import judge
from boardwright.report.book import handover_book
from boardwright.report.book.style import LANDSCAPE, PORTRAIT
from pdf_paths import read_pages

DEMOS = Path(__file__).parents[2] / "demo_boards"
BOOKS = {name: handover_book(*judge((DEMOS / f"{name}.yaml").read_text("utf-8"))) for name in ("saltmarsh-tour", "builders-bench", "practice-four")}
UPRIGHT, LYING = (210.0, 297.0), (297.0, 210.0)
EDGE = 11.5
"""Millimetres that stay white at the left and the right, where printers do not reach."""
SMALLEST = 7.0
"""Points."""
PALEST = 4.5
"""To 1: the least contrast of text (WCAG 2.2, success criterion 1.4.3)."""


@pytest.fixture(scope="module", params=BOOKS)
def printed(request, browser):
    page = browser.new_page()
    page.set_content(BOOKS[request.param])
    pdf = page.pdf(prefer_css_page_size=True)
    page.close()
    return read_pages(pdf)


def test_pages_are_a4_and_none_is_empty(printed):
    for page in printed:
        assert any((page.width, page.height) == pytest.approx(size, abs=0.3) for size in (UPRIGHT, LYING))
        assert len(page.letters) > 60, "a page with little but its header"


def test_nothing_is_drawn_beyond_a_page(printed):
    for page in printed:
        for path in page.paths:
            x0, y0, x1, y1 = path.box
            covers = x1 - x0 > page.width - 1 and y1 - y0 > page.height - 1  # the paper itself
            assert covers or (x0 > EDGE - 1 and x1 < page.width - EDGE + 1 and y0 > 5 and y1 < page.height - 5), path.box
        for letter in page.letters:
            assert EDGE < letter.x < page.width - EDGE and 5 < letter.y < page.height - 5


def test_no_letter_is_too_small_or_too_pale(printed):
    letters = [letter for page in printed for letter in page.letters]
    assert len(letters) > 5000
    assert min(letter.size for letter in letters) >= SMALLEST - 0.01
    assert min(letter.contrast for letter in letters) >= PALEST


MEASURED = """([selector]) => {
    const wrong = [], shown = document.querySelectorAll(selector);
    for (const element of shown) {
        const room = element.getBoundingClientRect();
        for (const each of element.querySelectorAll("*")) {
            if (each.closest("defs, title, desc")) continue;
            const box = each.getBoundingClientRect();
            if (box.width && (box.left < room.left - 1 || box.right > room.right + 1)) wrong.push(["out", each.outerHTML.slice(0, 120)]);
            if (each.scrollWidth > each.clientWidth + 1 && each.clientWidth && getComputedStyle(each).overflow !== "visible") wrong.push(["cut", each.outerHTML.slice(0, 120)]);
        }
        for (const drawing of element.querySelectorAll("figure > svg")) {
            const room = drawing.getBoundingClientRect();
            for (const each of drawing.querySelectorAll("text, rect, path, circle")) {
                const box = each.getBoundingClientRect();
                if (box.left < room.left - 1 || box.right > room.right + 1 || box.top < room.top - 1 || box.bottom > room.bottom + 1) wrong.push(["outside", each.outerHTML.slice(0, 120)]);
            }
        }
    }
    return [shown.length, wrong];
}"""


@pytest.mark.parametrize("name", BOOKS)
@pytest.mark.parametrize(("selector", "room"), [(".chapter:not(:has(> .lying))", PORTRAIT), (".chapter:has(> .lying)", LANDSCAPE)])
def test_nothing_is_cut_off_at_a_side(browser, name, selector, room):
    """Laid out for paper, at the width that a page has: nothing reaches out of its chapter, no drawing out of its own frame."""
    page = browser.new_page(viewport={"width": round(room[0] / 25.4 * 96), "height": 1000})
    page.emulate_media(media="print")
    page.set_content(BOOKS[name])
    count, wrong = page.evaluate(MEASURED, [selector])
    page.close()
    assert wrong == []
    assert count or room is LANDSCAPE


def test_no_heading_stands_alone_at_the_foot_of_a_page(printed):
    for page in printed:
        body = [letter for letter in page.letters if 14 < letter.y < page.height - 14]
        headings = [letter.y for letter in body if 10.9 < letter.size < 15]
        below = [letter for letter in body if letter.y > max(headings, default=0) + 2]
        assert len(below) > 20
