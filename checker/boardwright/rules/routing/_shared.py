"""What several routing rules walk over and say in the same way."""

from __future__ import annotations

import math

from boardwright.board.assemble import Board
from boardwright.board.layout.runs import Run
from boardwright.rules.verdict import Judgement, Severity, Thing, cannot_tell


def of_run(run: Run) -> Thing:
    return Thing(run.name, run.path)


def ways(board: Board, *carries: str) -> list[Run]:
    """The runs that carry one of these and whose way is drawn."""
    return [run for run in board.layout.runs if run.has_way and run.carries in carries]


MOST_WORK = 100_000
"""Pairs of straight parts that one rule compares: about a second. Fifty runs of each kind with six corners come to half of it."""


def pairs(board: Board, others: tuple[str, ...], within: float = math.inf) -> list[tuple[Run, Run]]:
    """Each run of sound with each of the others that comes nearer than ``within`` (m) by the rectangles they stay in.

    What runs above the deck and what runs below it do not meet.
    """
    beside = ways(board, *others)
    return [
        (sound, other)
        for sound in ways(board, "audio")
        for other in beside
        if bool(sound.section.under) == bool(other.section.under) and sound.bounds.distance(other.bounds) < within
    ]


def too_much(pairs: list[tuple[Run, Run]], severity: Severity) -> Judgement | None:
    """A question in place of minutes of work, where a text holds more runs than a board."""
    if sum(len(one.points) * len(other.points) for one, other in pairs) <= MOST_WORK:
        return None
    question = "There are more runs here than can be compared. Does the text describe one board?"
    return cannot_tell(severity, [of_run(pairs[0][0])], question)
