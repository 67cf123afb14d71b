"""The four drawings, each on the side of the paper, and in as many pieces, that keep its smallest letters readable."""

from __future__ import annotations

import re
from dataclasses import dataclass

from boardwright.report.book.chapter import Absent, Book
from boardwright.report.book.markup import Html, tag
from boardwright.report.book.style import LANDSCAPE, PORTRAIT
from boardwright.report.drawings import HAS_SOMETHING
from boardwright.report.earth_map import earth_map
from boardwright.report.layout import layout as layout_drawing
from boardwright.report.power_map import WIDTH, power_maps
from boardwright.report.signal_strips import signal_strips

LEAST_TEXT = 7.2
"""Points, of any letter in a drawing."""
LARGEST_TEXT = 10.5
"""Points, of the smallest letter: small drawings are not blown up beyond it."""
POINTS = 72 / 25.4
"""In a millimetre."""

_BOX = re.compile(r'viewBox="\S+ \S+ (\S+) (\S+)" width="\S+" height="\S+"')
_TEXT = re.compile(r'font-size="([\d.]+)"')


@dataclass(frozen=True, slots=True)
class Drawn:
    """A drawing with its size and its smallest letters, in its own units."""

    source: str
    width: float
    height: float
    text: float

    def scale(self, room: tuple[float, float]) -> float:
        """Millimetres for each unit that fill a room."""
        fills = min(room[0] / self.width, room[1] / self.height)
        return min(fills, LARGEST_TEXT / POINTS / self.text)

    def is_readable(self, room: tuple[float, float]) -> bool:
        return self.scale(room) * POINTS * self.text >= LEAST_TEXT


def measure(source: str) -> Drawn:
    found = _BOX.search(source)
    assert found is not None
    sizes = [float(size) for size in _TEXT.findall(source)]
    return Drawn(source, float(found[1]), float(found[2]), min(sizes, default=11.0))


def power(book: Book) -> list[Html] | Absent:
    if not HAS_SOMETHING["power-map"](book.board):
        return Absent("no power is described.")
    return _figures([measure(each) for each in power_maps(book.board, book.report, WIDTH * PORTRAIT[1] / PORTRAIT[0])])


def signal(book: Book) -> list[Html] | Absent:
    """On one line if it fits; else in strips, upright if each fits there."""
    if not HAS_SOMETHING["signal-map"](book.board):
        return Absent("no sound is described.")
    for room in (PORTRAIT, LANDSCAPE):
        strips = _strips(book, room)
        if all(each.is_readable(room) for each in strips):
            break
    scale = min(each.scale(room) for each in strips)
    return _figures(strips, lying=room is LANDSCAPE, scale=scale)


def _strips(book: Book, room: tuple[float, float]) -> list[Drawn]:
    smallest = 9.5  # of what a signal map may hold
    return [measure(each) for each in signal_strips(book.board, book.report, room[0] * POINTS * smallest / LEAST_TEXT)]


def earth(book: Book) -> list[Html] | Absent:
    if not HAS_SOMETHING["earth-map"](book.board):
        return Absent("no amplifier is described.")
    return _figures([measure(earth_map(book.board, book.report))])


def layout(book: Book) -> list[Html] | Absent:
    """Upright, or lying where that is larger; with letters as large as it takes."""
    if not HAS_SOMETHING["layout"](book.board):
        return Absent("no places are described.")
    plain = measure(layout_drawing(book.board, book.report))
    lying = plain.width > 900
    room = LANDSCAPE if lying else PORTRAIT
    drawn = plain
    if not plain.is_readable(room):
        scale = min(room[0] / plain.width, room[1] / plain.height)
        drawn = measure(layout_drawing(book.board, book.report, text=11.0 * 1.05 * LEAST_TEXT / (scale * POINTS * plain.text)))
    return _figures([drawn], lying=lying)


def _figures(drawings: list[Drawn], lying: bool = False, scale: float | None = None) -> list[Html]:
    room = LANDSCAPE if lying else PORTRAIT
    figures = [tag("figure", _sized(each, scale or each.scale(room))) for each in drawings]
    return [tag("div", figures, class_="lying")] if lying else figures


def _sized(drawn: Drawn, scale: float) -> Html:
    """The drawing with its size on paper, which the style sheet lets shrink but never grow."""
    sized = _BOX.sub(lambda found: f'{found[0].split(" width=")[0]} width="{drawn.width * scale:.1f}mm"', drawn.source, count=1)
    return Html(sized)
