"""What several routing rules walk over and say in the same way."""

from __future__ import annotations

import math
from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.layout.runs import Run
from boardwright.rules.verdict import Thing


def of_run(run: Run) -> Thing:
    return Thing(run.name, run.path)


def ways(board: Board, *carries: str) -> list[Run]:
    """The runs that carry one of these and whose way is drawn."""
    return [run for run in board.layout.runs if run.has_way and run.carries in carries]


def pairs(board: Board, others: tuple[str, ...], within: float = math.inf) -> Iterator[tuple[Run, Run]]:
    """Each run of sound with each of the others that comes nearer than ``within`` (m) by the rectangles they stay in.

    What runs above the deck and what runs below it do not meet.
    """
    for sound in ways(board, "audio"):
        for other in ways(board, *others):
            if bool(sound.section.under) == bool(other.section.under) and sound.bounds.distance(other.bounds) < within:
                yield sound, other
