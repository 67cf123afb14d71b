"""What the rules about copies of one sound have in common."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from boardwright.board.assemble import Board
from boardwright.board.signal import Node
from boardwright.board.signal.copies import Clash
from boardwright.rules.signal._sound import in_words, thing
from boardwright.rules.verdict import Judgement, clear

Ends = tuple[Node, Node]


def told_once(clashes: Iterable[Clash], said: set[Ends]) -> Iterator[Clash]:
    """Clashes without those whose copies came together already through an end of an earlier one. ``said`` gathers all ends."""
    told: set[Node] = set()
    for clash in clashes:
        said.add(clash.meeting.ends)
        one, other = ({edge.end for edge in way} for way in clash.ways)
        if not one & other & told:
            told.update(clash.meeting.ends)
            yield clash


def ends_of(clash: Clash) -> list[str]:
    """The things that two copies meet in, or between."""
    return list(dict.fromkeys(end.thing for end in clash.meeting.ends))


def meeting_in_words(clash: Clash) -> str:
    names = [f"`{end}`" for end in ends_of(clash)]
    return f"in the air between {' and '.join(names)}" if clash.meeting.in_air else f"in {names[0]}"


def ways_in_words(clash: Clash) -> str:
    return " and ".join(in_words(way) for way in clash.ways)


def clear_meetings(board: Board, said: set[Ends]) -> Iterator[Judgement]:
    """Every pair of ends at which copies can meet and of which nothing was said."""
    for ends in dict.fromkeys(meeting.ends for meeting in board.signal.copies.meetings):
        if ends not in said:
            yield clear(*(thing(board, end.thing) for end in dict.fromkeys(ends)))
