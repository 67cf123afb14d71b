"""A side path bridges an isolator.

## What it finds
An isolator with a lifted screen whose two sides are joined again by another way: a control lead, a bracket, a MIDI or
computer lead, a shared power return, a second audio lead.

## Why it matters
You bought a good isolator, and then joined the two grounds again with the amplifier's footswitch lead or the metal plate that the
jacks are screwed to. The isolator now does nothing.

## How it decides
For each isolator it asks whether its two sides hang together without it, in the signal grounds alone, the wall left
out. If they do, the way is printed. A control lead that states neither `isolated` nor a floating relay is asked about.

## How to mend it
A floating relay or an optocoupler for amplifier switching, insulated jacks in metal plates, an open screen at the MIDI receiver.

## Source
A property of the graph; MIDI 1.0 (the receiver leaves the screen open); AES48.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.ground_bonds import Bond, screen_of
from boardwright.rules.earth._loops import thing
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, trips


@rule(Severity.FAULT, lesson="one-earth")
def isolation_bridged_by_side_path(board: Board) -> Iterator[Judgement]:
    for name, far in board.ground.isolated:
        if screen_of(board.spec, name, far[2]) == "through":
            continue
        way = board.ground.side_path(far)
        about = [thing(board, name)]
        if way is None:
            yield clear(*about)
        elif all(bond.sure for bond in way):
            yield _bridged(board, name, way)
        else:
            asked = next(bond for bond in way if not bond.sure)
            yield cannot_tell(Severity.FAULT, about, f"{asked.question} If it joins grounds, it goes round `{name}`.", at=asked.path)


def _bridged(board: Board, name: str, way: list[Bond]) -> Judgement:
    culprit = next((bond for bond in way if bond.hop is None), way[-1])
    steps = ", then ".join(dict.fromkeys(bond.says for bond in way))
    return trips(
        Severity.FAULT,
        [thing(board, name)],
        f"`{name}` keeps two grounds apart, and they are joined again by {steps}. The isolator does nothing.",
        "Open that way: a floating contact or optocoupler for switching, an insulated jack, or a lead whose screen ends at one side.",
        at=culprit.path,
    )
