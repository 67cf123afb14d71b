"""Outputs joined together.

## What it finds
Two outputs led into one input without a mixer, and inputs joined to inputs.

## Why it matters
One output may feed two inputs. Two outputs must never push into one input through a Y-lead: they short each other, and
both get quiet and distorted.

## How it decides
All jacks that leads join form one net. A net with two or more outputs trips, unless its input belongs to a mixer that has
an input for each. Outputs of which a switch connects only one at a time are no short.

## How to mend it
A small mixer or summing box.

## Source
Physics: two sources of low impedance in parallel.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.signal import ALWAYS, Node
from boardwright.rules import things
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import thing
from boardwright.rules.verdict import Judgement, Severity, clear, trips


@rule(Severity.FAULT, lesson="follow-the-sound")
def outputs_joined_together(board: Board) -> Iterator[Judgement]:
    into: dict[Node, dict[Node, tuple]] = defaultdict(dict)
    for edge in board.signal.graph.edges:
        if edge.hop is not None:
            into[edge.end][edge.start] = edge.hop.path
    for end, starts in into.items():
        starts = _at_once(board, starts)
        if len(starts) < 2:
            yield clear(thing(board, end.thing))
            continue
        names = [str(start) if _has_several(board, start) else start.thing for start in starts]
        yield trips(
            Severity.FAULT,
            [thing(board, end.thing), *(thing(board, start.thing) for start in starts)],
            f"{things.listed(names)} are led into one input of `{end.thing}`. Outputs that are joined short each other: both get quiet and distorted.",
            "Put a small mixer between, with an input for each.",
            at=list(starts.values())[-1],
        )


def _at_once(board: Board, starts: dict[Node, tuple]) -> dict[Node, tuple]:
    """Outputs without those that a selector connects only while another is cut off."""
    signal, kept = board.signal, dict(starts)
    reach = {node: signal.reach().get(node, ALWAYS) for node in starts if _is_selected(board, node)}
    for node, states in reach.items():
        others = [reach.get(other, ALWAYS) for other in kept if other != node]
        if others and not any(signal.switches.can_be(signal.diagrams.both(states, other)) for other in others):
            del kept[node]
    return kept


def _is_selected(board: Board, node: Node) -> bool:
    switcher = board.spec.switchers.get(node.thing)
    return switcher is not None and node.jack in (switcher.select or ())


def _has_several(board: Board, node: Node) -> bool:
    return len({hop.start.jack for hop in board.audio.leaving.get(node.thing, ())}) > 1
