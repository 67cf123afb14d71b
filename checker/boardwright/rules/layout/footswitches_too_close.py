"""Footswitches too close.

## What it finds
Footswitches that a foot uses and that stand so near to each other that one shoe meets both.

## Why it matters
In the dark, in boots, you hit what is next to what you aimed for.

## How it decides
The distance between the middles of two footswitches in one row: a fault below {{ limit switch-spacing-fault }}, a risk below
{{ limit switch-spacing-risk }}, advice below {{ limit switch-spacing-advice }}. A footswitch is taken to be in the middle of
its box, {{ limit switch-from-front }} from the front, unless `switch_at` says where; those of a switcher stand
`switch_pitch` apart. A box counts as used by a foot unless it says `stepped: no`, stands in a switcher's loop, or is of a
kind that no foot has business with.

## How to mend it
Spread them, put a box between them that no foot uses, or use a switcher.

## Source
Worked out from foot breadth: half of a 95th-percentile man's foot of 111 mm (ANSUR II, NATICK/TR-15/007) with 10 mm for the
shoe, and half a switch cap with a little to spare, come to 72 mm. There is no standard for footswitches on a stage.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.layout.boxes import Box, Foot
from boardwright.limits import Limit
from boardwright.rules.layout._shared import mm, of_box, size
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, clear, limit, over, trips

TOLD = 4
"""Neighbours that are told of for each box."""
STEPS: tuple[tuple[Limit, Severity], ...] = (
    (limits.SWITCH_FAULT, Severity.FAULT),
    (limits.SWITCH_RISK, Severity.RISK),
    (limits.SWITCH_ADVICE, Severity.ADVICE),
)


@rule(Severity.FAULT, Severity.RISK, Severity.ADVICE, lesson="feet-and-lids", explained_by=("boxes-overlap",), whole_matter=True)
def footswitches_too_close(board: Board) -> Iterator[Judgement]:
    stepped = [box for box in board.layout.standing if box.stepped[0]]
    hit = set()
    told: dict[str, int] = {}
    for box in stepped:
        for found in _own(box):
            hit.add(box.name)
            yield found
    for one, other in _neighbours(board, stepped):
        apart = _between(one, other)
        if over(limits.SWITCH_ADVICE.value, apart):
            hit |= {one.name, other.name}
            told[one.name] = told.get(one.name, 0) + 1
            if told[one.name] <= TOLD:
                sentence = f"The footswitches of `{one.name}` and `{other.name}` are {mm(apart)} apart"
                yield from _judge(apart, [one, other], sentence, "Spread them, or put a box between them that no foot uses.")
    for box in stepped:
        if box.name not in hit:
            yield clear(of_box(box))


def _neighbours(board: Board, stepped: list[Box]) -> Iterator[tuple[Box, Box]]:
    names = {box.name for box in stepped}
    for one in stepped:
        names.discard(one.name)
        for other in board.layout.near(one, limits.SWITCH_ADVICE.value):
            if other.name in names:
                yield one, other


def _own(box: Box) -> Iterator[Judgement]:
    """A box with several footswitches."""
    feet = sorted(box.feet, key=lambda foot: foot.point)
    apart = min((math.dist(a.point, b.point) for a, b in pairwise(feet)), default=math.inf)
    return _judge(apart, [box], f"The footswitches of `{box.name}` are {mm(apart)} apart", "Use every other one, or put it where only the toe comes.")


def _between(one: Box, other: Box) -> float:
    """How far apart two footswitches in one row are at least (m)."""
    return min((math.dist(a.point, b.point) for a in one.feet for b in other.feet if _in_one_row(a, b)), default=math.inf)


def _in_one_row(a: Foot, b: Foot) -> bool:
    return not over(abs(a.point[1] - b.point[1]), limits.SAME_ROW.value)


def _judge(apart: float, boxes: list[Box], sentence: str, remedy: str) -> Iterator[Judgement]:
    for bound, severity in STEPS:
        if over(bound.value, apart):
            origin = min(foot.origin for box in boxes for foot in box.feet)
            shoe = "one shoe covers both" if severity is Severity.FAULT else "a shoe that is set down a little askew meets both"
            yield trips(
                severity,
                [of_box(box) for box in boxes],
                f"{sentence}: {shoe}.",
                remedy,
                [size("apart", apart, origin), limit("at least", bound)],
            )
            return
