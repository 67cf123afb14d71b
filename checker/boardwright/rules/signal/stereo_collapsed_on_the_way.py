"""Stereo that collapses on the way.

## What it finds
A stereo box of which only one side is used while two amplifiers are fed from it, a mono box between a stereo box and a
stereo pair, only the right side used where the left is the mono output, and a left side led into a right one.

## Why it matters
Stereo is two paths that must stay side by side to the end. One mono box in the middle and it is mono, however many
amplifiers you own.

## How it decides
It follows what leaves a box that states two channels out. An amplifier or interface that states two channels in counts as
two. It trips if a box that states one channel in passes it on to two amplifiers; if one of its two sides feeds two amplifiers and the
other none; if only the right side is led on; if a lead joins its left to another's right, or the other way round; or if, by way of boxes
between, its left ends in another's right and its right in that one's left.

## How to mend it
Mono boxes ahead of the first stereo one; both sides used, or the output marked mono.

## Source
Graph property.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.signal import Node, Stage
from boardwright.board.signal.jacks import side_of
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import boxes, thing
from boardwright.rules.verdict import Judgement, Severity, clear, trips


@rule(Severity.RISK, lesson="two-paths")
def stereo_collapsed_on_the_way(board: Board) -> Iterator[Judgement]:
    for stage in boxes(board):
        if _channels(stage, "out") == 2:
            yield _follow(board, stage)


def _channels(stage: Stage, side: str) -> int | None:
    channels = getattr(stage.section, "channels", None)
    return getattr(channels, "in_" if side == "in" else "out", None) if channels else None


def _follow(board: Board, stage: Stage) -> Judgement:
    about = [thing(board, stage.name)]
    leads = board.audio.leaving.get(stage.name, [])
    sides = {side_of(hop.start.jack): Node(stage.name, hop.start.jack or "out") for hop in leads}
    amps = {side: _amps(board, node) for side, node in sides.items()}
    if not leads:
        return clear(*about)
    crossed = [hop for hop in leads if {side_of(hop.start.jack), side_of(hop.end.jack)} == {"l", "r"}]
    if crossed:
        other = crossed[0].end.thing
        return trips(
            Severity.RISK,
            [*about, thing(board, other)],
            f"`{crossed[0].start}` is led into `{crossed[0].end}`: left and right change places on the way.",
            f"Swap the two leads between `{stage.name}` and `{other}`.",
            at=crossed[0].path,
        )
    if swapped := _ends_crossed(board, stage, sides):
        return trips(
            Severity.RISK,
            [*about, thing(board, swapped)],
            f"What leaves `{stage.name}` on the left ends in the right input of `{swapped}`, and the right in its left: they changed places.",
            f"Swap the two leads into `{swapped}`.",
        )
    if set(sides) == {"r"}:
        return trips(
            Severity.RISK,
            about,
            f"Only the right output of `{stage.name}` is used. The left is nearly always the mono one.",
            "Use its left output, or both.",
            at=leads[0].path,
        )
    narrow = _mono_behind(board, stage)
    if narrow is not None:
        return trips(
            Severity.RISK,
            [thing(board, narrow.name), *about],
            f"`{narrow.name}` takes one channel and stands between the stereo `{stage.name}` and two amplifiers or channels: both play the same.",
            f"Put `{narrow.name}` ahead of `{stage.name}`, or use one for each side.",
        )
    if len(sides) == 1 and len(next(iter(amps.values()))) > 1:
        return trips(
            Severity.RISK,
            about,
            f"`{stage.name}` is stereo, and two amplifiers or channels are fed from one of its sides: both play the same.",
            "Lead each side to its own.",
            at=leads[0].path,
        )
    return clear(*about)


def _amps(board: Board, node: Node) -> set[Node]:
    """The amplifiers that a node feeds; one that takes two channels counts once for each of its inputs."""
    signal = board.signal
    ahead = signal.graph.ahead([node])
    found = set()
    for amp in signal.amps:
        if signal.heard(amp) in ahead:
            inputs = {hop.end.jack for hop in board.audio.arriving.get(amp, ())} if _channels(signal.stages[amp], "in") == 2 else set()
            found |= {Node(amp, jack) for jack in inputs if jack and Node(amp, jack) in ahead} or {signal.heard(amp)}
    return found


def _stereo(board: Board, stage: Stage) -> set[str]:
    """Other boxes that keep two sides apart."""
    return {other.name for other in boxes(board) if other is not stage and _channels(other, "out") == 2}


def _ends_crossed(board: Board, stage: Stage, sides: dict[str | None, Node]) -> str | None:
    """The next thing with two sides that gets left on its right and right on its left, by way of other boxes."""
    if not sides.keys() >= {"l", "r"}:
        return None
    stereo = _stereo(board, stage)
    ends = {}
    for side in ("l", "r"):
        ahead = board.signal.graph.ahead([sides[side]], lambda edge: edge.stage is None or edge.stage.name not in stereo)
        ends[side] = {(node.thing, end) for node in ahead if node.thing != stage.name and (end := side_of(node.jack))}
    only_left, only_right = ends["l"] - ends["r"], ends["r"] - ends["l"]
    return next((name for name, end in sorted(only_left) if end == "r" and (name, "l") in only_right), None)


def _mono_behind(board: Board, stage: Stage) -> Stage | None:
    """A box of one channel behind it that two amplifiers hang on, with no other stereo box between."""
    starts = [edge.end for edge in board.signal.effect_edges(stage.name)]
    stereo = _stereo(board, stage)
    ahead = board.signal.graph.ahead(starts, lambda edge: edge.stage is None or edge.stage.name not in stereo)
    for other in boxes(board):
        if other is stage or _channels(other, "in") != 1 or _channels(other, "out") == 2:
            continue
        edges = board.signal.edges_of.get(other.name, ())
        if any(edge.start in ahead for edge in edges) and len({amp for edge in edges for amp in _amps(board, edge.end)}) > 1:
            return other
    return None
