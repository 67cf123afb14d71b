"""AC and DC mixed up.

## What it finds
A device that wants dc on an outlet that gives ac, or the other way round.

## Why it matters
DC flows one way, AC swings back and forth. A few old digital units and valve preamps want AC through the very same
round plug. AC pushes a DC device's capacitors backwards fifty or sixty times a second: they overheat and can vent. DC
usually just leaves an AC device dead, or without its negative half.

## How it decides
The two words are compared. A device that says `ac-or-dc` takes both.

## How to mend it
Give it an outlet of its kind, with a plug or a coloured, labelled lead that fits nothing else. Keep AC leads away from
audio leads.

## Source
The device's own marking; physics.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.rules.power._feeds import about, feeds, named
from boardwright.rules.power._moves import with_move
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, decide
from boardwright.spec.figure import Origin
from boardwright.spec.power_phrase import Flow


@rule(Severity.FAULT, lesson="labels")
def ac_dc_mismatch(board: Board) -> Iterator[Judgement]:
    for circuit, device, line in feeds(board):
        wants = device.needs.flow
        gives = next((outlet.gives.flow for outlet in circuit.outlets), None)
        decided = wants is Flow.EITHER or (wants is not None and gives is not None)
        unsaid = f"`{device.name}` wants" if wants is None else f"{named(circuit)} gives"
        follows = (
            "Its capacitors are pushed backwards at every swing and can vent"
            if gives is Flow.AC
            else "It stays dead, or loses half of its inner supply"
        )
        judged = decide(
            (wants is not Flow.EITHER and wants is not gives) if decided else None,
            Origin.STATED if decided else Origin.UNKNOWN,
            Severity.FAULT,
            about(circuit, device),
            sentence=f"`{device.name}` wants {wants} and {named(circuit)} gives {gives}. {follows}.",
            remedy=f"Take an outlet that gives {wants}, on a lead that is marked for `{device.name}` alone.",
            question=f"Is it ac or dc that {unsaid}? The two can share one shape of plug: read the label.",
            at=line.path,
            breaks_things=True,
        )
        yield with_move(board, device, judged)
