"""Plug polarity the wrong way round.

## What it finds
A device whose plug gets plus where it wants minus; and reversing leads that undo each other.

## Why it matters
The round plug has an inside and an outside. Most pedals want minus inside; most household gadgets want plus inside.
Backwards current can destroy a pedal, or burn its protection diode and take the supply down with it.

## How it decides
The outlet's polarity is turned over once for each reversing lead or adaptor on the way, and compared with the device's.
Right by two reversals is a risk: sooner or later one of the two leads is swapped for a plain one.

## How to mend it
Use an outlet of the right polarity, or a clearly marked reversing lead that stays fixed to that pedal.

## Source
The marking beside the jack (IEC 60417, symbol 5926); physics.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.rules.power._feeds import about, feeds, named, polarity_question
from boardwright.rules.power._moves import with_move
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, trips
from boardwright.spec.power_phrase import Flow, Polarity


@rule(Severity.FAULT, Severity.RISK, lesson="labels")
def plug_polarity_reversed(board: Board) -> Iterator[Judgement]:
    for circuit, device, line in feeds(board):
        given = circuit.outlets[0].gives
        if Flow.AC in (given.flow, device.needs.flow):
            continue
        things = about(circuit, device)
        if question := polarity_question(circuit, device):
            yield cannot_tell(Severity.FAULT, things, question, at=line.path, before_power=True)
            continue
        if given.polarity is None or device.needs.polarity is None:
            yield clear(*things)
            continue
        arrives = given.polarity if line.reversals % 2 == 0 else given.polarity.opposite
        if arrives is not device.needs.polarity:
            turned = " through a reversing lead" if line.reversals % 2 else ""
            judged = trips(
                Severity.FAULT,
                things,
                f"`{device.name}` wants {device.needs.polarity} and gets {arrives} from {named(circuit)}{turned}. "
                "Backwards, a pedal can be destroyed at once.",
                _remedy(arrives, line.reversals, device.name),
                at=line.path,
            )
            yield with_move(board, device, judged)
        elif line.reversals >= 2:
            yield trips(
                Severity.RISK,
                things,
                f"`{device.name}` is fed through {line.reversals} reversing leads that undo each other. It is right by luck: "
                "when one of them is replaced by a plain lead, it is backwards.",
                "Use one plain lead and put the reversing ones away.",
                at=line.path,
            )
        else:
            yield clear(*things)


def _remedy(arrives: Polarity, reversals: int, name: str) -> str:
    if reversals % 2:
        return "Use a plain lead: here the reversing one makes it wrong."
    return f"Use a marked reversing lead that stays with `{name}`, or an outlet that is {arrives.opposite}."
