"""The search for two copies that clash where they meet.

Three steps, of which the first that answers is enough. Simple ways, on which at most one switch is on: most clashes are found
there, and they are the ones to tell a player about. All ways with every guard left out: if nothing clashes so, nothing ever
does. All states: for each (delay, polarity) the set of states in which a copy arrives with it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cached_property
from heapq import heappop, heappush
from typing import TYPE_CHECKING, NamedTuple

from boardwright import limits
from boardwright.board.signal.diagrams import ALWAYS, NEVER, Diagram, TooManyStates, TooManyWays
from boardwright.board.signal.graph import Edge, Node, stated_gain
from boardwright.board.signal.meetings import Meeting
from boardwright.board.signal.switches import State, SwitchKind

if TYPE_CHECKING:
    from boardwright.board.signal.signal import Signal

TICK = 10e-6
"""Delays are counted in hundredths of a millisecond."""
HORIZON = round(limits.DELAY_HORIZON.value / TICK)

_TRIES = 300
"""How many pairs of simple ways are tried before all states are looked at."""
_FEW_SWITCHES = 16
"""Up to here all states are looked at straight away."""
_TWO = "two switches"
"""Stands for more than one switch, where one is looked for. No switch has this id."""


class Key(NamedTuple):
    """What tells copies apart."""

    ticks: int
    sign: int

    def then(self, edge: Key) -> Key:
        return Key(self.ticks + edge.ticks, self.sign * edge.sign)


AT_ONCE = Key(0, 1)
Table = dict[Key, Diagram]
Way = tuple[Edge, ...]


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
    ways: tuple[Way, Way]
    """From the parting to the meeting."""
    level_gap: float
    """How much (dB) one is louder than the other at least, by the gains that are stated."""


class _Simple(NamedTuple):
    """A copy on a way on which at most one switch is on."""

    node: Node
    key: Key
    switch: str | None


@dataclass(eq=False)
class Patience:
    """How far copies are followed on one board: all its meetings, and all that is asked about them, draw on the same."""

    left: int = field(default_factory=lambda: int(limits.ROUTE_STEPS.value))
    """Steps that may still be made: an edge looked at, or a copy led over one."""
    attempts: int = 2
    """How often sets of states may still get too big before none is tried any more."""

    def follow(self, steps: int) -> None:
        """Raises: TooManyWays."""
        self.left -= steps
        if self.left < 0:
            raise TooManyWays


@dataclass(eq=False)
class Search:
    """The question whether copies clash in one meeting.

    Args:
        counts: which edges are followed.
        key_of: what an edge does to a copy.
        clash: whether two copies clash.
        counted: the states that are looked at.
    """

    signal: Signal
    meeting: Meeting
    counts: Callable[[Edge], bool]
    key_of: Callable[[Edge], Key]
    clash: Callable[[Key, Key], bool]
    counted: Diagram
    patience: Patience

    def find(self) -> Clash | None:
        """A clash, if there is one in any state that counts. Raises: TooManyStates."""
        if self.counted == NEVER or not all(self.counts(first) or self.meeting.parting.effect for first in self.meeting.firsts):
            return None
        edges = list(self._edges)
        self.patience.follow(len(edges))  # looking at each of very many meetings takes its time too
        if all(self.key_of(edge) == AT_ONCE for edge in edges):
            return None
        found = self._simple_clash()
        if found is not None or not self.may_clash():
            return found
        self.signal.reach()  # with all guards: what is worked out inside an attempt must not be kept
        if not self.patience.attempts:
            raise TooManyStates
        try:
            with self.signal.diagrams.attempt():
                if len(self.signal.switches.ordered) > _FEW_SWITCHES:
                    found = self._clash_within(self.signal.diagrams.both(self.signal.switches.few_on(2), self.counted))
                return found or self._clash_within(self.counted)
        except TooManyWays:
            raise
        except TooManyStates:
            self.patience.attempts -= 1
            raise

    def may_clash(self) -> bool:
        """Whether copies might clash if no switch forbade it."""
        try:
            one, other = (self._arrivals(which) for which in (0, 1))
        except TooManyStates:
            return True
        return any(self.clash(a, b) for _, table in one for _, table_2 in other for a in table for b in table_2)

    def spread(self) -> int:
        """The most (ticks) that copies may be apart, guards left out."""
        one, other = (self._arrivals(which) for which in (0, 1))
        ends = [[key.ticks for _, table in side for key in table] for side in (one, other)]
        if not all(ends):
            return 0
        return max(max(ends[0]) - min(ends[1]), max(ends[1]) - min(ends[0]), 0)

    # --- the ways of a meeting --------------------------------------------------------------------------------------

    @cached_property
    def _onward(self) -> list[dict[Node, list[Edge]]]:
        """For each copy, the edges it can take from each node on to its end."""
        graph, found = self.signal.graph, []
        for first, end in zip(self.meeting.firsts, self.meeting.ends, strict=True):
            behind = graph.copied_behind(end)
            nodes = graph.copied_ahead(first.end) & behind
            found.append({node: [e for e in graph.leaving[node] if e.copies and e.end in behind and self.counts(e)] for node in nodes})
        return found

    @property
    def _edges(self) -> Iterator[Edge]:
        for which, first in enumerate(self.meeting.firsts):
            if not self.meeting.parting.effect:
                yield first
            for edges in self._onward[which].values():
                yield from edges

    def _begin(self, first: Edge) -> Key:
        """What a copy is like behind the edge that it leaves by; the sound of an effect begins there."""
        return AT_ONCE if self.meeting.parting.effect else self.key_of(first)

    # --- simple ways ------------------------------------------------------------------------------------------------

    def _simple_clash(self) -> Clash | None:
        """A clash that at most one switch on each way brings about. Does not find every one: it keeps one of ways alike."""
        one, other = (self._simple_ways(which) for which in (0, 1))
        diagrams, reach = self.signal.diagrams, self.signal.reach()
        within = diagrams.all_of([self.counted, *(reach.get(first.start, NEVER) for first in self.meeting.firsts)])
        pairs = sorted(
            (
                (len({a_on, b_on} - {None}), -abs(a.ticks - b.ticks), place, way, way_2)
                for place, ((a, a_on, way), (b, b_on, way_2)) in enumerate((x, y) for x in one for y in other)
                if self.clash(a, b) and (self.meeting.in_air or way[-1] is not way_2[-1])
            ),
            key=lambda pair: pair[:3],
        )  # fmt: skip
        for _, _, _, way, way_2 in pairs[:_TRIES]:
            states = diagrams.both(within, self.signal.switches.cube(literal for edge in (*way, *way_2) for literal in edge.guard))
            if states != NEVER:
                return self._describe(states, (way, way_2))
        return None

    def _simple_ways(self, which: int) -> list[tuple[Key, str | None, Way]]:
        """Ways on which at most one switch is on: what they do, that switch, and the way; one of several alike."""
        first, end, order = self.meeting.firsts[which], self.meeting.ends[which], self.signal.graph.order
        switch = self._switch_on(first, None)
        if switch is _TWO:
            return []
        begin = _Simple(first.end, self._begin(first), switch)
        came: dict[_Simple, tuple[_Simple | None, Edge]] = {begin: (None, first)}
        work = [(order[first.end], 0, begin)]
        found: list[tuple[Key, str | None, Way]] = []
        while work and self.patience.left > 0:
            self.patience.left -= 1
            _, _, here = heappop(work)
            if here.switch is not None and _Simple(here.node, here.key, None) in came:
                continue  # the same comes about with nothing on
            if here.node == end:
                found.append((here.key, here.switch, _way_back(came, here)))
                continue
            for edge in self._onward[which].get(here.node, ()):
                there = _Simple(edge.end, here.key.then(self.key_of(edge)), self._switch_on(edge, here.switch))
                if there.switch is _TWO or there.key.ticks > HORIZON:
                    continue
                if there not in came:
                    came[there] = (here, edge)
                    heappush(work, (order[edge.end], len(came), there))
                elif edge.end == end and not self.meeting.in_air:  # another edge into the same join: a way of its own
                    found.append((there.key, there.switch, (*_way_back(came, here), edge)))
        return found

    def _switch_on(self, edge: Edge, switch: str | None) -> str | None:
        """The one switch that is on, after this edge too; ``_TWO`` if that makes two."""
        for id_, is_on in edge.guard:
            if is_on and id_ != switch and self.signal.switches[id_].kind is not SwitchKind.SELECT:
                if switch is not None:
                    return _TWO
                switch = id_
        return switch

    # --- all states -------------------------------------------------------------------------------------------------

    def _clash_within(self, within: Diagram) -> Clash | None:
        """The widest clash in some states, if there is one."""
        if within == NEVER:
            return None
        one, other = (self._arrivals(which, within) for which in (0, 1))
        pairs = sorted(
            (
                (-abs(a.ticks - b.ticks), place, a, b, table[a], table_2[b])
                for place, ((edge, table), (edge_2, table_2)) in enumerate((x, y) for x in one for y in other)
                if edge is not edge_2
                for a in table for b in table_2 if self.clash(a, b)
            ),
            key=lambda pair: pair[:2],
        )  # fmt: skip
        for _, _, a, b, a_states, b_states in pairs:
            states = self.signal.diagrams.both(a_states, b_states)
            state = self.signal.switches.witness(states)
            if state is not None:
                return self._describe(states, (self._way(0, a, state), self._way(1, b, state)))
        return None

    def _arrivals(self, which: int, within: Diagram | None = None) -> list[tuple[Edge | None, Table]]:
        """What arrives at one end by one of the first edges: for each edge into a join, or for the amplifier as a whole.

        Args:
            within: the states that are looked at; without it, all guards are left out, which is quick.
        """
        first, end, signal = self.meeting.firsts[which], self.meeting.ends[which], self.signal
        order, both, either = signal.graph.order, signal.diagrams.both, signal.diagrams.either
        if within is None:
            states_of, both, either = (lambda edge: ALWAYS), (lambda a, b: ALWAYS), (lambda a, b: ALWAYS)
            begins = ALWAYS
        else:
            states_of = signal.guard
            begins = signal.diagrams.all_of([within, signal.reach().get(first.start, NEVER), signal.guard(first)])
        tables: dict[Node, Table] = {first.end: {self._begin(first): begins}}
        work, waiting = [(order[first.end], first.end)], {first.end}
        while work:
            _, node = heappop(work)
            waiting.discard(node)
            for edge in self._onward[which].get(node, ()):
                table, grown, guard = tables.setdefault(edge.end, {}), False, states_of(edge)
                for there, states in _through(tables[node], edge, self.key_of, guard, both):
                    before = table.get(there, NEVER)
                    now = either(before, states)
                    if now != before:
                        table[there], grown = now, True
                self.patience.follow(len(tables[node]))
                if grown and edge.end not in waiting:
                    waiting.add(edge.end)
                    heappush(work, (order[edge.end], edge.end))
        if self.meeting.in_air:
            return [(None if which else first, tables.get(end, {}))]
        by_edge: list[tuple[Edge | None, Table]] = []
        for edge in signal.graph.arriving[end]:
            if edge is first:
                by_edge.append((edge, {self._begin(first): begins}))
            elif edge in self._onward[which].get(edge.start, ()):
                by_edge.append((edge, dict(_through(tables.get(edge.start, {}), edge, self.key_of, states_of(edge), both))))
        return by_edge

    def _way(self, which: int, wanted: Key, state: State) -> Way:
        """A way with just this delay and polarity, in one state."""
        first, end = self.meeting.firsts[which], self.meeting.ends[which]
        conducts = self.signal.conducts(self.signal.switches.complete(state))
        begin = _Simple(first.end, self._begin(first), None)
        came: dict[_Simple, tuple[_Simple | None, Edge]] = {begin: (None, first)}
        layer, goal = [begin], _Simple(end, wanted, None)
        while layer and goal not in came:
            following = []
            for here in layer:
                for edge in self._onward[which].get(here.node, ()):
                    there = _Simple(edge.end, here.key.then(self.key_of(edge)), None)
                    if there not in came and there.key.ticks <= HORIZON and conducts(edge):
                        came[there] = (here, edge)
                        following.append(there)
            layer = following
        return _way_back(came, goal)

    def _describe(self, states: Diagram, ways: tuple[Way, Way]) -> Clash:
        state = self.signal.switches.witness(states)
        assert state is not None
        keys, low, high = [], [], []
        for way in ways:
            key = self._begin(way[0])
            for edge in way[1:]:
                key = key.then(self.key_of(edge))
            keys.append(key)
            gains = [stated_gain(edge) for edge in way]
            low.append(sum(least for least, _ in gains))
            high.append(sum(most for _, most in gains))
        gap = max(0.0, low[0] - high[1], low[1] - high[0])
        apart = abs(keys[0].ticks - keys[1].ticks) * TICK
        return Clash(self.meeting, apart, keys[0].sign != keys[1].sign, states, state, ways, gap)


def _through(
    table: Table, edge: Edge, key_of: Callable[[Edge], Key], guard: Diagram, both: Callable[[Diagram, Diagram], Diagram]
) -> Iterator[tuple[Key, Diagram]]:
    """What a table becomes through an edge, as far as it is followed."""
    step = key_of(edge)
    for key, states in table.items():
        there, left = key.then(step), both(states, guard)
        if there.ticks <= HORIZON and left != NEVER:
            yield there, left


def _way_back(came: dict[_Simple, tuple[_Simple | None, Edge]], here: _Simple) -> Way:
    """The way that led to an entry."""
    way: list[Edge] = []
    at: _Simple | None = here
    while at is not None:
        at, edge = came[at]
        way.append(edge)
    return tuple(reversed(way))
