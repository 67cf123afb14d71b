"""The signal graph: every way that sound may take, each with the switches that must stand for it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from functools import cached_property
from typing import NamedTuple

from boardwright.board.audio import Hop
from boardwright.board.signal.stages import Role, Stage
from boardwright.spec.figure import Figure

HEARD = "heard"
"""The node of an amplifier at which its sound is heard."""

Guard = tuple[tuple[str, bool], ...]
"""Switches by id, and the position each must be in."""


class Node(NamedTuple):
    """A jack, or a point inside a box."""

    thing: str
    jack: str

    def __str__(self) -> str:
        return f"{self.thing}.{self.jack}"


NO_DELAY = Figure(0.0, 0.0, "s")


@dataclass(slots=True, eq=False)
class Edge:
    """One way from node to node: a lead, or a way through a box while its switches stand so.

    A pedal that can be bypassed is two edges, engaged and bypassed, each with its own latency, polarity and loading.
    """

    start: Node
    end: Node
    guard: Guard = ()
    stage: Stage | None = None
    """The box that it goes through; ``None`` for a lead."""
    hop: Hop | None = None
    """The lead."""
    engaged: bool = False
    """Whether the box's own sound is on it."""
    copies: bool = True
    """Whether what comes out is (also) a copy of what goes in, so that it adds up with other copies."""
    latency: Figure = NO_DELAY
    """How late (s) that copy is. A range is not known exactly."""
    polarity: int | None = 1
    """1 keeps the signal the right way up, −1 turns it over, ``None`` is unknown."""
    drives: bool | None = False
    """Whether it ends in an output of its own, so that what follows no longer leans on what is ahead; ``None`` unknown."""
    sure: bool = True
    """``False`` for a way that may or may not exist, as through an empty loop that nobody described."""

    @property
    def passes(self) -> bool:
        """Whether anything surely comes out: not of a bypassed box whose dry sound is kept out."""
        return self.copies or self.engaged


def copies(edge: Edge) -> bool:
    """Whether an edge passes a copy of the sound on."""
    return edge.copies


@dataclass(slots=True, eq=False)
class Walk:
    """A way while it is being walked. Ways share what they have in common; copied at each step they would cost the square of their length."""

    step: Edge
    """The last edge so far."""
    before: Walk | None

    @property
    def way(self) -> tuple[Edge, ...]:
        steps, here = [], self
        while here is not None:
            steps.append(here.step)
            here = here.before
        return tuple(reversed(steps))


@dataclass(eq=False)
class Graph:
    """Nodes and edges, and what can be told of them with every guard left out (the union of all states)."""

    edges: list[Edge]
    leaving: dict[Node, list[Edge]] = field(init=False, default_factory=dict)
    arriving: dict[Node, list[Edge]] = field(init=False, default_factory=dict)
    _copied_ahead: dict[Node, set[Node]] = field(init=False, default_factory=dict)
    _copied_behind: dict[Node, set[Node]] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        for edge in self.edges:
            self.leaving.setdefault(edge.start, []).append(edge)
            self.leaving.setdefault(edge.end, [])
            self.arriving.setdefault(edge.end, []).append(edge)
            self.arriving.setdefault(edge.start, [])

    @property
    def nodes(self) -> Iterable[Node]:
        return self.leaving

    @cached_property
    def order(self) -> dict[Node, int]:
        """A place for each node such that every edge leads on, save those that close a ring. The nodes stand in that order."""
        place: dict[Node, int] = {}
        done: list[Node] = []
        state: dict[Node, bool] = {}
        starts = sorted(self.nodes, key=lambda node: bool(self.arriving[node]))  # true beginnings first
        for first in reversed(starts):
            if first in state:
                continue
            stack: list[tuple[Node, Iterator[Edge]]] = [(first, iter(reversed(self.leaving[first])))]
            state[first] = False
            while stack:
                node, onward = stack[-1]
                for edge in onward:
                    if edge.end not in state:
                        state[edge.end] = False
                        stack.append((edge.end, iter(reversed(self.leaving[edge.end]))))
                        break
                else:
                    done.append(node)
                    stack.pop()
        for number, node in enumerate(reversed(done)):
            place[node] = number
        return place

    @cached_property
    def ring_of(self) -> dict[Node, int]:
        """Nodes that lie on a ring, with the number of the ring that they share (strongly connected components)."""
        rings: dict[Node, int] = {}
        assigned: set[Node] = set()
        # Kosaraju: along the order of first finishing, collect backwards
        for number, node in enumerate(self.order):
            if node in assigned:
                continue
            component, stack = [node], [node]
            assigned.add(node)
            while stack:
                for edge in self.arriving[stack.pop()]:
                    if edge.start not in assigned:
                        assigned.add(edge.start)
                        component.append(edge.start)
                        stack.append(edge.start)
            if len(component) > 1 or any(edge.end == node for edge in self.leaving[node]):
                rings |= dict.fromkeys(component, number)
        return rings

    def copied_ahead(self, node: Node) -> set[Node]:
        """Every node that a copy of the sound at ``node`` can get to, itself included. Not to be changed."""
        if node not in self._copied_ahead:
            self._copied_ahead[node] = self.ahead([node], copies)
        return self._copied_ahead[node]

    def copied_behind(self, node: Node) -> set[Node]:
        """Every node from which a copy of the sound can get to ``node``, itself included. Not to be changed."""
        if node not in self._copied_behind:
            self._copied_behind[node] = self.behind([node], copies)
        return self._copied_behind[node]

    def ahead(self, starts: Iterable[Node], along: Callable[[Edge], bool] = lambda edge: True) -> set[Node]:
        """Every node that some way leads to from ``starts``, themselves included."""
        return self._spread(starts, self.leaving, "end", along)

    def behind(self, ends: Iterable[Node], along: Callable[[Edge], bool] = lambda edge: True) -> set[Node]:
        """Every node from which some way leads to ``ends``, themselves included."""
        return self._spread(ends, self.arriving, "start", along)

    @staticmethod
    def _spread(starts: Iterable[Node], edges: dict[Node, list[Edge]], end: str, along: Callable[[Edge], bool]) -> set[Node]:
        seen = {node for node in starts if node in edges}
        stack = list(seen)
        while stack:
            for edge in edges[stack.pop()]:
                node = getattr(edge, end)
                if node not in seen and along(edge):
                    seen.add(node)
                    stack.append(node)
        return seen

    def shortest(self, start: Node, end: Node, along: Callable[[Edge], bool] = lambda edge: True) -> list[Edge] | None:
        """The way with the fewest edges; ``None`` if there is none."""
        came: dict[Node, Edge | None] = {start: None}
        layer = [start]
        while layer and end not in came:
            following = []
            for node in layer:
                for edge in self.leaving.get(node, ()):
                    if edge.end not in came and along(edge):
                        came[edge.end] = edge
                        following.append(edge.end)
            layer = following
        if end not in came:
            return None
        way: list[Edge] = []
        while (edge := came[end]) is not None:
            way.append(edge)
            end = edge.start
        return way[::-1]


def stated_gain(edge: Edge) -> tuple[float, float]:
    """Least and most gain (dB) of an edge as stated; unity where nobody says."""
    if edge.stage is None:
        return 0.0, 0.0
    stated = edge.stage.stated_gain
    is_amp_input = edge.stage.role is Role.AMP and edge.end.jack == "power"
    if stated is None or not (edge.engaged or is_amp_input):
        return 0.0, 0.0
    assert stated.low is not None and stated.high is not None
    return stated.low, stated.high
