"""Lid meets knobs.

## What it finds
Boxes that are too high for the closed lid, with their row's rise, their knobs and what holds them counted in.

## Why it matters
The lid must close without turning your knobs into broken shafts. A treadle must be counted with its toe up.

## How it decides
Rise of the row, {{ limit fastener-thickness }} of hook-and-loop (none where the box is screwed down), the higher of box and
knobs, and {{ limit lid-clear }} of air must not come to more than `lid_clear`. Knobs that are not stated are taken to stand
{{ limit knob-rise }} above the box; a treadle has none, and is as high as `treadle_up` or its size. Knobs that only touch
the lid's foam are advice. Several boxes that are too high are one finding, the highest first.

## How to mend it
A lower row, a deeper lid, or a treadle that is strapped down flat.

## Source
Geometry; the allowances are common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.layout.boxes import Box
from boardwright.board.layout.deck import CASE
from boardwright.rules.layout._shared import guessed, mm, of_box, size
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, Thing, cannot_tell, clear, limit, over, trips
from boardwright.spec.figure import Figure, Origin
from boardwright.spec.wording import series

_MOST_SHOWN = 6
"""Boxes of which one finding tells the height."""


@rule(Severity.FAULT, Severity.ADVICE, lesson="feet-and-lids")
def lid_meets_knobs(board: Board) -> Iterator[Judgement]:
    layout = board.layout
    case = layout.deck.case
    boxes = [box for box in layout.boxes.values() if not box.under and (box.corner is not None or box.row is not None)]
    if case is None or not boxes:
        return
    if case.lid_clear is None or not case.lid_clear.known:
        question = "How much room is there between the front deck and the closed lid? Measure it with the lid on, and write `lid_clear`."
        yield cannot_tell(Severity.FAULT, [Thing("case", CASE)], question)
        return
    lid = case.lid_clear.value
    high = [box for box in boxes if over(_top(board, box) + limits.LID_CLEAR.value, lid)]
    if len(high) > 1:
        yield _several(board, sorted(high, key=lambda box: -_top(board, box)), lid)
    for box in boxes:
        if box not in high or len(high) == 1:
            yield _judge(board, box, lid, case.foam)


def _fastener(board: Board, box: Box) -> float:
    """What lies between the deck and a box (m)."""
    fixing = box.section.held_by or (board.spec.board.fixing if board.spec.board else None)
    return 0.0 if fixing in ("screws", "brackets", "ties") else limits.FASTENER.value


def _top(board: Board, box: Box) -> float:
    """How high a box reaches above the front deck, knobs and all (m)."""
    return box.rise + _fastener(board, box) + box.knobs.value


def _several(board: Board, boxes: list[Box], lid: float) -> Judgement:
    """One cause, one finding: the highest first."""
    shown = [f"`{box.name}` comes to {mm(_top(board, box))}{_assumed(box)}" for box in boxes[:_MOST_SHOWN]]
    more = [f"{len(boxes) - _MOST_SHOWN} more are too high as well"] if len(boxes) > _MOST_SHOWN else []
    return trips(
        Severity.FAULT,
        [of_box(box) for box in boxes],
        f"The lid does not close over {len(boxes)} boxes, with their row's rise, fastener and knobs counted in: {series([*shown, *more])}. With "
        f"{mm(limits.LID_CLEAR.value)} of air that is more than the {mm(lid)} below the lid.",
        "Use lower rows or a deeper lid; strap a treadle down flat and write its `treadle_up`.",
        [size("highest in all", _top(board, boxes[0]), boxes[0].knobs.origin), size("lid", lid), limit("air", limits.LID_CLEAR)],
    )


def _assumed(box: Box) -> str:
    return " (its knobs are assumed)" if box.knobs.origin is Origin.ASSUMED and box.size_origin > Origin.ASSUMED else ""


def _judge(board: Board, box: Box, lid: float, foam: Figure | None) -> Judgement:
    fastener, top = _fastener(board, box), _top(board, box)
    needed = top + limits.LID_CLEAR.value
    adds = f"{mm(box.rise)} of rise, {mm(fastener)} of fastener and {mm(box.knobs.value)} of box and knobs{_assumed(box)}"
    numbers = [size("height in all", top, box.knobs.origin), size("lid", lid), limit("air", limits.LID_CLEAR)]
    if over(needed, lid):
        return trips(
            Severity.FAULT,
            [of_box(box)],
            f"The lid does not close over `{box.name}`: {adds} come to {mm(top)}; with {mm(limits.LID_CLEAR.value)} of air that is more than "
            f"the {mm(lid)} below the lid.{guessed(box)}",
            "Use a lower row or a deeper lid; strap a treadle down flat and write its `treadle_up`.",
            numbers,
        )
    if foam is not None and foam.known and over(top, lid - foam.value):
        return trips(
            Severity.ADVICE,
            [of_box(box)],
            f"`{box.name}` presses into the foam of the lid: {adds} come to {mm(top)}, and the foam begins at {mm(lid - foam.value)}.",
            "Cut the foam out above its knobs, so that transport does not turn them.",
            [*numbers, size("foam", foam.value)],
        )
    return clear(of_box(box))
