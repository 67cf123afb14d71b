"""Heavy part not held down.

## What it finds
Boxes that a knock in transport tears off their hook-and-loop, and supplies that hang below the deck by it.

## Why it matters
A fall from a van makes everything weigh many times what it does. What is held by a patch of fluff becomes a hammer inside
your case.

## How it decides
The pull is the weight times {{ limit shock-car }}, on a touring board times {{ limit shock-van }}. New hook-and-loop holds
{{ limit hook-and-loop-new }} over its area ({{ limit base-fastened }} of the base where `fix_area` is not stated); if that
is less than the pull it is a risk. On a touring board it is advice if aged fastener, at {{ limit hook-and-loop-aged }},
would let go. Screws, brackets and ties hold. A supply below the deck of more than {{ limit hanging-weight }}, or one with a
mains cord, wants a bracket or screws whatever the sum says. Weights that are not stated go by kind:
{{ limit weight-compact }} for a compact box, {{ limit weight-double }} for a wide one, {{ limit weight-treadle }} for a
treadle, {{ limit weight-supply }} for a supply.

## How to mend it
A bracket, screws with locking washers, or fastener over the whole base, cleaned with alcohol first.

## Source
Physics, force from weight; the strength of fasteners and the shocks are common practice. Pull yours.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.layout.boxes import Box
from boardwright.rules.layout._shared import of_box
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Number, Severity, cannot_tell, clear, limit, number, over, trips
from boardwright.spec.figure import Figure, assumed, figure, tell, weakest
from boardwright.spec.sections.supplies import Supply

GRAVITY = 9.80665
"""Standard acceleration of free fall (m/s²), exact by definition (CGPM 1901)."""


@rule(Severity.RISK, Severity.ADVICE, lesson="feet-and-lids")
def heavy_part_not_held_down(board: Board) -> Iterator[Judgement]:
    fixing = board.spec.board.fixing if board.spec.board else None
    for box in board.layout.boxes.values():
        section = box.section
        if box.under:
            yield _hanging(box, section.held_by or fixing)
        elif box.is_supply and box.corner is None:
            continue  # it stands elsewhere
        elif section.weight is not None or section.size is not None or section.fix_area is not None or section.held_by:
            yield _standing(board, box, section.held_by or fixing)


def _hanging(box: Box, held: str | None) -> Judgement:
    if held is None or held == "unknown":
        return cannot_tell(Severity.RISK, [of_box(box)], f"What holds `{box.name}` below the deck? Write `held_by`.")
    mains = isinstance(box.section, Supply) and box.section.input is not None
    heavy = over(box.weight.value, limits.HANGING_WEIGHT.value)
    if held in ("screws", "brackets") or not (mains or heavy):
        return clear(of_box(box))
    what = "weighs " + str(box.weight) if heavy else "has a mains cord"
    return trips(
        Severity.RISK,
        [of_box(box)],
        f"`{box.name}` {what} and hangs below the deck by {held.replace('-', ' ')} alone: it comes down one day, on its plugs.",
        "Hold it with a bracket or screws.",
        [number("weight", box.weight), limit("without a bracket at most", limits.HANGING_WEIGHT)],
    )


def _standing(board: Board, box: Box, held: str | None) -> Judgement:
    if held in ("screws", "brackets", "ties"):
        return clear(of_box(box))
    shock = limits.SHOCK_VAN if board.purpose == "tour" else limits.SHOCK_CAR
    pull = figure(box.weight.value / 1000 * GRAVITY * shock.value, "N", box.weight.origin)
    area = _area(box)
    new, aged = area.value * limits.HOOK_NEW.value, area.value * limits.HOOK_AGED.value
    origin = weakest([pull.origin, area.origin])
    numbers: list[Number] = [number("weight", box.weight), limit("times", shock), number("pull", pull)]
    if over(pull.value, new):
        return trips(
            Severity.RISK,
            [of_box(box)],
            f"A knock pulls at `{box.name}` with {tell(pull.value, 'N')}; its hook-and-loop holds {tell(new, 'N')} when new.",
            "Use a bracket or screws, or cover the whole base with fastener.",
            [*numbers, number("holds", figure(new, "N", origin))],
        )
    if board.purpose == "tour" and over(pull.value, aged):
        return trips(
            Severity.ADVICE,
            [of_box(box)],
            f"A knock pulls at `{box.name}` with {tell(pull.value, 'N')}. New hook-and-loop holds that; after some years of dust it holds "
            f"about {tell(aged, 'N')}.",
            "Renew the fastener before the tour, or add a strap or bracket.",
            [*numbers, number("holds when aged", figure(aged, "N", origin))],
        )
    return clear(of_box(box))


def _area(box: Box) -> Figure:
    stated = box.section.fix_area
    if stated is not None and stated.known:
        return stated
    return assumed(box.size[0] * box.size[1] * limits.BASE_FASTENED.value, "m²")
