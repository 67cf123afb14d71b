"""The drawings of a board, by name."""

from __future__ import annotations

from collections.abc import Callable

from boardwright.board.assemble import Board
from boardwright.report.power_map import power_map
from boardwright.report.report import Report

DRAWINGS: dict[str, Callable[[Board, Report], str]] = {"power-map": power_map}
