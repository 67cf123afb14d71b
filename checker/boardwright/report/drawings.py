"""The drawings of a board, by name."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from boardwright.board.assemble import Board
from boardwright.report.earth_map import earth_map
from boardwright.report.layout import layout
from boardwright.report.power_map import power_map
from boardwright.report.report import Report
from boardwright.report.response_plot import pickup_of, response_plot
from boardwright.report.signal_map import signal_map

DRAWINGS: dict[str, Callable[[Board, Report], str]] = {
    "power-map": power_map,
    "signal-map": signal_map,
    "earth-map": earth_map,
    "layout": layout,
    "pickup-response": response_plot,
}
"""Each draws any board; where it has nothing to draw, it says so in words."""

HAS_SOMETHING: dict[str, Callable[[Board], bool]] = {
    "power-map": lambda board: bool(board.power.supplies or board.power.devices),
    "signal-map": lambda board: board.audio.described,
    "earth-map": lambda board: bool(board.ground.amps),
    "layout": lambda board: any(box.footprint for box in board.layout.boxes.values()) or bool(board.layout.runs),
    "pickup-response": lambda board: pickup_of(board) is not None,
}
"""Whether a board has something for each to show."""


def drawn(board: Board, report: Report) -> Iterator[tuple[str, str]]:
    """The drawings that have something to show, one after the other: name and SVG."""
    return ((name, draw(board, report)) for name, draw in DRAWINGS.items() if HAS_SOMETHING[name](board))
