"""Copies of one sound meet upside down.

## What it finds
Two ways that part and meet again, one of which turns the sound over: in a mixer, or in two amplifiers that play the same.

## Why it matters
If one way pushes while the other pulls, they cancel: the bass vanishes when both are on, though each sounds fine alone.

## How it decides
It counts the inversions on each way, in every state in which both sound. A pedal that inverts only while it is engaged
makes it depend on the switches, and the state is given. Copies that are {{ limit comb-level }} apart in level, or
{{ limit polarity-time }} apart in time, do not cancel. A fault where they are added in a box, a risk in the air. Passive
isolators, selectors and splitters are taken to keep the sound the right way up.

## How to mend it
Turn one way over: with the switch of an isolator or splitter, or by swapping a loudspeaker's two wires at the speaker.

## Source
Physics.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.rules.registry import rule
from boardwright.rules.signal._copies import Ends, clear_meetings, ends_of, meeting_in_words, told_once, ways_in_words
from boardwright.rules.signal._sound import lead_of, thing
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, trips


@rule(Severity.FAULT, Severity.RISK, lesson="two-paths")
def parallel_polarity_opposed(board: Board) -> Iterator[Judgement]:
    copies = board.signal.copies
    said: set[Ends] = set()
    loud = (clash for clash in copies.opposed(limits.POLARITY_TIME.value) if clash.level_gap < limits.COMB_LEVEL.value)
    for clash in told_once(loud, said):
        turning = [edge.stage.name for way in clash.ways for edge in way if edge.stage is not None and edge.polarity == -1]
        about = [thing(board, name) for name in dict.fromkeys([*turning, *ends_of(clash)])]
        yield trips(
            Severity.RISK if clash.meeting.in_air else Severity.FAULT,
            about,
            f"Two copies of one sound meet {meeting_in_words(clash)}, one of them upside down: {ways_in_words(clash)}. They cancel, and the bass goes first.",
            "Turn one way over with the switch on an isolator or splitter, or move what inverts ahead of the split.",
            at=lead_of(clash.ways[0], about[0].path),
            witness=clash.state.words or None,
        )
    for doubt in copies.doubts("polarity"):
        if doubt.meeting.ends in said:
            continue
        severity = Severity.RISK if doubt.meeting.in_air else Severity.FAULT
        yield cannot_tell(
            severity,
            [thing(board, doubt.thing)],
            f"Does `{doubt.thing}` turn the sound over? It lies on one of two ways that meet. Play low notes with both on, turn one way "
            "over, and keep the position with more bass.",
        )
    yield from clear_meetings(board, said)
