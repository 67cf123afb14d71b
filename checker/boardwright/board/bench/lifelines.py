"""Leads whose death means silence, found as bridges of the graph of the sound, and leads that whole groups hang on."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from typing import TYPE_CHECKING

from boardwright.board.audio import Hop
from boardwright.board.feeding import Device, Line
from boardwright.board.signal.graph import Edge, Graph, Node

if TYPE_CHECKING:
    from boardwright.board.assemble import Board


def audio_lifelines(board: Board) -> list[Hop]:
    """Leads without which a source is not heard, with everything bypassed, at the amplifiers that must hear it.

    Those are the required ones, each by itself; where none is required, all of them together. Where the sound does not get through with
    everything off, it is looked at in the first state in which it does.
    """
    signal = board.signal
    required = [amp for amp in signal.amps if getattr(signal.stages[amp].section, "required", None)]
    goals = [[amp] for amp in required] or ([signal.amps] if signal.amps else [])
    found: dict[int, Hop] = {}
    for source in signal.sources:
        for amps in goals:
            for hop in _needed(board, source, amps):
                found[id(hop)] = hop
    order = {id(hop): number for number, hop in enumerate(board.audio.hops)}
    return sorted(found.values(), key=lambda hop: order[id(hop)])


def _needed(board: Board, source: str, amps: Collection[str]) -> Iterator[Hop]:
    signal = board.signal
    starts, ends = signal.starts(source), {signal.heard(amp) for amp in amps}
    along = signal.conducts(signal.switches.complete(None))
    if not signal.graph.ahead(starts, along) & ends:
        state = signal.switches.witness(signal.diagrams.any_of(signal.hears(amp, source) for amp in amps))
        along = signal.conducts(signal.switches.complete(state))
    yield from (edge.hop for edge in bridges(signal.graph, starts, ends, along) if edge.hop is not None and not edge.hop.is_air)


def bridges(graph: Graph, starts: Collection[Node], ends: Collection[Node], along: Callable[[Edge], bool]) -> list[Edge]:
    """The edges that every way from ``starts`` to any of ``ends`` goes through, in order; none where there is no way.

    Walks one way, and everything that leads off it without coming back, once: an edge of the way is a bridge if nothing that can be
    reached without it comes back to the way further on.
    """
    reached = graph.ahead(starts, along) | {*starts}
    ways = [way for start in starts for end in ends if end in reached and (way := graph.shortest(start, end, along)) is not None]
    way = min(ways, key=len, default=[])
    place = {edge.end: number for number, edge in enumerate(way, 1)} | dict.fromkeys(ends, len(way))
    on_way, seen, found, furthest = {id(edge) for edge in way}, set(starts), [], 0
    for number, edge in enumerate(way):
        stack = [edge.start] if number else [*starts]
        while stack:
            for each in graph.leaving.get(stack.pop(), ()):
                if id(each) in on_way or not along(each):
                    continue
                if each.end in place:
                    furthest = max(furthest, place[each.end])
                elif each.end not in seen:
                    seen.add(each.end)
                    stack.append(each.end)
        if furthest <= number:
            found.append(edge)
    return found


def group_feeds(board: Board) -> Iterator[tuple[Device, Line]]:
    """Power leads that whole groups hang on: those that feed a supply, and the first one of each daisy chain."""
    heads = {line.after for device in board.power.devices.values() for line in device.lines if line.after}
    for name, device in board.power.devices.items():
        for line in device.lines:
            if not line.after and line.outlets and (device.supply is not None or name in heads):
                yield device, line
