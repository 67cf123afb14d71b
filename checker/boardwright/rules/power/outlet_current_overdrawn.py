"""Outlet asked for more current than it gives.

## What it finds
An outlet whose devices draw more together than its rating: directly, down a daisy chain, in a series or parallel
combination, or through a converter that it feeds.

## Why it matters
Think of the outlet as a tap with a greatest flow. Pedals sip what they need; add the sips. If the sum beats the tap,
everything on it sags, resets or hums.

## How it decides
The labelled currents of all devices on the outlet are added up. A converter counts with the power that it gives divided
by its efficiency ({{ limit converter-efficiency }} where none is stated) and by its input volts. Through outlets in
series flows the same current, so the smallest rating counts; in parallel the ratings add up, less a tenth. A rating
bigger than the draw is never a fault: a device takes what it needs.

## How to mend it
Move a device to another outlet, or use an outlet of higher current. "It works at home" proves nothing.

## Source
Physics: currents add up.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.rules import things
from boardwright.rules.power._moves import with_relief
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, number, over, trips
from boardwright.spec.figure import tell, weakest


@rule(Severity.FAULT, lesson="current")
def outlet_current_overdrawn(board: Board) -> Iterator[Judgement]:
    for circuit in board.power.circuits:
        if all(device.takes_nothing for device in circuit.devices):
            continue
        involved = [*(things.of_outlet(o) for o in circuit.outlets), *(things.of_device(d) for d in circuit.devices)]
        if len(circuit.outlets) == 1:
            outlet = circuit.outlets[0]
            (asked, missing), rating = board.power.demand(outlet), outlet.rating
            names = f"Outlet `{outlet.id}`"
        else:
            (asked, missing), rating = circuit.demand, circuit.rating
            names = f"The outlets {things.listed([o.id for o in circuit.outlets])} in {circuit.mode or 'one lead'}"
        where = circuit.outlets[0].path
        if not rating.known:
            yield cannot_tell(Severity.FAULT, involved, f"How much current does {names[0].lower()}{names[1:]} give? Read it off the supply.", at=where)
        elif over(asked.value, rating.value):
            drawn_by = things.listed([device.name for device in circuit.devices])
            judged = trips(
                Severity.FAULT,
                involved,
                f"{names} gives {rating}, and {drawn_by} {'draws' if len(circuit.devices) == 1 else 'draw'} {asked}"
                f"{' or more' if missing else ''}: {tell(asked.value - rating.value, 'A')} too much."
                if len(circuit.outlets) == 1
                else f"{names} give {rating} together, and {drawn_by} asks for {asked}: {tell(asked.value - rating.value, 'A')} too much.",
                "Move a device to another outlet, or use one that gives more.",
                [number("drawn", asked), number("rating", rating)],
                at=where,
            )
            yield with_relief(board, circuit, asked.value - rating.value, judged)
        elif missing:
            asked_of = things.does([device.name for device in missing])
            yield cannot_tell(Severity.FAULT, involved, f"How much current {asked_of} draw? Read it off the label.", at=missing[0].path)
        elif weakest([asked.origin, rating.origin]).value == 0:
            yield cannot_tell(Severity.FAULT, involved, "The currents on this outlet are not known.", at=where)
        else:
            yield clear(*involved)
