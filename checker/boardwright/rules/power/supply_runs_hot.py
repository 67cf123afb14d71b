"""Supply runs hot.

## What it finds
A supply whose case gets too warm for its load and its place; and a shut-in supply that works hard.

## Why it matters
A supply turns part of its power into warmth. Shut in a box under hot lights it will protect itself by switching off,
usually in the second set.

## How it decides
What it loses is its output times (1 ÷ efficiency − 1), with {{ limit switch-mode-efficiency }} for a switch-mode supply,
{{ limit linear-efficiency }} for a linear one and {{ limit converter-efficiency }} for a converter, where none is stated.
The case rises by that loss over {{ limit convection }}, its surface and the share of the surface that still cools:
{{ limit under-deck }} below a deck, {{ limit shut-in }} where `ventilated: no`. It trips above
{{ limit case-temperature }}. The air is taken as {{ limit stage-ambient }} on a stage and {{ limit home-ambient }} at home
where none is stated. A supply with `ventilated: no` also trips above {{ limit shut-in-load }} of its total.

## How to mend it
Leave air at two sides, bare metal against a metal frame, no foam; or lower the load.

## Source
Physics: natural convection, with a handbook's order of magnitude for the coefficient.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.thermal import Warmth, warmth
from boardwright.rules import things
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, limit, number, over, trips
from boardwright.spec.fields import YesNo
from boardwright.spec.figure import tell


@rule(Severity.RISK, lesson="thin-wires")
def supply_runs_hot(board: Board) -> Iterator[Judgement]:
    for supply in board.power.supplies.values():
        if not any(board.power.circuits_of(outlet) for outlet in supply.outlets.values()):
            continue
        thing = things.of_supply(supply)
        given, missing, unclear = board.power.output(supply)
        found = warmth(board, supply)
        share = given.value / supply.total.value if supply.total.known and supply.total.value else None
        shut_in = supply.section.ventilated is YesNo.NO
        if over(found.case, limits.CASE_TEMPERATURE.value):
            yield trips(
                Severity.RISK,
                [thing],
                f"`{supply.name}` gives {given} and turns {found.loss} into warmth. Its case reaches about {tell(found.case, '°C')}, "
                f"{tell(found.rise, '°C')} above the air, and it may switch itself off.",
                "Leave air at two sides of it, take away foam, or lower its load.",
                [*_numbers(found), limit("case at most", limits.CASE_TEMPERATURE)],
            )
        elif shut_in and share is not None and over(share, limits.SHUT_IN_LOAD.value):
            yield trips(
                Severity.RISK,
                [thing],
                f"`{supply.name}` is shut in and works at {tell(share, '%')} of its total. It has nowhere to lose its warmth.",
                "Leave air at two sides of it, or lower its load.",
                [number("gives", given), limit("shut in at most", limits.SHUT_IN_LOAD)],
            )
        elif missing or unclear:
            asked_of = things.does([device.name for device in missing] or [outlet.id for outlet in unclear])
            yield cannot_tell(Severity.RISK, [thing], f"How much {asked_of} draw? It decides how warm `{supply.name}` gets.")
        else:
            yield clear(thing)


def _numbers(found: Warmth) -> list:
    return [number("lost as warmth", found.loss), number("surface", found.surface), number("air", found.ambient), number("efficiency", found.efficiency)]
