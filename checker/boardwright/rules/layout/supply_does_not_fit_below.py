"""Supply does not fit below.

## What it finds
Supplies below the deck that are higher than the room there, or whose plugs have no room.

## Why it matters
Sloped frames are high at the back and very low at the front. Measure where the supply will really hang, with its plugs in.

## How it decides
Its height, {{ limit bracket }} of bracket and {{ limit supply-air }} of air must fit into `gap_under` at every point below
which it hangs; a sloped gap changes evenly from front to back, and both of its ends must be known. Where the text says on which side its outlets are
(`outlets_on`, `inlet_on`), power plugs want {{ limit outlet-room }} in front of the outlets and a mains connector
{{ limit inlet-room }}, to the frame's edge or the next thing below.

## How to mend it
Hang it further back, choose a slimmer supply, or put it on top.

## Source
Geometry; the allowances are common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.layout.boxes import Box
from boardwright.board.layout.geometry import Rect
from boardwright.limits import Limit
from boardwright.rules.layout._shared import guessed, mm, of_box, size
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, limit, over, trips
from boardwright.spec.sections.supplies import Supply


@rule(Severity.FAULT, lesson="feet-and-lids")
def supply_does_not_fit_below(board: Board) -> Iterator[Judgement]:
    for box in board.layout.hanging:
        yield _height(board, box) or _plugs(board, box) or clear(of_box(box))


def _height(board: Board, box: Box) -> Judgement | None:
    deck, rect = board.layout.deck, box.footprint
    needed = box.height + limits.BRACKET.value + limits.SUPPLY_AIR.value
    gaps = deck.frame.gap_under or []
    if not gaps or not all(each.known for each in gaps):
        question = "How much clear height is there below the frame? Measure the lowest place, at the front too, and write `gap_under`."
        return cannot_tell(Severity.FAULT, [of_box(box)], question)
    lowest, highest = min(each.value for each in gaps), max(each.value for each in gaps)
    if not over(needed, lowest):
        return None
    fits_elsewhere = not over(needed, highest)
    room, where = highest, ""
    if rect is not None and deck.depth and lowest < highest:
        room, y = min((deck.gap(y), y) for y in (rect.front, rect.back))
        where = f" at {mm(y)} from the front"
        if not over(needed, room):
            return None
    elif fits_elsewhere:
        question = f"Where does `{box.name}` hang below the deck? Write its `at`." if rect is None else "How deep is the frame? Write its `size`."
        return cannot_tell(Severity.FAULT, [of_box(box)], question)
    return trips(
        Severity.FAULT,
        [of_box(box)],
        f"`{box.name}` is {mm(box.height)} high and needs {mm(needed)} with its bracket; below the deck there are {mm(room)}{where}.{guessed(box)}",
        "Hang it further back, choose a slimmer supply, or put it on top." if fits_elsewhere else "Choose a slimmer supply, or put it on top.",
        [size("needed", needed, box.size_origin), size("room", room), limit("bracket", limits.BRACKET), limit("air", limits.SUPPLY_AIR)],
    )


def _plugs(board: Board, box: Box) -> Judgement | None:
    section, rect, area = box.section, box.footprint, board.layout.deck.area
    assert isinstance(section, Supply), "nothing else hangs below"
    if rect is None or area is None:
        return None
    below = [each.footprint for each in board.layout.hanging if each.footprint is not None]
    for on, bound, what in (
        (section.outlets_on, limits.OUTLET_ROOM, "outlets"),
        (section.inlet_on, limits.INLET_ROOM if section.input else limits.OUTLET_ROOM, "inlet"),
    ):
        side = box.turned(on) if on in ("left", "right", "front", "rear") else None
        if side is None:
            continue
        room = _room(rect, side, area, below)
        if over(bound.value, room):
            return _no_room(box, side, what, room, bound)
    return None


def _room(rect: Rect, side: str, area: Rect, below: list[Rect]) -> float:
    """What is free before a side (m): to the frame's edge or to the nearest of what hangs there. Nothing beyond the edge."""
    sign = 1 if side in ("right", "rear") else -1
    room = sign * (area.edge(side) - rect.edge(side))
    for other in below:
        x, y = rect.overlap(other)
        level = y if side in ("left", "right") else x
        beside = rect.beside(other, side)
        if level > 0 and beside >= 0:
            room = min(room, beside)
    return max(room, 0.0)


def _no_room(box: Box, side: str, what: str, room: float, bound: Limit) -> Judgement:
    return trips(
        Severity.FAULT,
        [of_box(box)],
        f"The {what} of `{box.name}` face {side} and have {mm(room)} before them; plugs there need {mm(bound.value)}."
        if what == "outlets"
        else f"The {what} of `{box.name}` faces {side} and has {mm(room)} before it; its connector needs {mm(bound.value)}.",
        "Move or turn it.",
        [size("room", room), limit("needed", bound)],
    )
