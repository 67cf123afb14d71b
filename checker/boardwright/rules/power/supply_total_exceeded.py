"""Supply asked for more than it gives in all.

## What it finds
A supply whose outlets are each within their rating, but together ask for more power than the supply has; and outlets
that share an engine inside and together exceed it.

## Why it matters
Eight outlets of 500 mA each do not mean four amperes at once. Many supplies share one engine between all outlets.

## How it decides
For each outlet, its volts times the labelled currents on it; added up, the sum is held against the supply's total. Above
the total is a fault, above {{ limit supply-headroom }} of it a risk. Groups of outlets with a rating of their own are
held against that.

## How to mend it
A second supply, or move the thirsty devices to a supply that can carry them.

## Source
Physics; the supply's own marking. The share in reserve is common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.supply import Supply
from boardwright.rules import things
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, limit, number, over, trips
from boardwright.spec.figure import figure, tell


@rule(Severity.FAULT, Severity.RISK, lesson="current")
def supply_total_exceeded(board: Board) -> Iterator[Judgement]:
    for supply in board.power.supplies.values():
        if not any(board.power.circuits_of(outlet) for outlet in supply.outlets.values()):
            continue
        yield _whole(board, supply)
        yield from _groups(board, supply)


def _whole(board: Board, supply: Supply) -> Judgement:
    thing = things.of_supply(supply)
    given, missing, unclear = board.power.output(supply)
    total = supply.total
    if not total.known:
        question = (
            f"How much power does `{supply.name}` give in all? The sum of its outlets' ratings is often more than it can "
            "give at once: look for a total in watts."
        )
        return cannot_tell(Severity.FAULT, [thing], question)
    share = given.value / total.value if total.value else float("inf")
    numbers = [number("asked for", given), number("total", total)]
    more = " or more" if missing or unclear else ""
    if over(share, 1):
        return trips(
            Severity.FAULT,
            [thing],
            f"The outlets of `{supply.name}` are asked for {given}{more}, and it gives {total} in all: "
            f"{tell(given.value - total.value, 'W')} too little, even where each outlet alone is within its rating.",
            "Move the thirstiest devices to a second supply.",
            numbers,
        )
    if missing or unclear:
        asked = [device.name for device in missing] or [outlet.id for outlet in unclear]
        return cannot_tell(Severity.FAULT, [thing], f"How much {things.does(asked)} draw, and at how many volts?")
    if over(share, limits.SUPPLY_HEADROOM.value):
        return trips(
            Severity.RISK,
            [thing],
            f"`{supply.name}` gives {total} in all and {tell(share, '%')} of it is in use ({given}). Leave a fifth spare.",
            "Move a thirsty device to another supply, or choose a bigger one.",
            [*numbers, limit("in use at most", limits.SUPPLY_HEADROOM)],
        )
    return clear(thing)


def _groups(board: Board, supply: Supply) -> Iterator[Judgement]:
    for index, group in enumerate(supply.section.groups or ()):
        outlets = [supply.outlets[name] for name in group.outlets if name in supply.outlets]
        if group.rating is None or not outlets:
            continue
        asked = figure(sum(board.power.demand(outlet)[0].value for outlet in outlets), "A")
        about = [things.of_supply(supply), *(things.of_outlet(outlet) for outlet in outlets)]
        missing = [device.name for outlet in outlets for device in board.power.demand(outlet)[1]]
        names = things.listed([outlet.id for outlet in outlets])
        if not group.rating.known:
            yield cannot_tell(Severity.FAULT, about, f"How much may the outlets {names} give together?")
        elif over(asked.value, group.rating.value):
            yield trips(
                Severity.FAULT,
                about,
                f"The outlets {names} may give {group.rating} together and are asked for {asked}.",
                "Spread the devices over outlets of different groups.",
                [number("asked for", asked), number("group's rating", group.rating)],
                at=(*supply.path, "groups", index),
            )
        elif missing:
            yield cannot_tell(Severity.FAULT, about, f"How much current {things.does(missing)} draw?")
        else:
            yield clear(*about)
