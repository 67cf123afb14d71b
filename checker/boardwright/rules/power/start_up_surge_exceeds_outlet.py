"""Start-up gulp bigger than the outlet allows.

## What it finds
Devices on one outlet whose currents at switch-on add up to more than it lets through for a moment, and devices that an
outlet which protects itself can never get going.

## Why it matters
Some pedals gulp when they wake: capacitors fill, a processor boots. If the outlet protects itself during the gulp, the
pedal never boots, or reboots when the lights dim.

## How it decides
All devices on an outlet start together. Their stated start-up currents are added up and held against the outlet's stated
peak, or its rating where none is stated. Where no start-up current is stated, {{ limit start-analogue }} times the
labelled current is assumed for an analogue device, {{ limit start-digital }} times for a digital one and
{{ limit start-heater }} times for a valve heater; a finding that rests on assumptions is advice only. A device that has
been found to draw too much anyway is left to `outlet-current-overdrawn`.

## How to mend it
A bigger outlet; switching on one after the other; no two large digital devices on one outlet.

## Source
Physics for the gulp; the factors are common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.feeding import total
from boardwright.rules import things
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, number, over, trips
from boardwright.spec.figure import Origin, tell


@rule(Severity.RISK, Severity.ADVICE, lesson="current", explained_by=("outlet-current-overdrawn",))
def start_up_surge_exceeds_outlet(board: Board) -> Iterator[Judgement]:
    for outlet in board.power.outlets:
        circuits = board.power.circuits_of(outlet)
        devices = [device for circuit in circuits for device in circuit.devices if not device.takes_nothing and device.supply is None]
        if not devices:
            continue
        involved = [things.of_outlet(outlet), *(things.of_device(device) for device in devices)]
        stated = outlet.section.peak if outlet.section.peak and outlet.section.peak.known else None
        allowed = stated or outlet.rating
        starts = [(device, device.start) for device in devices]
        surge, _ = total((start for _, start in starts), "A")
        unsaid = [device for device, start in starts if not start.known]
        severity = Severity.ADVICE if surge.origin is Origin.ASSUMED else Severity.RISK
        if not allowed.known:
            yield cannot_tell(severity, involved, f"How much current does outlet `{outlet.id}` allow for a moment? Its manual says, or its label the rating.")
        elif over(surge.value, allowed.value):
            who = things.listed([device.name for device in devices])
            limit_name = "peak" if stated else "rating, since no peak is stated"
            yield trips(
                severity,
                involved,
                f"At switch-on {who} {'takes' if len(devices) == 1 else 'take'} {surge}, and outlet `{outlet.id}` allows {allowed}: "
                f"{tell(surge.value - allowed.value, 'A')} too little. It may never start, or restart in the middle of a song.",
                "Use a bigger outlet, or one that states a peak above the gulp."
                if severity is Severity.RISK
                else "State its start-up current if you know it; otherwise prefer an outlet with more to give.",
                [number("at switch-on", surge), number(limit_name, allowed)],
            )
        elif unsaid:
            asked_of = things.does([device.name for device in unsaid])
            yield cannot_tell(severity, involved, f"How much current {asked_of} take at switch-on?", at=unsaid[0].path)
        else:
            yield clear(*involved)
