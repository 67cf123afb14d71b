"""Copies of one sound meet at different times.

## What it finds
Two ways that part and meet again, one of them later than the other: in a mixer, or in the air between two amplifiers.

## Why it matters
Mix a sound with a slightly late copy, and some notes cancel: one millisecond late kills 500 Hz, 1500 Hz, 2500 Hz and on.
The result is hollow, like talking in a tube.

## How it decides
It follows both copies from where they part, in every state in which both sound, and compares how late the boxes on each
way are. In a box, {{ limit comb-electrical }} apart trips; between two amplifiers {{ limit comb-air }}, which is 34 cm of
air. Copies of which one is at least {{ limit comb-level }} quieter do no harm, and ways through a box that gives the
effect alone are no copies. More than {{ limit comb-effect }} apart is heard as an echo and taken as meant. A digital box
of unknown latency on one way only is asked about.

## How to mend it
Put the digital box before the split, set it to wet only, or delay the other way by as much.

## Source
Physics: the comb filter of two equal copies has its first notch at 1/(2 Δt).
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.rules.registry import rule
from boardwright.rules.signal._copies import Ends, clear_meetings, ends_of, meeting_in_words, told_once, ways_in_words
from boardwright.rules.signal._sound import lead_of, thing
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, limit, number, trips
from boardwright.spec.figure import figure, tell


@rule(Severity.RISK, lesson="two-paths", explained_by=("dry-doubled-through-wet-path",))
def parallel_latency_comb(board: Board) -> Iterator[Judgement]:
    copies = board.signal.copies
    said: set[Ends] = set()
    apart = copies.apart(limits.COMB_ELECTRICAL.value, limits.COMB_AIR.value)
    heard = (clash for clash in apart if clash.level_gap < limits.COMB_LEVEL.value and clash.apart <= limits.COMB_EFFECT.value)
    for clash in told_once(heard, said):
        late = [edge.stage.name for way in clash.ways for edge in way if edge.stage is not None and (edge.latency.high or 0) > 0]
        about = [thing(board, name) for name in dict.fromkeys([*late, *ends_of(clash)])]
        first = f" The first note to vanish is {tell(1 / (2 * clash.apart), 'Hz')}." if not clash.meeting.in_air else ""
        yield trips(
            Severity.RISK,
            about,
            f"Two copies of one sound meet {meeting_in_words(clash)}, {tell(clash.apart, 's')} apart: {ways_in_words(clash)}.{first} The sound turns hollow.",
            "Put what is late before the split, set it to wet only, or delay the other way by as much.",
            [
                number("apart", figure(clash.apart, "s")),
                limit("hollow from", limits.COMB_AIR if clash.meeting.in_air else limits.COMB_ELECTRICAL),
            ],
            at=lead_of(clash.ways[0], about[0].path),
            witness=clash.state.words or None,
        )
    for doubt in copies.doubts("latency"):
        about = [thing(board, doubt.thing)]
        yield cannot_tell(
            Severity.RISK,
            about,
            f"How late is `{doubt.thing}`? It lies on one of two ways that meet. Every digital box delays a little, usually 1 to 3 ms: "
            "its manual says, or feed a click through both ways.",
        )
        said.add(doubt.meeting.ends)
    yield from clear_meetings(board, said)
