"""Voltage lost on the way to the device.

## What it finds
A device at which too little of the outlet's voltage arrives, or a lead that cannot carry what the device wants at all.

## Why it matters
Thin wire is a resistor. A hungry pedal at the end of a long thin lead gets what is left. Pedals with converters inside
make it worse: less voltage makes them pull more current.

## How it decides
The network of the outlet is solved: its own resistance ({{ limit source-small }} up to {{ limit large-outlet }},
{{ limit source-large }} above, where none is stated), every lead there and back ({{ limit power-lead-length }} of
{{ limit power-lead-gauge }} where none is stated, {{ limit contact-resistance }} for each contact), and loads that keep
their current, their power or their resistance. A fault if what arrives is below the device's least voltage, or if there
is no point at which the network can rest. A risk if more than {{ limit voltage-drop }} is lost. A lead longer than
{{ limit power-lead-ask }} of unknown wire is asked about.

## How to mend it
A shorter or thicker lead; a lead of its own instead of the tail of a daisy chain; for digital devices never an outlet
with a starved voltage.

## Source
Physics: Ohm's law; wire sizes by ASTM B258, copper by IEC 60028, metric cords by IEC 60228. Contacts and defaults are
common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.feeding import Device, Line
from boardwright.board.power import Arrival, Circuit
from boardwright.rules.power._feeds import about, feeds, named
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Number, Severity, cannot_tell, clear, limit, number, over, trips
from boardwright.spec.figure import Origin, figure, tell


@rule(Severity.FAULT, Severity.RISK, lesson="thin-wires", explained_by=("supply-voltage-outside-range",))
def voltage_lost_before_device(board: Board) -> Iterator[Judgement]:
    for circuit, device, line in feeds(board):
        things, arrival = about(circuit, device), circuit.arrival(device)
        if arrival is None:
            yield cannot_tell(Severity.RISK, things, f"How many volts does {named(circuit)} give?", at=line.path)
        elif device.name in circuit.ringed:
            yield cannot_tell(Severity.RISK, things, f"Which lead does `{device.name}` hang on? It is chained behind itself.", at=line.path)
        elif line.guesses_wire:
            yield cannot_tell(Severity.RISK, things, f"What wire is the long lead to `{device.name}`? Write its `gauge`.", at=line.path)
        elif arrival.volts is None:
            yield _cannot_carry(circuit, device, line, arrival)
        elif not device.draw(circuit.volts).known:
            yield cannot_tell(Severity.RISK, things, f"How much current does `{device.name}` draw? Read it off the label.")
        else:
            yield _judge(circuit, device, line, arrival)


def _cannot_carry(circuit: Circuit, device: Device, line: Line, arrival: Arrival) -> Judgement:
    return trips(
        Severity.FAULT,
        about(circuit, device),
        f"What hangs on {named(circuit)} cannot run: its leads cannot carry that power at {tell(arrival.no_load, 'V')}. The lower the "
        f"voltage falls, the more current `{device.name}` pulls, and there is no point at which that comes to rest.",
        "Use a much shorter or thicker lead, or an outlet with more volts.",
        _numbers(circuit, line, arrival),
        at=line.path,
    )


def _judge(circuit: Circuit, device: Device, line: Line, arrival: Arrival) -> Judgement:
    assert arrival.volts is not None and arrival.drop is not None and arrival.drop_share is not None
    things, least = about(circuit, device), device.least_volts
    lost = f"`{device.name}` gets {tell(arrival.volts, 'V')} of {tell(arrival.no_load, 'V')}: {tell(arrival.drop, 'V')} "
    lost += f"({tell(arrival.drop_share, '%')}) is lost on the way, most of it in {_where(circuit, arrival)}."
    remedy = "Use a shorter or thicker lead, and one of its own."
    if least is not None and over(least, arrival.volts):
        needs = f" It needs {tell(least, 'V')} at least."
        return trips(Severity.FAULT, things, lost + needs, remedy, _numbers(circuit, line, arrival), at=line.path)
    if over(arrival.drop_share, limits.VOLTAGE_DROP.value):
        bound = [limit("lost at most", limits.VOLTAGE_DROP)]
        return trips(Severity.RISK, things, lost, remedy, [*_numbers(circuit, line, arrival), *bound], at=line.path)
    return clear(*things)


def _where(circuit: Circuit, arrival: Arrival) -> str:
    """The part of the way that loses more."""
    source = circuit.source.resistance if circuit.source else 0.0
    return "the outlet itself" if source > arrival.resistance else "the lead"


def _numbers(circuit: Circuit, line: Line, arrival: Arrival) -> list[Number]:
    assert circuit.source is not None
    source_origin = min((outlet.source.origin for outlet in circuit.outlets), default=Origin.ASSUMED)
    return [
        number("current", figure(arrival.current, "A", arrival.origin)),
        number("lead, there and back", figure(arrival.resistance, "Ω", line.resistance.origin)),
        number("outlet's own resistance", figure(circuit.source.resistance, "Ω", source_origin)),
    ]
