"""The drawings of a board, by name."""

from __future__ import annotations

from collections.abc import Callable

from boardwright.board.assemble import Board
from boardwright.report.earth_map import earth_map
from boardwright.report.layout import layout
from boardwright.report.power_map import power_map
from boardwright.report.report import Report
from boardwright.report.signal_map import signal_map

DRAWINGS: dict[str, Callable[[Board, Report], str]] = {"power-map": power_map, "signal-map": signal_map, "earth-map": earth_map, "layout": layout}
