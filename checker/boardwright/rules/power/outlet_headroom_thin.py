"""Outlet with too little in reserve.

## What it finds
An outlet that gives enough, but with less than a fifth to spare.

## Why it matters
Running an outlet at its limit is like driving flat out all day. The draw on a label is a typical value; it rises when a
display lights up, at switch-on, and in heat, while the supply gives less when it is warm.

## How it decides
It trips when the devices draw more than {{ limit outlet-headroom }} of the rating and not more than all of it. If every
draw was measured, {{ limit outlet-headroom-measured }} is enough.

## How to mend it
Spread the devices over the outlets, the thirsty ones on the strong outlets.

## Source
Common practice; no published source.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.rules import things
from boardwright.rules.power._moves import with_relief
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, limit, number, over, trips
from boardwright.spec.figure import Origin, tell


@rule(Severity.RISK, lesson="current", explained_by=("outlet-current-overdrawn",))
def outlet_headroom_thin(board: Board) -> Iterator[Judgement]:
    for outlet in board.power.outlets:
        devices = [d for circuit in board.power.circuits_of(outlet) for d in circuit.devices if not d.takes_nothing]
        if not devices:
            continue
        asked, missing = board.power.demand(outlet)
        involved = [things.of_outlet(outlet), *(things.of_device(device) for device in devices)]
        bound = limits.OUTLET_HEADROOM_MEASURED if asked.origin is Origin.MEASURED else limits.OUTLET_HEADROOM
        if not outlet.rating.known:
            yield cannot_tell(Severity.RISK, involved, f"How much current does outlet `{outlet.id}` give? Read it off the supply.")
            continue
        share = asked.value / outlet.rating.value if outlet.rating.value else float("inf")
        if over(share, 1):
            yield clear(*involved)  # overdrawn, which has its own rule
        elif over(share, bound.value):
            judged = trips(
                Severity.RISK,
                involved,
                f"Outlet `{outlet.id}` gives {outlet.rating} and {tell(share, '%')} of it is in use ({asked}). "
                f"Leave a fifth spare: {tell(bound.value * outlet.rating.value, 'A')} is as far as it should go.",
                "Move a device to an outlet that has more to spare.",
                [number("drawn", asked), number("rating", outlet.rating), limit("in use at most", bound)],
            )
            yield with_relief(board, board.power.circuits_of(outlet)[0], asked.value - bound.value * outlet.rating.value, judged)
        elif missing:
            asked_of = things.does([device.name for device in missing])
            yield cannot_tell(Severity.RISK, involved, f"How much current {asked_of} draw? Read it off the label.", at=missing[0].path)
        else:
            yield clear(*involved)
