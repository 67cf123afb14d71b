"""Power plug that does not fit.

## What it finds
A lead whose plug does not match the device's jack: too tight, too loose, or another shape altogether.

## Why it matters
Round power plugs come in two nearly identical sizes. The wrong one either refuses to go on, or feels fine and then cuts
out on the first loud night.

## How it decides
The plug at the lead's end is compared with the device's jack. A 5.5x2.5 plug goes over a 2.1 mm pin but sits loose: a
risk. A 5.5x2.1 plug does not go over a 2.5 mm pin, and any other pair does not join at all: a fault. Where neither
side states a plug, a 9 V pedal, or one of up to 18 V that is centre-negative, is taken to have the usual 5.5x2.1 on both.

## How to mend it
A lead with the right tip. Stacked adaptors lever the jack and come loose.

## Source
IEC 60130-10 describes this family of connectors; that a loose plug drops out is common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.feeding import Device, Line
from boardwright.board.power import Circuit
from boardwright.rules.power._feeds import about, feeds
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, trips
from boardwright.spec.power_phrase import BARREL_21, BARREL_25, Flow, Polarity


@rule(Severity.FAULT, Severity.RISK, lesson="labels")
def power_plug_does_not_fit(board: Board) -> Iterator[Judgement]:
    for circuit, device, line in feeds(board):
        things = about(circuit, device)
        plug, jack = plug_and_jack(circuit, device, line)
        if plug is None or jack is None:
            whose = f"the jack of `{device.name}`" if jack is None else f"the lead to `{device.name}`"
            yield cannot_tell(Severity.FAULT, things, f"Which plug does {whose} have? It is printed beside it, or in the manual.", at=line.path)
        elif plug == jack:
            yield clear(*things)
        elif (plug, jack) == (BARREL_25, BARREL_21):
            yield trips(
                Severity.RISK,
                things,
                f"The {plug} plug goes into `{device.name}`, whose pin is 2.1 mm, but sits loose: it drops out when stamped on.",
                f"Use a lead with a {jack} plug.",
                at=line.path,
            )
        else:
            why = "Its hole is too small for the 2.5 mm pin" if {plug, jack} == {BARREL_21, BARREL_25} else "They do not join"
            yield trips(
                Severity.FAULT,
                things,
                f"The lead ends in {plug} and `{device.name}` has {jack}. {why}.",
                f"Use a lead with a {jack} plug.",
                at=line.path,
            )


def plug_and_jack(circuit: Circuit, device: Device, line: Line) -> tuple[str | None, str | None]:
    """The plug at the device's end (what the lead states, or else what the outlet's phrase does) and the device's jack."""
    plug, jack = line.plug or next((outlet.gives.plug for outlet in circuit.outlets), None), device.needs.plug
    usual = BARREL_21 if _is_usual(device) else None
    plug, jack = plug or (usual if jack != plug else None), jack or usual
    return usual if plug is None and jack == usual else plug, jack


def _is_usual(device: Device) -> bool:
    """Whether it is an everyday pedal, whose jack nobody needs to ask about: 9 V, or centre-negative up to 18 V."""
    needs = device.needs
    if needs.flow is Flow.AC or needs.polarity is None or needs.volts.low is None:
        return False
    takes_nine = needs.volts.low <= 9 <= (needs.volts.high or 0)
    return takes_nine or (needs.polarity is Polarity.CENTRE_NEGATIVE and needs.volts.low <= 18)
