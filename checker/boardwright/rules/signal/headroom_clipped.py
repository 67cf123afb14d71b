"""Box driven past its ceiling.

## What it finds
A box that is meant to be clean, and that something ahead of it can drive into distortion, in any state of the switches.

## Why it matters
Every box has a ceiling. A big boost before a delay hits it, and the echoes crackle in a way you did not order.

## How it decides
The loudest peak is followed through the board: what the guitar gives ({{ limit pickup-peak }} where nothing is stated), the
gains that are stated, and what limits on the way (a stage cannot give more than its supply less {{ limit rail-loss }}, to
either side; drives limit by their nature). At boxes that should stay clean it is held against what their input takes, or
against half of their supply less {{ limit rail-loss }}. It is only asked where some gain above unity is stated ahead.

## How to mend it
Boost later, or less, or run the clean box at the higher voltage that it allows.

## Source
Physics; the loss to the supply is common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.signal import Edge, Stage
from boardwright.rules.registry import rule
from boardwright.rules.signal._levels import ceiling, peaks, raises
from boardwright.rules.signal._sound import boxes, in_words, thing
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, limit, number, over, trips
from boardwright.spec.figure import Origin, figure, tell

_MEANT_TO_DISTORT = ("overdrive", "distortion", "fuzz", "boost", "treble-booster", "compressor", "preamp", "valve-preamp", "tuner", "buffer", "wah")


@rule(Severity.RISK, lesson="levels")
def headroom_clipped(board: Board) -> Iterator[Judgement]:
    loud = peaks(board)
    for stage in boxes(board):
        if stage.kind_name in _MEANT_TO_DISTORT or not stage.drives_engaged:
            continue
        arrivals = [loud[edge.start] for edge in board.signal.edges_of.get(stage.name, ()) if edge.start in loud and edge.engaged]
        if not arrivals:
            continue
        peak, walk, raised = max(arrivals, key=lambda each: each[0])
        yield _judge(board, stage, peak, walk.way) if walk and raised else clear(thing(board, stage.name))


def _judge(board: Board, stage: Stage, peak: float, way: tuple[Edge, ...]) -> Judgement:
    about = [thing(board, stage.name)]
    most = ceiling(board, stage)
    if not most.known:
        return cannot_tell(Severity.RISK, about, f"How many volts does `{stage.name}` run on? It decides how loud a signal it takes.")
    if not over(peak, most.value):
        return clear(*about)
    raised = [edge.stage.name for edge in way if edge.stage is not None and raises(edge)]
    return trips(
        Severity.RISK,
        [*about, *(thing(board, name) for name in raised)],
        f"Played hard with `{raised[-1]}` up, {tell(peak, 'V')} peak gets into `{stage.name}`, which takes {most}: it crackles ({in_words(way)}).",
        f"Put `{raised[-1]}` behind `{stage.name}`, turn it down, or run `{stage.name}` at a higher voltage, if it allows it.",
        [number("peak", figure(peak, "V", Origin.ASSUMED)), number("takes", most), limit("lost to the supply", limits.RAIL_LOSS)],
    )
