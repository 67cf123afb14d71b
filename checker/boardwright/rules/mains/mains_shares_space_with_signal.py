"""Mains shares its space with signal leads.

## What it finds
Mains conductors on the board that are neither in a compartment of their own nor in sheathed cable, so that a low-voltage
lead can come to lie on them; and mains connectors that an audio or control plug fits.

## Why it matters
Mains lives in its own room with its own door. A worn patch lead that meets a worn mains wire brings the wall into
the strings.

## How it decides
A compartment of its own, or mains in sheathed cable all the way, is clear. Shared and not sheathed is a danger, and so is
a mains connector that fits an audio one. Mains parts on the board that say nothing of this are asked about before anything
is switched on; closed factory-made supplies and bought distribution are not. Whether a connector fits is part of the look-over
that is asked for (`looked_over`).

## How to mend it
Leave it unplugged, and have a qualified person put mains into a closed box of its own, under the local electrical code; or
keep mains off the board.

## Source
The separation of circuits in IEC 61140 and IEC 62368-1; otherwise common practice, no published source.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, Thing, cannot_tell, clear, trips
from boardwright.rules.wall import State, ask_look_over, ask_mains, defer, look_over, of_look_over, of_mains, separation


@rule(Severity.DANGER, lesson="the-wall")
def mains_shares_space_with_signal(board: Board) -> Iterator[Judgement]:
    state = separation(board)
    box = board.wall.section.enclosure
    if state is State.WRONG and box is not None:
        if box.same_connectors:
            sentence = (
                "A mains connector on this board fits an audio or control one. One wrong plug in the dark puts the wall on a lead in somebody's hand."
            )
        else:
            sentence = "Mains conductors without a sheath share a compartment with the board's leads. A lead that rubs through can become live."
        yield trips(
            Severity.DANGER,
            [Thing("enclosure", ("mains", "enclosure"))],
            sentence,
            defer("Leave it unplugged, and have a qualified person give mains a closed box of its own."),
        )
    elif state is State.UNSHOWN:
        yield cannot_tell(Severity.DANGER, [of_mains(board)], ask_mains(board))
    elif box is not None and look_over(board) is State.UNSHOWN:
        yield cannot_tell(Severity.DANGER, [of_look_over(board)], ask_look_over(board))
    elif state is State.RIGHT:
        yield clear(of_mains(board), severity=Severity.DANGER)
