"""Boxes overlap.

## What it finds
Two boxes in one place, a box under a shelf that is too low for it, and a treadle without room to rock.

## Why it matters
Two boxes cannot sit in one place. A treadle also needs room for the shoe that rocks it.

## How it decides
The footprints of two boxes on one level may not reach into each other by more than {{ limit place-slack }} both ways. On
different levels the lower box and {{ limit shelf-clear }} of air must fit below the deck of the upper one. A treadle keeps
{{ limit treadle-travel-front }} free in front, {{ limit treadle-travel-behind }} behind and {{ limit treadle-travel-side }}
on either side; a box in there is a risk. A box whose size is not stated is taken for a compact one of
{{ limit compact-width }} by {{ limit compact-depth }}.

## How to mend it
Move one. Cut the boxes out of paper first and lay them on the floor.

## Source
Geometry. The room for a treadle is common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.layout.boxes import Box
from boardwright.rules.layout._shared import guessed, mm, of_box, size
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, limit, over, trips
from boardwright.spec.figure import Origin

TOLD = 4
"""Boxes in one place are told from each of them this many times, not from each to each; of a heap as large as no board has, once."""


@rule(Severity.FAULT, Severity.RISK, lesson="feet-and-lids")
def boxes_overlap(board: Board) -> Iterator[Judgement]:
    layout = board.layout
    hit = set()
    seen = set()
    told: dict[str, int] = {}
    for one in layout.placed:
        seen.add(one.name)
        most = 1 if layout.in_heap(one) else TOLD
        for other in layout.near(one, 0.0):
            if other.name in seen or (told.get(one.name, 0) >= most and other.name in hit):
                continue
            found = _collide(board, one, other) or _rock(one, other) or _rock(other, one)
            if found is not None:
                hit |= {one.name, other.name}
                told[one.name] = told.get(one.name, 0) + 1
                if told[one.name] <= most:
                    yield found
    for box in layout.placed:
        if box.name in hit:
            continue
        if layout.in_heap(box):
            yield cannot_tell(Severity.FAULT, [of_box(box)], f"Where does `{box.name}` stand? Too many boxes are said to stand there to compare them all.")
        else:
            yield clear(of_box(box))


def _collide(board: Board, one: Box, other: Box) -> Judgement | None:
    assert one.footprint is not None and other.footprint is not None
    x, y = one.footprint.overlap(other.footprint)
    if not (over(x, limits.PLACE_SLACK.value) and over(y, limits.PLACE_SLACK.value)):
        return None
    low, high = sorted((one, other), key=lambda box: box.rise)
    things = [of_box(one), of_box(other)]
    numbers = [size("overlap in width", x), size("overlap in depth", y)]
    if one.under or not over(high.rise - low.rise, limits.PLACE_SLACK.value):
        return trips(
            Severity.FAULT,
            things,
            f"`{one.name}` and `{other.name}` stand in one place: they overlap by {mm(x)} in width and {mm(y)} in depth." + guessed(one, other),
            f"Move `{other.name}`, by {mm(min(x, y))} at least.",
            numbers,
            at=other.path,
        )
    shelf = high.rise - board.layout.deck.thickness.value
    if not over(low.top + limits.SHELF_CLEAR.value, shelf):
        return None
    return trips(
        Severity.FAULT,
        things,
        f"`{low.name}` is {mm(low.height)} high and reaches under `{high.name}`, where the raised deck leaves {mm(max(shelf - low.rise, 0))}."
        + guessed(one, other),
        "Move one of them, or raise the row behind.",
        [*numbers, size("height", low.height, low.size_origin), limit("air above it", limits.SHELF_CLEAR)],
    )


def _rock(treadle: Box, other: Box) -> Judgement | None:
    if not treadle.is_treadle or treadle.room is None or other.footprint is None:
        return None
    x, y = treadle.room.overlap(other.footprint)
    if not (over(x, limits.PLACE_SLACK.value) and over(y, limits.PLACE_SLACK.value)):
        return None
    return trips(
        Severity.RISK,
        [of_box(treadle), of_box(other)],
        f"`{treadle.name}` is rocked by a whole shoe, and `{other.name}` stands {mm(min(x, y))} inside the room that takes." + guessed(treadle, other),
        f"Move `{other.name}` away, or write the treadle's own `footplate` travel if it is smaller.",
        [size("too near by", min(x, y), min(Origin.ASSUMED, treadle.size_origin)), limit("room behind", limits.TRAVEL_BEHIND)],
    )
