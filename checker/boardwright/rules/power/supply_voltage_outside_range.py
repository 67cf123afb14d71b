"""Voltage outside what the device takes.

## What it finds
A device on an outlet whose volts are higher or lower than the device is built for.

## Why it matters
Voltage is how hard the supply pushes. Too much push burns parts in a moment; too little, and the pedal is weak, noisy
or dead. Nine volts is common but far from universal, and the plug for eighteen looks the same as the plug for nine.

## How it decides
The outlet's nominal volts (added up for outlets in series) are held against the device's window: the range on its label
if it states one, otherwise its nominal volts less {{ limit window-below }} and plus {{ limit window-above }}. An
unregulated adaptor counts with its no-load voltage, {{ limit no-load-factor }} times its label. What a lead loses on the
way is the business of `voltage-lost-before-device`.

## How to mend it
Use an outlet inside the window. If the outlet has a voltage selector, set it, then tape over it.

## Source
The device's own marking; physics for the no-load voltage. The window is common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.feeding import Device
from boardwright.board.power import Circuit
from boardwright.rules.power._feeds import about, feeds, named
from boardwright.rules.power._moves import with_move
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Number, Severity, decide, limit, number, over
from boardwright.spec.figure import figure, tell, weakest
from boardwright.spec.power_phrase import Flow


@rule(Severity.FAULT, lesson="labels")
def supply_voltage_outside_range(board: Board) -> Iterator[Judgement]:
    for circuit, device, line in feeds(board):
        given, window = circuit.no_load_volts, device.window
        too_high = given is not None and window is not None and over(given, window[1])
        too_low = given is not None and window is not None and over(window[0], given)
        origins = [outlet.gives.volts.origin for outlet in circuit.outlets] + [device.needs.volts.origin]
        judged = decide(
            None if given is None or window is None else too_high or too_low,
            weakest(origins),
            Severity.FAULT,
            about(circuit, device),
            sentence=_sentence(circuit, device, too_high) if given is not None and window else "",
            remedy=_remedy(device),
            question=_question(circuit, device),
            numbers=_numbers(circuit, device),
            at=line.path,
            breaks_things=True,
        )
        yield with_move(board, device, judged)


def _sentence(circuit: Circuit, device: Device, too_high: bool) -> str:
    assert circuit.no_load_volts is not None
    given = tell(circuit.no_load_volts, "V")
    unloaded = " with nothing drawn" if circuit.no_load_volts != circuit.volts else ""
    follows = "Parts can burn the moment it is plugged in" if too_high else "It will not start, or sound thin and weak"
    return f"`{device.name}` takes {device.needs.volts} and {named(circuit)} gives {given}{unloaded}. {follows}."


def _remedy(device: Device) -> str:
    kind = f" {device.needs.flow}" if device.needs.flow in (Flow.DC, Flow.AC) else ""
    return f"Feed `{device.name}` from an outlet of {device.needs.volts}{kind}."


def _question(circuit: Circuit, device: Device) -> str:
    if device.window is None:
        return f"How many volts does `{device.name}` take? Read it beside the jack before plugging anything in."
    return f"How many volts does {named(circuit)} give? Read it off the supply before plugging anything in."


def _numbers(circuit: Circuit, device: Device) -> list[Number]:
    if circuit.no_load_volts is None or device.window is None:
        return []
    low, high = device.window
    numbers = [
        number("arrives", figure(circuit.no_load_volts, "V", circuit.outlets[0].gives.volts.origin)),
        Number("takes", f"{tell(low, 'V')} to {tell(high, 'V')}", high, "V", device.needs.volts.origin.word),
    ]
    if device.needs.volts.low == device.needs.volts.high:
        numbers += [limit("margin below", limits.WINDOW_BELOW), limit("margin above", limits.WINDOW_ABOVE)]
    return numbers
