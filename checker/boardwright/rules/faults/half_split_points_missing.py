"""Half-split points missing.

## What it finds
A long row of boxes in which there is no place to listen, or to play into, without lifting boxes.

## Why it matters
A fault is found by asking in the middle. Where there is no doorway in the middle, every question costs screws and tape.

## How it decides
For stage and tour boards, or where a client is named. Fingers get at the jacks of a switcher, at jacks behind a box, and at
jacks at the sides of a box with {{ limit plug-reach }} of room beside it. Jacks at the sides count as crowded while no places are
described. Advice if more than {{ limit access-run }} boxes follow each other without such a place.

## How to mend it
Put a loop, or a patch socket, into the middle of the row.

## Source
Search by halving: Knuth, The Art of Computer Programming, vol. 3, section 6.2.1. The bound is common practice, no published source.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.hunt.access import is_accessible
from boardwright.board.signal import Node, Role
from boardwright.rules import things
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Number, Severity, Thing, clear, limit, over, trips


@rule(Severity.ADVICE, lesson="when-it-goes-quiet")
def half_split_points_missing(board: Board) -> Iterator[Judgement]:
    if not board.is_for_stage or not board.audio.described:
        return
    longest = _longest_run(board)
    boxes = [name for name, stage in board.signal.stages.items() if stage.role is Role.BOX and board.signal.edges_of.get(name)]
    if not boxes:
        return
    if not over(len(longest), limits.ACCESS_RUN.value):
        yield clear(*(Thing(name, board.signal.stages[name].path) for name in boxes))
        return
    about = [Thing(name, board.signal.stages[name].path) for name in longest]
    yield trips(
        Severity.ADVICE,
        about,
        f"{len(longest)} boxes follow each other with no place to get at the sound: {things.listed(longest)}.",
        f"Make a doorway in the middle, about `{longest[len(longest) // 2]}`: a loop, or a patch socket.",
        [Number("in a row", str(len(longest)), len(longest), "", "stated"), limit("at most", limits.ACCESS_RUN)],
    )


def _longest_run(board: Board) -> list[str]:
    """The longest row of boxes without an accessible jack, along any way; ways that close a ring are not gone twice."""
    signal = board.signal
    order = signal.graph.order
    open_ = {name: is_accessible(board, name) for name in signal.stages}
    best: dict[Node, tuple[str, ...]] = {}
    longest: tuple[str, ...] = ()
    for node in sorted(order, key=order.__getitem__):
        run = best.get(node, ())
        longest = max(longest, run, key=len)
        for edge in signal.graph.leaving[node]:
            if order[edge.end] <= order[node]:
                continue
            onward = run
            if edge.stage is not None:
                name = edge.stage.name
                onward = () if open_[name] else run if name in run else (*run, name)
            if edge.end not in best or len(onward) > len(best[edge.end]):
                best[edge.end] = onward
    return list(longest)
