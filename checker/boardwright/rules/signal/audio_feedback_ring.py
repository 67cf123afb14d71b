"""Sound comes back to where it was.

## What it finds
A way on which the output of a box travels back to its own input, in any state of the switches.

## Why it matters
If a box's output can travel back to its own input, the rig can howl by itself.

## How it decides
It looks for rings in the sound's ways, and asks for each whether its switches can ever stand so at once. The gain round the
ring is taken as unknown, and so as enough. A ring that is meant says `feedback: intended` on its audio entry. The send and
the return of an amplifier's loop are two stages, and no ring.

## How to mend it
Break the ring; usually a send and a return are crossed.

## Source
Control theory: a loop gain of one or more sustains itself.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from boardwright.board.assemble import Board
from boardwright.board.audio import return_jack
from boardwright.board.signal import Edge
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import in_words, lead_of, thing
from boardwright.rules.verdict import Judgement, Severity, Thing, clear, trips


@rule(Severity.FAULT, lesson="follow-the-sound", explained_by=("speaker-output-meets-board", "send-without-return"))
def audio_feedback_ring(board: Board) -> Iterator[Judgement]:
    if not board.audio.described:
        return
    for ring in board.signal.rings:
        names = list(dict.fromkeys(node.thing for edge in ring.way for node in (edge.start, edge.end)))
        yield trips(
            Severity.FAULT,
            [*_loops(board, ring.way), *(thing(board, name) for name in names)],
            f"The sound can go round: {in_words(ring.way)}. It can howl by itself.",
            "Take out the lead that closes the ring; or say `feedback: intended` on its entry, if you mean it.",
            at=lead_of(ring.way, thing(board, names[0]).path),
            witness=ring.state.words or None,
        )
    if not board.signal.rings:
        yield clear(*(thing(board, amp) for amp in board.signal.amps[:1]))


def _loops(board: Board, way: Sequence[Edge]) -> Iterator[Thing]:
    """The loops by whose returns the ring comes in: where leads are crossed, that has been said already."""
    for edge in way:
        switcher = board.spec.switchers.get(edge.end.thing)
        for key in (switcher.loops or {}) if switcher and edge.start.thing != edge.end.thing else ():
            if edge.end.jack == return_jack(key):
                yield Thing(f"{edge.end.thing} loop {key}", ("switchers", edge.end.thing, "loops", key))
