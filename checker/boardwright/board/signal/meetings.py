"""Where one sound leaves by several ways at once, and where its copies come together again."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

from boardwright.board.signal.diagrams import TooManyWays
from boardwright.board.signal.graph import Edge, Node

if TYPE_CHECKING:
    from boardwright.board.signal.signal import Signal

MOST_PAIRS = 2000
"""Pairs of ways out of the same parting, all partings together: one sound on 63 ways, far beyond any rig."""


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


def find_partings(signal: Signal) -> Iterator[Parting]:
    """Every parting, in signal order."""
    graph = signal.graph
    for node in graph.order:
        onward = [edge for edge in graph.leaving[node] if edge.copies]
        if _any_together(signal, onward):
            yield Parting(node, tuple(onward))
    for name in signal.stages:
        effects = signal.effect_edges(name)
        own = [edge for edge in effects if not edge.copies]
        outs = {edge.end: edge for edge in reversed(effects)}
        if own and len(outs) > 1:
            yield Parting(own[0].start, tuple(outs.values()), name)
    for name in signal.sources:  # a stereo instrument leaves by two jacks
        starts = signal.starts(name)
        if len(starts) > 1:
            yield Parting(starts[0], tuple(edge for start in starts for edge in graph.leaving[start]))


def find_meetings(signal: Signal, partings: list[Parting]) -> Iterator[Meeting]:
    """Every two ways out of a parting that can come together, guards left out.

    Raises: TooManyWays, if there are more than ``MOST_PAIRS`` pairs of ways.
    """
    if sum(math.comb(len(parting.firsts), 2) for parting in partings) > MOST_PAIRS:
        raise TooManyWays
    graph = signal.graph
    amps = [signal.heard(amp) for amp in signal.amps]
    joins = {node: edges for node in graph.nodes if _any_together(signal, edges := [e for e in graph.arriving[node] if e.copies])}
    for parting in partings:
        ahead = {edge: graph.copied_ahead(edge.end) for edge in parting.firsts}
        heard = {edge: [amp for amp in amps if amp in ahead[edge]] for edge in parting.firsts}
        for firsts in combinations(parting.firsts, 2):
            one, other = firsts
            if not _together(signal, one, other) or (one.end == other.end and parting.effect is None):
                continue
            common = [node for node in ahead[one] & ahead[other] if node in joins]
            for node in sorted(common, key=graph.order.__getitem__):
                if _can_add(signal, joins[node], ahead, firsts):
                    yield Meeting(parting, firsts, (node, node))
            for a in heard[one]:
                for b in heard[other]:
                    if a != b:
                        yield Meeting(parting, firsts, (a, b), _met_before(signal, firsts, (a, b), common))


def _together(signal: Signal, a: Edge, b: Edge) -> bool:
    """Whether both can conduct at once."""
    if not a.guard or not b.guard:
        return True
    return signal.switches.can_be(signal.diagrams.both(signal.guard(a), signal.guard(b)))


def _any_together(signal: Signal, edges: list[Edge]) -> bool:
    return len(edges) > 1 and any(_together(signal, a, b) for a, b in combinations(edges, 2))


def _can_add(signal: Signal, arriving: list[Edge], ahead: dict[Edge, set[Node]], firsts: tuple[Edge, Edge]) -> bool:
    """Whether one way can arrive at a join by another edge than the other way does."""
    ones, others = ([edge for edge in arriving if edge.start in ahead[first] or edge is first] for first in firsts)
    return any(a is not b and _together(signal, a, b) for a in ones for b in others)


def _met_before(signal: Signal, firsts: tuple[Edge, Edge], ends: tuple[Node, Node], joins: list[Node]) -> bool:
    """See ``Meeting.met_before``."""
    for join in joins:
        around = [signal.graph.ahead([first.end], lambda edge, join=join: edge.copies and edge.end != join) for first in firsts]
        if all(first.end == join or end not in seen for first, end, seen in zip(firsts, ends, around, strict=True)):
            return True
    return False
