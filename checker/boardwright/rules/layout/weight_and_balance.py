"""Weight and balance.

## What it finds
A board that is too heavy for those who lift it, or for an aeroplane, and one that hangs askew from its handle or leans when
it is stood on its edge.

## Why it matters
Know the weight before the airport does, and keep heavy things near the handle so that the case hangs level.

## How it decides
Boxes and supplies on the frame and the empty case are added up; weights that are not stated go by kind. For each lifter:
advice above {{ limit lift-advice }}, a risk above {{ limit lift-risk }}. Without wheels, advice above
{{ limit wheels-from }}. A case that flies: advice above {{ limit flight-advice }}, a fault above {{ limit flight-fault }}.
For comparison the recommended weight limit of the NIOSH equation is shown, for a lift from {{ limit lift-height }} above
the floor by {{ limit lift-travel }}, with the hands {{ limit lift-reach }} in front of the ankles.
Advice if the balance point is outside the middle third of the handle's side, and if a case stood on its long edge would
have it more than {{ limit balance-tip }} of its height away from the middle. The balance is judged once
{{ limit balance-known }} of the weight has a place.

## How to mend it
Move the supply, split the board in two, add wheels, ask for a second pair of hands.

## Source
Statics. Reference mass of ISO 11228-1 and national guidance on manual handling (both from memory); NIOSH publication
94-110; 23 and 32 kg are airline practice.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.layout.balance import Load, balance_of, loads_of
from boardwright.board.layout.deck import CASE
from boardwright.physics import balance, lifting
from boardwright.rules.layout._shared import mm, size
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Number, Severity, Thing, cannot_tell, clear, limit, number, over, trips
from boardwright.spec.fields import YesNo
from boardwright.spec.figure import Figure, figure, tell, weakest


@rule(Severity.FAULT, Severity.RISK, Severity.ADVICE, lesson="feet-and-lids")
def weight_and_balance(board: Board) -> Iterator[Judgement]:
    loads = loads_of(board.layout)
    case = board.layout.deck.case
    empty = case.empty_weight if case else None
    stated = any(load.box.section.weight is not None for load in loads)
    if not loads or not (stated or (empty is not None and empty.known)):
        return
    about = [Thing("case", CASE)] if case else [Thing("board", ("board",))] if board.spec.board else [Thing(load.box.name, load.box.path) for load in loads]
    boxes = figure(sum(load.weight.value for load in loads), "g", weakest(load.weight.origin for load in loads))
    whole = figure(boxes.value + empty.value, "g", weakest([boxes.origin, empty.origin])) if empty is not None and empty.known else boxes
    judged = [*_weight(board, whole, about), *_flight(board, whole, about)]
    yield from judged
    if not judged:
        if case is not None and (empty is None or not empty.known):
            yield cannot_tell(Severity.RISK, about, "How much does the case weigh with the bare frame in it? Write `empty_weight`.")
        else:
            yield clear(*about)
    yield from _balance(board, loads, empty, about)


def _weight(board: Board, whole: Figure, about: list[Thing]) -> Iterator[Judgement]:
    case = board.layout.deck.case
    lifters = (case.lifters if case else None) or 1
    each = whole.value / lifters
    frame = "" if case and case.empty_weight is not None else " without its frame and case"
    hands = f"{tell(each, 'g')} for one person" if lifters == 1 else f"{tell(each, 'g')} for each of {lifters}"
    nearly_all = lifting.recommended_weight_limit(limits.LIFT_REACH.value, limits.LIFT_HEIGHT.value, limits.LIFT_TRAVEL.value)
    numbers: list[Number] = [
        number("weight", whole),
        Number("nearly anyone lifts", f"{nearly_all:.1f} kg", nearly_all * 1000, "g", "computed"),
    ]
    for bound, severity in ((limits.LIFT_RISK, Severity.RISK), (limits.LIFT_ADVICE, Severity.ADVICE)):
        if over(each, bound.value):
            yield trips(
                severity,
                about,
                f"The board weighs {whole}{frame}: {hands}.",
                "Lift it with one person more, split it into two boards, or take the supply out for transport.",
                [*numbers, limit("for one person at most", bound)],
            )
            return
    if case and case.wheels is not YesNo.YES and case.wheels is not YesNo.UNKNOWN and over(whole.value, limits.WHEELS_FROM.value):
        yield trips(
            Severity.ADVICE,
            about,
            f"The board weighs {whole} and nothing is said of wheels: it is carried every metre.",
            "Put wheels on the case, and write `wheels: yes`.",
            [*numbers, limit("without wheels at most", limits.WHEELS_FROM)],
        )


def _flight(board: Board, whole: Figure, about: list[Thing]) -> Iterator[Judgement]:
    case = board.layout.deck.case
    if not case or not case.flies:
        return
    for bound, severity, what in (
        (limits.FLIGHT_FAULT, Severity.FAULT, "is refused as baggage"),
        (limits.FLIGHT_ADVICE, Severity.ADVICE, "costs extra as baggage"),
    ):
        if over(whole.value, bound.value):
            yield trips(
                severity,
                about,
                f"The board weighs {whole}: over {tell(bound.value, 'g')} it {what}.",
                "Split it into two cases, or fly without what can be hired on the spot. Ask the airline: its own limit counts.",
                [number("weight", whole), limit("at most", bound)],
            )
            return


def _balance(board: Board, loads: list[Load], empty: Figure | None, about: list[Thing]) -> Iterator[Judgement]:
    found = balance_of(board.layout)
    if found is None:
        return
    along, extent = found.along
    third = limits.BALANCE_THIRD.value * extent
    if over(third, along) or over(along, extent - third):
        yield trips(
            Severity.ADVICE,
            about,
            f"The board balances {mm(along)} along its {mm(extent)} handle side, outside the middle third: it hangs askew.",
            "Move the heaviest things towards the middle, the supply first.",
            [size("balance point", along, found.origin), size("middle third from", third), size("to", extent - third)],
        )
        return
    lean = found.lean
    if lean is not None and over(abs(lean.offset), limits.BALANCE_TIP.value * lean.height):
        angle = math.degrees(balance.tip_angle(max(lean.height / 2 - abs(lean.offset), 0.0), lean.above))
        yield trips(
            Severity.ADVICE,
            about,
            f"Stood on its long edge the case balances {mm(abs(lean.offset))} from the middle of its {mm(lean.height)}: a push of {angle:.0f}° tips it over.",
            "Lay it flat, or move heavy things towards the middle of its height.",
            [size("from the middle", abs(lean.offset), found.origin), limit("at most", limits.BALANCE_TIP)],
        )
        return
    yield clear(*about)
