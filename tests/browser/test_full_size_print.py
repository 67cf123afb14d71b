"""The full-size print, measured in the pages that a browser makes of it: true to half a millimetre."""

from __future__ import annotations

import pytest

from boardwright import judge
from boardwright.report.print_sheets import OVERLAP, lay_out, print_sheets
from pdf_paths import read_pages

TRUE = 0.5
"""Millimetres."""

SMALL = """
board: {name: "Small <one>", frame: {size: [180, 150]}}
pedals: {a: {size: [70, 120, 55], at: [10, 10]}, b: {size: [47, 93, 31], at: [110, 17]}}
audio: [guitar > b > a > combo]
amps: {combo: {kind: valve}}
"""
LARGE = """
board: {name: Large, frame: {size: [700, 400]}}
pedals: {a: {size: [70, 120, 55], at: [10, 10]}, b: {size: [120, 130, 60], at: [560, 250]}, c: {size: [45, 95, 55], at: [300, 180]}}
"""


@pytest.fixture
def printed(browser):
    """Prints a page to PDF as a person would."""

    def to_pages(html):
        page = browser.new_page()
        page.set_content(html)
        pdf = page.pdf(prefer_css_page_size=True)
        page.close()
        return read_pages(pdf)

    return to_pages


def _sizes(page):
    return [(x1 - x0, y1 - y0) for x0, y0, x1, y1 in (path.box for path in page.paths)]


def _has(page, width, height):
    return any(abs(w - width) < TRUE and abs(h - height) < TRUE for w, h in _sizes(page))


def test_small_board_is_true_to_size(printed):
    (page,) = printed(print_sheets(judge(SMALL)[0]))
    assert (page.width, page.height) == pytest.approx((210, 297), abs=0.2)
    assert _has(page, 180, 150), "the frame"
    assert _has(page, 70, 120), "box a"
    assert _has(page, 47, 93), "box b"
    corners = {size: box[:2] for path in page.paths for box in [path.box] for size in [(round(box[2] - box[0]), round(box[3] - box[1]))]}
    frame, a = corners[180, 150], corners[70, 120]
    assert a[0] - frame[0] == pytest.approx(10, abs=TRUE) and a[1] - frame[1] == pytest.approx(150 - 130, abs=TRUE)


def test_every_sheet_has_a_bar_of_100_mm(printed):
    pages = printed(print_sheets(judge(LARGE)[0]))
    sheets = lay_out(710, 410)
    assert len(pages) == sheets.count > 1
    for page in pages:
        assert (page.width, page.height) == pytest.approx(sheets.page, abs=0.2)
        bars = [path for path in page.paths if abs(path.box[2] - path.box[0] - 100) < TRUE and path.box[3] - path.box[1] < 1]
        assert bars and bars[0].box[1] > page.height - 25


def test_sheets_join_where_the_crosses_meet(printed):
    """Laid cross on cross, the frame of one sheet lies on the frame of the next."""
    pages = printed(print_sheets(judge(LARGE)[0]))
    sheets = lay_out(710, 410)
    origins = []
    for number, page in enumerate(pages):
        row, column = divmod(number, sheets.across)
        frame = next(path.box for path in page.paths if abs(path.box[2] - path.box[0] - 700) < TRUE and abs(path.box[3] - path.box[1] - 400) < TRUE)
        origins.append((frame[0] + column * sheets.step[0], frame[1] + row * sheets.step[1]))
        crosses = [path.box for path in page.paths if path.box[2] - path.box[0] == pytest.approx(8, abs=0.05) and path.box[3] - path.box[1] < 0.3]
        lefts = sorted({round(box[0]) for box in crosses})
        assert lefts[-1] - lefts[0] == pytest.approx(sheets.step[0], abs=1.1)
        # the left cross stands half an overlap inside the window, wherever the sheet is
        assert min(box[0] for box in crosses) + 4 == pytest.approx(7 + OVERLAP / 2, abs=TRUE)
    for x, y in origins:
        assert (x, y) == pytest.approx(origins[0], abs=TRUE)


def test_nothing_to_print():
    assert print_sheets(judge("pedals: {a: {kind: boost}}")[0]) is None


def test_page_asks_nothing_of_anyone_and_escapes_names():
    page = print_sheets(judge(SMALL)[0])
    assert "Small &lt;one&gt;" in page and "<one>" not in page
    assert "http" not in page.replace("http://www.w3.org/2000/svg", "") and "<script" not in page
