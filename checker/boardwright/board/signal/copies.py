"""Copies of one sound that part and meet again: how far apart in time they arrive, and whether the same way up.

Where a signal parts, its copies go their ways; where they meet, in a mixer or in the air between two amplifiers, they
cancel what does not fit. What lies ahead of the parting is common to all copies and left out, so that only the ways
between parting and meeting are followed.

First all ways are followed with every guard left out, which is quick and mostly shows that nothing can clash. Only where
it shows a clash, the ways are followed again with the set of states for each (delay, polarity).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from functools import cached_property
from heapq import heappop, heappush
from itertools import combinations
from typing import TYPE_CHECKING, NamedTuple

from boardwright import limits
from boardwright.board.signal.diagrams import ALWAYS, NEVER, Diagram, TooManyStates
from boardwright.board.signal.graph import Edge, Node, stated_gain
from boardwright.board.signal.switches import State, SwitchKind

if TYPE_CHECKING:
    from boardwright.board.signal.signal import Signal

TICK = 10e-6
"""Delays are counted in hundredths of a millisecond."""


_TWO = "two switches"
"""Stands for more than one switch, where one is looked for. No switch has this id, since ids of things have no blank."""
_TRIES = 300
"""How many pairs of simple ways are tried before all states are looked at."""
_FEW_SWITCHES = 16
"""Up to here all states are looked at straight away."""


class Key(NamedTuple):
    """What tells copies apart."""

    ticks: int
    sign: int


AT_ONCE = Key(0, 1)
Table = dict[Key, Diagram]


@dataclass(frozen=True, slots=True, eq=False)
class Parting:
    """Where one sound leaves by several ways at once: a point, or an effect with several outputs."""

    node: Node
    firsts: tuple[Edge, ...]
    """The edges that it leaves by."""
    effect: str | None = None
    """The box whose own sound it is, if it begins there."""


@dataclass(frozen=True, slots=True, eq=False)
class Meeting:
    """Two ways out of one parting that come together, in a node or in the air."""

    parting: Parting
    firsts: tuple[Edge, Edge]
    ends: tuple[Node, Node]
    """One node twice where they are added in a box; two amplifiers' nodes where they meet in the air."""
    met_before: bool = False
    """Whether all ways to both amplifiers go through one node, so that the copies have met, and clashed, already."""

    @property
    def in_air(self) -> bool:
        return self.ends[0] != self.ends[1]


@dataclass(frozen=True, slots=True, eq=False)
class Clash:
    """Two copies that do not fit, in a state in which both sound."""

    meeting: Meeting
    apart: float
    """Seconds between them."""
    opposed: bool
    """Whether one is upside down."""
    states: Diagram
    state: State
    ways: tuple[tuple[Edge, ...], tuple[Edge, ...]]
    """From the parting to the meeting."""
    level_gap: float
    """How much (dB) one is louder than the other at least, by the gains that are stated."""


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
    _doubtful: dict[tuple[Meeting, str], dict[str, Diagram]] = field(default_factory=dict)
    _flows: dict[Edge, dict[Node, Diagram]] = field(default_factory=dict)
    _flows_back: dict[Node, dict[Node, Diagram]] = field(default_factory=dict)

    # --- where copies part and meet ---------------------------------------------------------------------------------

    @cached_property
    def partings(self) -> list[Parting]:
        """In signal order."""
        graph, found = self.signal.graph, []
        for node in sorted(graph.order, key=graph.order.__getitem__):
            onward = [edge for edge in graph.leaving[node] if edge.copies]
            if len(onward) > 1 and any(self._together(a, b) for a, b in combinations(onward, 2)):
                found.append(Parting(node, tuple(onward)))
        for name in self.signal.stages:
            effects = self.signal.effect_edges(name)
            own = [edge for edge in effects if not edge.copies]
            outs = {edge.end: edge for edge in reversed(effects)}
            if own and len(outs) > 1:
                found.append(Parting(own[0].start, tuple(outs.values()), name))
        for name in self.signal.sources:  # a stereo instrument leaves by two jacks
            starts = self.signal.starts(name)
            firsts = [edge for start in starts for edge in graph.leaving[start]]
            if len(starts) > 1:
                found.append(Parting(starts[0], tuple(firsts)))
        return found

    @cached_property
    def meetings(self) -> list[Meeting]:
        """Every two ways out of a parting that can come together, guards left out."""
        graph = self.signal.graph
        amps = [self.signal.heard(amp) for amp in self.signal.amps]
        joins = {node for node in graph.nodes if self._adds(node)}
        found = []
        for parting in self.partings:
            ahead = {edge: graph.ahead([edge.end], _copies) for edge in parting.firsts}
            for one, other in combinations(parting.firsts, 2):
                if not self._together(one, other):
                    continue
                if one.end == other.end and parting.effect is None:
                    continue
                common = ahead[one] & ahead[other]
                found += [Meeting(parting, (one, other), (node, node)) for node in common & joins if self._can_add(node, ahead[one], ahead[other], one, other)]
                for a in amps:
                    for b in amps:
                        if a != b and a in ahead[one] and b in ahead[other]:
                            met = self._met_before((one, other), (a, b), common & joins)
                            found.append(Meeting(parting, (one, other), (a, b), met))
        return found

    def _met_before(self, firsts: tuple[Edge, Edge], ends: tuple[Node, Node], joins: set[Node]) -> bool:
        graph = self.signal.graph
        for join in joins:
            around = [graph.ahead([first.end], lambda edge: edge.copies and edge.end != join) for first in firsts]
            if all(first.end == join or end not in seen for first, end, seen in zip(firsts, ends, around, strict=True)):
                return True
        return False

    def _adds(self, node: Node) -> bool:
        """Whether sounds from several edges can come together there at once."""
        arriving = [edge for edge in self.signal.graph.arriving[node] if edge.copies]
        return len(arriving) > 1 and any(self._together(a, b) for a, b in combinations(arriving, 2))

    def _together(self, a: Edge, b: Edge) -> bool:
        """Whether both can conduct at once."""
        if not a.guard or not b.guard:
            return True
        return self.signal.switches.can_be(self.signal.diagrams.both(self.signal.guard(a), self.signal.guard(b)))

    def _can_add(self, node: Node, ahead: set[Node], other: set[Node], first: Edge, second: Edge) -> bool:
        """Whether one way can arrive there by another edge than the other way does."""
        arriving = [edge for edge in self.signal.graph.arriving[node] if edge.copies]
        return any(
            a is not b and self._together(a, b) and (a.start in ahead or a is first) and (b.start in other or b is second)
            for a in arriving for b in arriving
        )  # fmt: skip

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
            ends, "latency", _time_only, lambda a, b, meeting: abs(a.ticks - b.ticks) * TICK > (in_air if meeting.in_air else electrical) - TICK / 2
        )

    def opposed(self, within: float, ends: Iterable[Node] | None = None) -> Iterator[Clash]:
        """Copies that meet upside down to each other, at most ``within`` (s) apart; one clash for each parting and the same ends.

        Boxes whose polarity is not known are left out: see ``doubts``. An inexact latency counts with its middle.

        Raises: TooManyStates.
        """
        yield from self._clashes(
            ends, "polarity", _time_and_sign, lambda a, b, meeting: a.sign != b.sign and abs(a.ticks - b.ticks) * TICK < within
        )

    def _clashes(
        self, ends: Iterable[Node] | None, what: str, key: Callable[[Edge], Key], clash: Callable[[Key, Key, Meeting], bool]
    ) -> Iterator[Clash]:
        said: set[tuple[Parting, frozenset[Node]]] = set()
        for meeting in self._wanted(ends):
            mark = (meeting.parting, frozenset(meeting.ends))
            if mark not in said:
                found = self._clash(meeting, self._counts(meeting, what), key, lambda a, b, meeting=meeting: clash(a, b, meeting))
                if found is not None:
                    said.add(mark)
                    yield found

    def _counts(self, meeting: Meeting, what: str) -> Callable[[Edge], bool]:
        """Which edges are followed: not through boxes on one way only of which the thing is not known.

        What is not known of a box that both copies go through is common to both, and cancels.
        """
        known, doubtful = _KNOWN[what], self._doubted(meeting, what)
        return lambda edge: known(edge) or edge.stage is None or edge.stage.name not in doubtful

    def _wanted(self, ends: Iterable[Node] | None) -> list[Meeting]:
        if ends is None:
            return [meeting for meeting in self.meetings if not meeting.met_before]
        wanted = set(ends)
        return [meeting for meeting in self.meetings if meeting.in_air and set(meeting.ends) <= wanted]

    def _clash(
        self, meeting: Meeting, counts: Callable[[Edge], bool], key: Callable[[Edge], Key], clash: Callable[[Key, Key], bool]
    ) -> Clash | None:
        """A clash in one meeting. Looked for among simple ways; then ruled out with no guards at all; then in all states."""
        if not all(counts(first) or meeting.parting.effect for first in meeting.firsts):
            return None
        counted = self._counted(meeting)
        if counted == NEVER:
            return None
        key = _without(key, self._common(meeting, counts, key))
        found = self._simple_clash(meeting, counts, key, clash, counted)
        if found is not None or not self._may_clash(meeting, counts, key, clash):
            return found
        for edge in self.signal.graph.edges:
            self.signal.guard(edge)  # what is worked out inside an attempt must not be kept
        with self.signal.diagrams.attempt():
            if len(self.signal.switches.ordered) > _FEW_SWITCHES:
                few = self.signal.diagrams.both(self.signal.switches.few_on(2), counted)
                found = self._clash_within(meeting, counts, key, clash, few)
            return found or self._clash_within(meeting, counts, key, clash, counted)

    def _may_clash(
        self, meeting: Meeting, counts: Callable[[Edge], bool], key: Callable[[Edge], Key], clash: Callable[[Key, Key], bool]
    ) -> bool:
        """Whether copies might clash if no switch forbade it."""
        try:
            may = [self._arrivals(meeting, which, counts, key) for which in (0, 1)]
        except TooManyStates:
            return True
        return any(clash(a, b) for _, one in may[0] for _, other in may[1] for a in one for b in other)

    def _simple_clash(
        self, meeting: Meeting, counts: Callable[[Edge], bool], key: Callable[[Edge], Key], clash: Callable[[Key, Key], bool], within: Diagram
    ) -> Clash | None:
        """A clash that at most one switch on each way brings about: most do, and it is the one to tell a player about.

        Does not find every one of them, since it keeps one way of several alike.
        """
        one, other = (self._simple_ways(meeting, which, counts, key) for which in (0, 1))
        fed = [self.signal.reach().get(first.start, NEVER) for first in meeting.firsts]
        within = self.signal.diagrams.all_of([within, *fed])
        pairs = sorted(
            (
                (len({a_on, b_on} - {None}), -abs(a.ticks - b.ticks), place, way, way_2)
                for place, ((a, a_on, way), (b, b_on, way_2)) in enumerate((x, y) for x in one for y in other)
                if clash(a, b) and (meeting.in_air or way[-1] is not way_2[-1])
            ),
            key=lambda pair: pair[:3],
        )  # fmt: skip
        for _, _, _, way, way_2 in pairs[:_TRIES]:
            guards = [literal for edge in (*way, *way_2) for literal in edge.guard]
            states = self.signal.diagrams.both(within, self.signal.switches.cube(guards))
            if states != NEVER:
                return self._describe(meeting, states, (way, way_2), key)
        return None

    def _simple_ways(
        self, meeting: Meeting, which: int, counts: Callable[[Edge], bool], key: Callable[[Edge], Key]
    ) -> list[tuple[Key, str | None, tuple[Edge, ...]]]:
        """Ways on which at most one switch is on: what they do, that switch, and the way; one of several alike."""
        first, end = meeting.firsts[which], meeting.ends[which]
        graph, order = self.signal.graph, self.signal.graph.order
        behind = graph.behind([end], _copies)
        horizon = int(limits.DELAY_HORIZON.value / TICK)
        begin_key = AT_ONCE if meeting.parting.effect else key(first)
        begins = [switch for switch in [self._switch_on(first, None)] if switch is not _TWO]
        came: dict[tuple[Node, Key, str | None], tuple[tuple[Node, Key, str | None] | None, Edge]] = {}
        work: list[tuple[int, int, tuple[Node, Key, str | None]]] = []
        for switch in begins:
            came[first.end, begin_key, switch] = (None, first)
            work.append((order[first.end], 0, (first.end, begin_key, switch)))
        found = []
        while work and len(came) < limits.ROUTE_STEPS.value:
            _, _, here = heappop(work)
            node, known, switch = here
            if node == end:
                found.append((known, switch, _way_back(came, here)))
                continue
            for edge in graph.leaving[node]:
                if not edge.copies or edge.end not in behind or not counts(edge):
                    continue
                now, step = self._switch_on(edge, switch), key(edge)
                there = (edge.end, Key(known.ticks + step.ticks, known.sign * step.sign), now)
                if now is not _TWO and there[1].ticks <= horizon and (there not in came or (edge.end == end and not meeting.in_air)):
                    if there in came:  # another edge into the same join: a way of its own
                        found.append((there[1], now, (*_way_back(came, here), edge)))
                        continue
                    came[there] = (here, edge)
                    heappush(work, (order[edge.end], len(came), there))
        return found

    def _switch_on(self, edge: Edge, switch: str | None) -> str | None:
        """The one switch that is on, after this edge too; ``_TWO`` if that makes two."""
        for id_, is_on in edge.guard:
            if is_on and id_ != switch and self.signal.switches[id_].kind is not SwitchKind.SELECT:
                if switch is not None:
                    return _TWO
                switch = id_
        return switch

    def _clash_within(
        self, meeting: Meeting, counts: Callable[[Edge], bool], key: Callable[[Edge], Key], clash: Callable[[Key, Key], bool], within: Diagram
    ) -> Clash | None:
        """The widest clash in some states, if there is one."""
        both = self.signal.diagrams.both
        arrivals = [self._arrivals(meeting, which, counts, key, within) for which in (0, 1)]
        pairs = sorted(
            (
                (-abs(a.ticks - b.ticks), place, a, b, one[a], other[b])
                for place, ((edge, one), (edge_2, other)) in enumerate((x, y) for x in arrivals[0] for y in arrivals[1])
                if edge is not edge_2
                for a in one for b in other if clash(a, b)
            ),
            key=lambda pair: pair[:2],
        )  # fmt: skip
        for _, _, a, b, one_states, other_states in pairs:
            states = both(one_states, other_states)
            if states != NEVER:
                state = self.signal.switches.witness(states)
                ways = [self._way(meeting, which, wanted, state, counts, key) for which, wanted in enumerate((a, b))]
                return self._describe(meeting, states, (ways[0], ways[1]), key)
        return None

    def _counted(self, meeting: Meeting) -> Diagram:
        """Possible states in which what meets there is heard at all."""
        onward = ALWAYS if meeting.in_air else self.signal.heard_from.get(meeting.ends[0], NEVER)
        return self.signal.diagrams.both(onward, self.signal.switches.possible)

    def _describe(self, meeting: Meeting, states: Diagram, ways: tuple[tuple[Edge, ...], tuple[Edge, ...]], key: Callable[[Edge], Key]) -> Clash:
        state = self.signal.switches.witness(states)
        assert state is not None
        counted = [way[1:] if meeting.parting.effect else way for way in ways]
        ticks = [sum(key(edge).ticks for edge in way) for way in counted]
        signs = [sum(key(edge).sign < 0 for edge in way) % 2 for way in counted]
        low = [sum(stated_gain(edge)[0] for edge in way) for way in ways]
        high = [sum(stated_gain(edge)[1] for edge in way) for way in ways]
        gap = max(0.0, low[0] - high[1], low[1] - high[0])
        return Clash(meeting, abs(ticks[0] - ticks[1]) * TICK, signs[0] != signs[1], states, state, ways, gap)

    def _arrivals(
        self, meeting: Meeting, which: int, counts: Callable[[Edge], bool], key: Callable[[Edge], Key], within: Diagram | None = None
    ) -> list[tuple[Edge | None, Table]]:
        """What arrives at one end by one of the first edges: for each edge into a join, or for the amplifier as a whole.

        Args:
            within: the states that are looked at; without it, all guards are left out, which is quick.
        """
        exact = within is not None
        first, end = meeting.firsts[which], meeting.ends[which]
        graph, signal = self.signal.graph, self.signal
        behind = graph.behind([end], _copies)
        begin = AT_ONCE if meeting.parting.effect else key(first)
        guard = ALWAYS if within is None else signal.diagrams.all_of([within, signal.reach().get(first.start, NEVER), signal.guard(first)])
        tables: dict[Node, Table] = {first.end: {begin: guard}}
        horizon = int(limits.DELAY_HORIZON.value / TICK)
        order, both, either = graph.order, signal.diagrams.both, signal.diagrams.either
        work, waiting = [(order[first.end], first.end)], {first.end}
        steps = 0
        while work:
            _, node = heappop(work)
            waiting.discard(node)
            for edge in graph.leaving[node]:
                if not edge.copies or edge.end not in behind or not counts(edge):
                    continue
                table, step, grown = tables.setdefault(edge.end, {}), key(edge), False
                edge_guard = signal.guard(edge) if exact else ALWAYS
                for known, states in tables[node].items():
                    there = Key(known.ticks + step.ticks, known.sign * step.sign)
                    if there.ticks > horizon:
                        continue
                    before = table.get(there, NEVER)
                    now = either(before, both(states, edge_guard)) if exact else ALWAYS
                    if now != before:
                        table[there], grown = now, True
                steps += len(tables[node])
                if steps > limits.ROUTE_STEPS.value:
                    raise TooManyStates
                if grown and edge.end not in waiting:
                    waiting.add(edge.end)
                    heappush(work, (order[edge.end], edge.end))
        if meeting.in_air:
            return [(None if which else first, tables.get(end, {}))]
        return [(edge, self._by_edge(tables, edge, first, begin, guard, key, exact)) for edge in graph.arriving[end] if edge.copies and (edge is first or counts(edge))]

    def _by_edge(self, tables: dict[Node, Table], edge: Edge, first: Edge, begin: Key, guard: Diagram, key: Callable[[Edge], Key], exact: bool) -> Table:
        """What arrives by one edge."""
        if edge is first:
            return {begin: guard}
        step = key(edge)
        both, edge_guard = self.signal.diagrams.both, self.signal.guard(edge) if exact else ALWAYS
        found = {
            Key(known.ticks + step.ticks, known.sign * step.sign): both(states, edge_guard) for known, states in tables.get(edge.start, {}).items()
        }
        return {there: states for there, states in found.items() if states != NEVER}

    def _way(
        self, meeting: Meeting, which: int, wanted: Key, state: State, counts: Callable[[Edge], bool], key: Callable[[Edge], Key]
    ) -> tuple[Edge, ...]:
        """A way with just this delay and polarity, in one state."""
        first, end = meeting.firsts[which], meeting.ends[which]
        conducts = self.signal.conducts(self.signal.switches.complete(state))
        begin = (first.end, AT_ONCE if meeting.parting.effect else key(first))
        came: dict[tuple[Node, Key], tuple[tuple[Node, Key], Edge] | None] = {begin: None}
        layer = [begin]
        while layer and (end, wanted) not in came:
            following = []
            for node, known in layer:
                for edge in self.signal.graph.leaving[node]:
                    step = key(edge)
                    there = (edge.end, Key(known.ticks + step.ticks, known.sign * step.sign))
                    if edge.copies and counts(edge) and conducts(edge) and there not in came and there[1].ticks <= limits.DELAY_HORIZON.value / TICK:
                        came[there] = ((node, known), edge)
                        following.append(there)
            layer = following
        way: list[Edge] = []
        here: tuple[Node, Key] = (end, wanted)
        while (back := came.get(here)) is not None:
            here, edge = back
            way.append(edge)
        return (first, *reversed(way))

    def spread(self, ends: Iterable[Node]) -> float:
        """The most (s) that copies may be apart between amplifiers, guards left out. Quick, and never too small.

        Boxes of unknown latency on one way only are left out: see ``doubts``.
        """
        widest = 0
        for meeting in self._wanted(ends):
            counts = self._counts(meeting, "latency")
            common = self._common(meeting, counts, _time_only)
            key = _without(_time_only, common)
            one, other = (self._arrivals(meeting, which, counts, key) for which in (0, 1))
            for a in (key.ticks for _, table in one for key in table):
                widest = max([widest, *(abs(a - key.ticks) for _, table in other for key in table)])
        return widest * TICK

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
        sides: list[dict[str, None]] = [{}, {}]
        for boxes, first, end in zip(sides, meeting.firsts, meeting.ends, strict=True):
            behind = graph.behind([end], _copies)
            for node in graph.ahead([first.end], _copies) & behind:
                for edge in graph.leaving[node]:
                    if edge.end in behind and edge.copies and edge.stage is not None and wanted(edge):
                        boxes[edge.stage.name] = None
            if meeting.parting.effect is None and first.stage is not None and wanted(first):
                boxes[first.stage.name] = None
        names = sides[0].keys() & sides[1].keys() if shared else sides[0].keys() | sides[1].keys()
        return {name: frozenset(edge for edge in self.signal.edges_of[name] if edge.copies and wanted(edge)) for name in sorted(names)}

    def _common(self, meeting: Meeting, counts: Callable[[Edge], bool], key: Callable[[Edge], Key]) -> set[str]:
        """Boxes that do the same to both copies in every state, as a stereo pair of one box does: they cancel."""
        common = set()
        for name, edges in self._boxes_between(meeting, lambda edge: counts(edge) and key(edge) != AT_ONCE, shared=True).items():
            once = not any(other.start in self.signal.graph.ahead([edge.end], _copies) for edge in edges for other in edges)
            alike = (frozenset(edge for edge in edges if key(edge) == wanted) for wanted in {key(edge) for edge in edges})
            if once and all(not self.signal.switches.can_be(self._on_one_way_only(meeting, same)) for same in alike):
                common.add(name)
        return common

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
        begin = {first.end: self._begin(first)}
        return self.signal.spread(begin, along=lambda edge: edge.copies and edge not in edges).get(end, NEVER)

    def _begin(self, first: Edge) -> Diagram:
        """States in which sound leaves a parting by an edge."""
        return self.signal.diagrams.both(self.signal.reach().get(first.start, NEVER), self.signal.guard(first))

    def _flow(self, first: Edge) -> dict[Node, Diagram]:
        """States in which a copy gets to each node by one of the first edges."""
        if first not in self._flows:
            self._flows[first] = self.signal.spread({first.end: self._begin(first)}, along=_copies)
        return self._flows[first]

    def _flow_back(self, end: Node) -> dict[Node, Diagram]:
        if end not in self._flows_back:
            self._flows_back[end] = self.signal.spread({end: ALWAYS}, backwards=True, along=_copies)
        return self._flows_back[end]


def _way_back(came: dict, here: tuple[Node, Key, str | None]) -> tuple[Edge, ...]:
    """The way that led to an entry."""
    way: list[Edge] = []
    at: tuple[Node, Key, str | None] | None = here
    while at is not None:
        at, edge = came[at]
        way.append(edge)
    return tuple(reversed(way))


def _copies(edge: Edge) -> bool:
    return edge.copies


def _exact_time(edge: Edge) -> bool:
    low, high = edge.latency.low, edge.latency.high
    return low is not None and high is not None and high - low < 0.1e-3


def _exact_sign(edge: Edge) -> bool:
    return edge.polarity is not None


_KNOWN = {"latency": _exact_time, "polarity": _exact_sign}


def _time_only(edge: Edge) -> Key:
    return Key(_ticks(edge), 1)


def _time_and_sign(edge: Edge) -> Key:
    return Key(_ticks(edge), edge.polarity or 1)


def _without(key: Callable[[Edge], Key], boxes: set[str]) -> Callable[[Edge], Key]:
    """The same, with what some boxes do left out."""
    return lambda edge: AT_ONCE if edge.stage is not None and edge.stage.name in boxes else key(edge)


def _ticks(edge: Edge) -> int:
    low, high = edge.latency.low or 0.0, edge.latency.high or 0.0
    return round((low + high) / 2 / TICK)
