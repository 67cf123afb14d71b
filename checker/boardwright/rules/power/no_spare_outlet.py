"""No spare outlet, or a loose live plug.

## What it finds
A stage or touring board without one free outlet for an ordinary pedal; and unused leads whose live plug hangs loose.

## Why it matters
One free outlet means that a broken outlet or a borrowed pedal does not end the show. A loose barrel that touches the
frame shorts its outlet.

## How it decides
On a board for stage or tour, or for a client, it counts the free outlets that suit a 9 V centre-negative pedal. A loose
lead that is written as `loose_lead: open` is a risk on any board.

## How to mend it
The next size of supply, or a pedal less. Cap loose plugs, or unplug and coil their leads.

## Source
Common practice; no published source.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.supply import Outlet
from boardwright.rules import things
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, clear, trips
from boardwright.spec.power_phrase import Flow, Polarity


@rule(Severity.ADVICE, Severity.RISK, lesson="current")
def no_spare_outlet(board: Board) -> Iterator[Judgement]:
    outlets = board.power.outlets
    used = {outlet.id for circuit in board.power.circuits for outlet in circuit.outlets}
    for outlet in outlets:
        if outlet.section.loose_lead == "open" and outlet.id not in used:
            yield trips(
                Severity.RISK,
                [things.of_outlet(outlet)],
                f"A lead is plugged into outlet `{outlet.id}` and its live plug hangs loose. If it touches the frame, it shorts the outlet.",
                "Cap the plug, or take the lead out.",
            )
    described = [supply for supply in board.power.supplies.values() if supply.outlets and supply.declared]
    if not described:
        return
    about = [things.of_supply(supply) for supply in described]
    if not board.is_for_stage or any(outlet.id not in used and _suits(outlet) for outlet in outlets):
        yield clear(*about)
    else:
        yield trips(
            Severity.ADVICE,
            about,
            "Every outlet that suits an ordinary 9 V pedal is taken. If one breaks, or a pedal is borrowed, there is nowhere to plug in.",
            "Choose the next size of supply, or leave a pedal at home.",
        )


def _suits(outlet: Outlet) -> bool:
    gives = outlet.gives
    return gives.flow is not Flow.AC and gives.polarity is Polarity.CENTRE_NEGATIVE and outlet.volts is not None and 8.5 <= outlet.volts <= 9.6
