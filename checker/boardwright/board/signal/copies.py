"""Copies of one sound that part and meet again: how far apart in time they arrive, and whether the same way up.

Where a signal parts, its copies go their ways; where they meet, in a mixer or in the air between two amplifiers, they
cancel what does not fit. What lies ahead of the parting is common to all copies and left out, so that only the ways
between parting and meeting are followed; what both copies go through alike, as through the two channels of one box,
cancels too.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from boardwright.board.signal.clashes import AT_ONCE, TICK, Clash, Key, Patience, Search
from boardwright.board.signal.diagrams import ALWAYS, NEVER, Diagram
from boardwright.board.signal.graph import Edge, Node, copies
from boardwright.board.signal.meetings import Meeting, Parting, find_meetings, find_partings
from boardwright.board.signal.switches import State

if TYPE_CHECKING:
    from boardwright.board.signal.signal import Signal

__all__ = ["Clash", "Copies", "Doubt", "Meeting", "Parting"]


@dataclass(frozen=True, slots=True, eq=False)
class Doubt:
    """A box on one way and not on the other, of which it is not known how it changes the copy."""

    thing: str
    meeting: Meeting
    state: State


@dataclass(eq=False)
class Copies:
    """All partings and meetings of one board."""

    signal: Signal
    patience: Patience = field(default_factory=Patience)
    _doubtful: dict[tuple[Meeting, str], dict[str, Diagram]] = field(default_factory=dict)
    _alike: dict[tuple[Meeting, str], set[str]] = field(default_factory=dict)
    _flows: dict[Edge, dict[Node, Diagram]] = field(default_factory=dict)
    _flows_back: dict[Node, dict[Node, Diagram]] = field(default_factory=dict)

    @cached_property
    def partings(self) -> list[Parting]:
        """Where one sound leaves by several ways at once, in signal order."""
        return list(find_partings(self.signal))

    @cached_property
    def meetings(self) -> list[Meeting]:
        """Every two ways out of a parting that can come together, guards left out."""
        return list(find_meetings(self.signal, self.partings))

    # --- clashes ----------------------------------------------------------------------------------------------------

    def apart(self, electrical: float, in_air: float, ends: Iterable[Node] | None = None) -> Iterator[Clash]:
        """Copies that meet too far apart in time, one clash for each parting and the same ends: one that takes few switches.

        Args:
            electrical: what counts as apart where they are added in a box (s).
            in_air: what counts as apart between two amplifiers (s).
            ends: only these amplifiers, and then all copies that get to them; without it, every meeting, but not again
                those copies that have met ahead of both amplifiers.

        Ways through boxes whose latency is not known exactly are left out: see ``doubts``.

        Raises: TooManyStates.
        """
        yield from self._clashes(
            ends, "latency", lambda a, b, meeting: abs(a.ticks - b.ticks) * TICK > (in_air if meeting.in_air else electrical) - TICK / 2
        )

    def opposed(self, within: float, ends: Iterable[Node] | None = None) -> Iterator[Clash]:
        """Copies that meet upside down to each other, at most ``within`` (s) apart; one clash for each parting and the same ends.

        Boxes whose polarity is not known are left out: see ``doubts``. An inexact latency counts with its middle.

        Raises: TooManyStates.
        """
        yield from self._clashes(ends, "polarity", lambda a, b, meeting: a.sign != b.sign and abs(a.ticks - b.ticks) * TICK < within)

    def spread(self, ends: Iterable[Node]) -> float:
        """The most (s) that copies may be apart between amplifiers, guards left out. Quick, and never too small.

        Boxes of unknown latency on one way only are left out: see ``doubts``.
        """
        searches = (self._search(meeting, "latency", lambda a, b, meeting: False) for meeting in self._wanted(ends))
        return max((search.spread() for search in searches), default=0) * TICK

    def _clashes(self, ends: Iterable[Node] | None, what: str, clash: Callable[[Key, Key, Meeting], bool]) -> Iterator[Clash]:
        said: set[tuple[Parting, frozenset[Node]]] = set()
        for meeting in self._wanted(ends):
            mark = (meeting.parting, frozenset(meeting.ends))
            if mark not in said and (what != "polarity" or self._turns_over(meeting)):
                found = self._search(meeting, what, clash).find()
                if found is not None:
                    said.add(mark)
                    yield found

    def _wanted(self, ends: Iterable[Node] | None) -> list[Meeting]:
        if ends is None:
            return [meeting for meeting in self.meetings if not meeting.met_before]
        wanted = set(ends)
        return [meeting for meeting in self.meetings if meeting.in_air and set(meeting.ends) <= wanted]

    def _turns_over(self, meeting: Meeting) -> bool:
        """Whether anything on the ways of a meeting turns the sound over at all."""
        return bool(self._boxes_between(meeting, lambda edge: edge.polarity == -1))

    def _search(self, meeting: Meeting, what: str, clash: Callable[[Key, Key, Meeting], bool]) -> Search:
        counts, key_of, alike = self._counts(meeting, what), _KEYS[what], self._passed_alike(meeting, what)
        return Search(
            self.signal,
            meeting,
            counts,
            lambda edge: AT_ONCE if edge.stage is not None and edge.stage.name in alike else key_of(edge),
            lambda a, b: clash(a, b, meeting),
            self._counted(meeting),
            self.patience,
        )

    def _counts(self, meeting: Meeting, what: str) -> Callable[[Edge], bool]:
        """Which edges are followed: not through boxes on one way only of which the thing is not known.

        What is not known of a box that both copies go through is common to both, and cancels.
        """
        known, doubtful = _KNOWN[what], self._doubted(meeting, what)
        return lambda edge: known(edge) or edge.stage is None or edge.stage.name not in doubtful

    def _counted(self, meeting: Meeting) -> Diagram:
        """Possible states in which what meets there is heard at all."""
        onward = ALWAYS if meeting.in_air else self.signal.heard_from.get(meeting.ends[0], NEVER)
        return self.signal.diagrams.both(onward, self.signal.switches.possible)

    def _passed_alike(self, meeting: Meeting, what: str) -> set[str]:
        """Boxes that do the same to both copies in every state, as a stereo pair of one box does: they cancel."""
        if (meeting, what) not in self._alike:
            counts, key_of, alike = self._counts(meeting, what), _KEYS[what], set()
            for name, edges in self._boxes_between(meeting, lambda edge: counts(edge) and key_of(edge) != AT_ONCE, shared=True).items():
                once = not any(other.start in self.signal.graph.copied_ahead(edge.end) for edge in edges for other in edges)
                kinds = (frozenset(edge for edge in edges if key_of(edge) == key) for key in {key_of(edge) for edge in edges})
                if once and all(not self.signal.switches.can_be(self._on_one_way_only(meeting, same)) for same in kinds):
                    alike.add(name)
            self._alike[meeting, what] = alike
        return self._alike[meeting, what]

    # --- what is not known ------------------------------------------------------------------------------------------

    def doubts(self, what: str, ends: Iterable[Node] | None = None) -> list[Doubt]:
        """Boxes whose ``latency`` or ``polarity`` is not known, and which lie on one way of a meeting and not on the other.

        One doubt for each box and each pair of ends.
        """
        found = []
        said: set[tuple[str, frozenset[Node]]] = set()
        for meeting in self._wanted(ends):
            for thing, states in self._doubted(meeting, what).items():
                if (thing, frozenset(meeting.ends)) not in said:
                    said.add((thing, frozenset(meeting.ends)))
                    state = self.signal.switches.witness(states)
                    assert state is not None
                    found.append(Doubt(thing, meeting, state))
        return found

    def _doubted(self, meeting: Meeting, what: str) -> dict[str, Diagram]:
        """The boxes that a meeting is in doubt about, each with the states in which it matters."""
        if (meeting, what) not in self._doubtful:
            known, counted, found = _KNOWN[what], self._counted(meeting), {}
            for thing, edges in self._boxes_between(meeting, lambda edge: not known(edge)).items():
                states = self.signal.diagrams.both(counted, self._on_one_way_only(meeting, edges))
                if states != NEVER:
                    found[thing] = states
            self._doubtful[meeting, what] = found
        return self._doubtful[meeting, what]

    def _boxes_between(self, meeting: Meeting, wanted: Callable[[Edge], bool], shared: bool = False) -> dict[str, frozenset[Edge]]:
        """Boxes with wanted edges on any way of a meeting (or ``shared``: on ways of both copies), with all of those edges."""
        graph = self.signal.graph
        sides: list[set[str]] = [set(), set()]
        for boxes, first, end in zip(sides, meeting.firsts, meeting.ends, strict=True):
            behind = graph.copied_behind(end)
            for node in graph.copied_ahead(first.end) & behind:
                boxes |= {e.stage.name for e in graph.leaving[node] if e.stage is not None and e.copies and e.end in behind and wanted(e)}
            if meeting.parting.effect is None and first.stage is not None and wanted(first):
                boxes.add(first.stage.name)
        names = sides[0] & sides[1] if shared else sides[0] | sides[1]
        return {name: frozenset(edge for edge in self.signal.edges_of[name] if edge.copies and wanted(edge)) for name in sorted(names)}

    # --- one way and not the other ----------------------------------------------------------------------------------

    def _on_one_way_only(self, meeting: Meeting, edges: frozenset[Edge]) -> Diagram:
        """States in which one copy goes through one of ``edges`` and the other through none."""
        both, either = self.signal.diagrams.both, self.signal.diagrams.either
        states = NEVER
        for which in (0, 1):
            through = self._through(meeting, which, edges)
            if through != NEVER:
                states = either(states, both(through, self._around(meeting, 1 - which, edges)))
        return states

    def _through(self, meeting: Meeting, which: int, edges: frozenset[Edge]) -> Diagram:
        """States in which one copy arrives through one of ``edges``."""
        first, end = meeting.firsts[which], meeting.ends[which]
        whole, onward = self._flow(first), self._flow_back(end)
        both, guard = self.signal.diagrams.both, self.signal.guard
        states = [both(both(whole.get(edge.start, NEVER), guard(edge)), onward.get(edge.end, NEVER)) for edge in edges if edge is not first]
        if first in edges and meeting.parting.effect is None:
            states.append(both(self._begin(first), onward.get(first.end, NEVER)))
        return self.signal.diagrams.any_of(states)

    def _around(self, meeting: Meeting, which: int, edges: frozenset[Edge]) -> Diagram:
        """States in which one copy arrives through none of ``edges``."""
        first, end = meeting.firsts[which], meeting.ends[which]
        if first in edges and meeting.parting.effect is None:
            return NEVER
        whole, onward = self._flow(first), self._flow_back(end)
        if not any(edge.start in whole and edge.end in onward for edge in edges):
            return whole.get(end, NEVER)  # none of them lies on this side
        begin = {first.end: self._begin(first)}
        return self.signal.spread(begin, along=lambda edge: edge.copies and edge not in edges).get(end, NEVER)

    def _begin(self, first: Edge) -> Diagram:
        """States in which sound leaves a parting by an edge."""
        return self.signal.diagrams.both(self.signal.reach().get(first.start, NEVER), self.signal.guard(first))

    def _flow(self, first: Edge) -> dict[Node, Diagram]:
        """States in which a copy gets to each node by one of the first edges."""
        if first not in self._flows:
            self._flows[first] = self.signal.spread({first.end: self._begin(first)}, along=copies)
        return self._flows[first]

    def _flow_back(self, end: Node) -> dict[Node, Diagram]:
        if end not in self._flows_back:
            self._flows_back[end] = self.signal.spread({end: ALWAYS}, backwards=True, along=copies)
        return self._flows_back[end]


_EXACT = 0.1e-3
"""A latency whose range (s) is narrower than this counts as known."""


def _exact_time(edge: Edge) -> bool:
    low, high = edge.latency.low, edge.latency.high
    return low is not None and high is not None and high - low < _EXACT


def _exact_sign(edge: Edge) -> bool:
    return edge.polarity is not None


def _time_only(edge: Edge) -> Key:
    return Key(_ticks(edge), 1)


def _time_and_sign(edge: Edge) -> Key:
    return Key(_ticks(edge), edge.polarity or 1)


def _ticks(edge: Edge) -> int:
    low, high = edge.latency.low or 0.0, edge.latency.high or 0.0
    return round((low + high) / 2 / TICK)


_KNOWN = {"latency": _exact_time, "polarity": _exact_sign}
_KEYS = {"latency": _time_only, "polarity": _time_and_sign}
