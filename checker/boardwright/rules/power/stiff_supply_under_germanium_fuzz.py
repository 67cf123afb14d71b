"""Stiff supply under an old-style fuzz.

## What it finds
A fuzz that is said to like a tired battery, on an outlet that is anything but tired.

## Why it matters
Some old-style fuzzes sing on a tired cheap battery: a bit less voltage and a softer push. A modern supply is too perfect.
It is taste, not a fault.

## How it decides
It trips for a device that says `wants: weak-battery` on an outlet of {{ limit tired-volts }} or more with an own
resistance below {{ limit tired-battery }}. To be honest about it: at one or two milliamperes even 100 ohm changes the
voltage by 0.1 to 0.2 V, so most of the feel of a dying battery is its lower voltage, 7 to 8.5 V; the resistance softens
the peaks.

## How to mend it
A battery, or an outlet whose voltage or resistance can be set. Keep a germanium fuzz cool: its leakage about doubles with
every 10 °C.

## Source
Physics for the figures; the rest is taste and common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.rules.power._feeds import about, feeds, named
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, limit, number, over, trips
from boardwright.spec.figure import figure, tell


@rule(Severity.ADVICE, lesson="quiet-power")
def stiff_supply_under_germanium_fuzz(board: Board) -> Iterator[Judgement]:
    for circuit, device, line in feeds(board):
        if device.pedal is None or "weak-battery" not in (device.pedal.wants or ()):
            continue
        things, volts, resistance = about(circuit, device), circuit.no_load_volts, circuit.source.resistance if circuit.source else None
        if volts is None or resistance is None:
            yield cannot_tell(Severity.ADVICE, things, f"How many volts does {named(circuit)} give?", at=line.path)
        elif over(limits.TIRED_VOLTS.value, volts) or not over(limits.TIRED_BATTERY.value, resistance):
            yield clear(*things)
        else:
            yield trips(
                Severity.ADVICE,
                things,
                f"`{device.name}` likes a tired battery, and {named(circuit)} gives a firm {tell(volts, 'V')} behind {tell(resistance, 'Ω')}.",
                "If you miss the softness, try a battery or an outlet set to 7 to 8.5 V.",
                [
                    number("own resistance", figure(resistance, "Ω", circuit.outlets[0].source.origin)),
                    limit("soft from", limits.TIRED_BATTERY),
                    limit("turned down below", limits.TIRED_VOLTS),
                ],
                at=line.path,
            )
