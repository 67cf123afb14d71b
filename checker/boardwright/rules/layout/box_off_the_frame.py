"""Box off the frame.

## What it finds
Boxes that stand beyond the frame, or of whose base too little rests on the deck.

## Why it matters
If a part of a pedal hangs in the air, your foot will find it.

## How it decides
A fault if an edge stands out by more than {{ limit overhang }}, if the middle of the box is off the frame, or if the boxes
of a row are wider together than the frame. A risk if less than {{ limit base-on-deck }} of the base rests on its own row.
A box that lies on two strips of a slatted frame is held by both. A box may stand across rows of different height when it
says so: `across_rows: yes`.

## How to mend it
Turn the box, use another row, or build a larger frame.

## Source
Geometry; the shares are common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.layout.boxes import Box
from boardwright.board.layout.deck import Deck
from boardwright.board.layout.geometry import Rect
from boardwright.rules import things
from boardwright.rules.layout._shared import guessed, mm, of_box, size
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Number, Severity, clear, limit, over, trips
from boardwright.spec.figure import tell

_SAME_HEIGHT = 0.003
"""Rows this near in height (m) carry a box together."""


@rule(Severity.FAULT, Severity.RISK, lesson="feet-and-lids")
def box_off_the_frame(board: Board) -> Iterator[Judgement]:
    deck = board.layout.deck
    for row in board.layout.overfull:
        if over(row.bare, row.width):
            names = things.listed([box.name for box in row.boxes])
            yield trips(
                Severity.FAULT,
                [of_box(box) for box in row.boxes],
                f"Row {row.row.number} cannot hold {names}: side by side they are {mm(row.bare)} wide, and it has {mm(row.width)}.",
                "Move a box to another row, or build a wider frame.",
                [size("boxes", row.bare), size("row", row.width)],
            )
    if deck.area is None:
        return
    for box in board.layout.placed:
        yield _judge(box, deck, deck.area)


def _judge(box: Box, deck: Deck, area: Rect) -> Judgement:
    rect = box.footprint
    assert rect is not None
    beyond = rect.outside(area)
    if over(beyond, limits.OVERHANG.value) or not area.holds(rect.middle):
        return trips(
            Severity.FAULT,
            [of_box(box)],
            f"`{box.name}` stands {mm(beyond)} beyond the frame, which is {mm(area.width)} wide and {mm(area.depth)} deep.{guessed(box)}",
            "Move it in, turn it, or build a larger frame.",
            [size("beyond the frame", beyond), limit("at most", limits.OVERHANG)],
        )
    if box.under:
        return clear(of_box(box))
    share, strips = _support(box, rect, deck)
    if not over(limits.BASE_ON_DECK.value, share) or strips > 1:
        return clear(of_box(box))
    return trips(
        Severity.RISK,
        [of_box(box)],
        f"Only {tell(share, '%')} of the base of `{box.name}` rests on its row.{guessed(box)}",
        "Move it onto one row, or write `across_rows: yes` if it stands on feet of its own there.",
        [Number("base on its row", tell(share, "%"), share, "%", box.size_origin.word), limit("at least", limits.BASE_ON_DECK)],
    )


def _support(box: Box, rect: Rect, deck: Deck) -> tuple[float, int]:
    """The share of the base that rests on deck of its own height, and on how many strips it rests."""
    area = deck.area
    assert area is not None
    rested, strips = 0.0, 0
    for row in deck.rows:
        if box.section.across_rows or abs(row.rise - box.rise) <= _SAME_HEIGHT:
            strip = Rect(area.left, row.front, area.right, row.back)
            shared = rect.shared(strip)
            rested += shared
            strips += 1 if shared > 0.1 * rect.area else 0
    return (rested / rect.area if deck.rows else 1.0), strips
