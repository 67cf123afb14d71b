"""Box that listens is fed a processed sound.

## What it finds
A tuner, octaver, pitch shifter or envelope filter behind boxes that change what it listens to; and echoes that run into a
stage of high gain.

## Why it matters
Boxes that *listen* want the clean guitar. After a fuzz or a vibrato they guess.

## How it decides
A tuner, octave or pitch box trips if a drive, fuzz, modulation or time effect lies ahead of it and both can be on at once;
an envelope filter if a compressor or drive does. A tuner may stand behind a fuzz that must meet the bare pickup: to tune, it
is switched off. A gate that listens to the guitar (`key: guitar`) is fine anywhere. A delay or reverb that can feed
{{ limit high-gain }} of gain is mentioned, since some players want just that.

## How to mend it
Move the listener forward, or feed it from a tuner output.

## Source
Common practice; no published source.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.signal import ALWAYS, NEVER, Diagram, Node, Stage
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import boxes, thing, wants_bare_pickup
from boardwright.rules.verdict import Judgement, Severity, clear, limit, number, trips

DRIVES = ("overdrive", "distortion", "fuzz")
MODULATION = ("chorus", "phaser", "flanger", "tremolo", "vibrato")
TIME = ("delay", "reverb", "looper")
CONFUSED_BY = {
    "tuner": DRIVES + MODULATION + TIME,
    "octave": DRIVES + MODULATION + TIME,
    "pitch": DRIVES + MODULATION + TIME,
    "envelope-filter": (*DRIVES, "compressor"),
}


@rule(Severity.ADVICE, lesson="follow-the-sound")
def detector_fed_processed_signal(board: Board) -> Iterator[Judgement]:
    loud = [_Hearing(board, stage) for stage in boxes(board) if stage.kind_name in DRIVES and stage.gain.value >= limits.HIGH_GAIN.value]
    for stage in boxes(board):
        confusing = CONFUSED_BY.get(stage.kind_name or "", ())
        if confusing:
            hearing = _Hearing(board, stage)
            ahead = [other for other in boxes(board) if other.kind_name in confusing and not _stands_aside(stage, other) and hearing.hears(other)]
            yield _listener(board, stage, ahead)
        elif stage.kind_name in ("delay", "reverb"):
            yield _smeared(board, stage, [drive.stage for drive in loud if drive.hears(stage)])


def _stands_aside(listener: Stage, other: Stage) -> bool:
    """Whether the box has to stand ahead, and is switched off while the listener is used."""
    return listener.kind_name == "tuner" and wants_bare_pickup(other)


class _Hearing:
    """What a box hears while it is engaged. Worked out when first asked for, against the sound: once for all that may be ahead."""

    def __init__(self, board: Board, stage: Stage) -> None:
        self._signal, self.stage = board.signal, stage

    @cached_property
    def _behind(self) -> dict[Node, Diagram]:
        """For each place, the states in which sound that is there gets into the box."""
        signal = self._signal
        ends: dict[Node, Diagram] = {}
        for edge in signal.effect_edges(self.stage.name) or signal.edges_of.get(self.stage.name, ()):
            ends[edge.start] = signal.diagrams.either(ends.get(edge.start, NEVER), signal.guard(edge))
        return signal.spread(ends or {node: ALWAYS for node in signal.graph.nodes if node.thing == self.stage.name}, backwards=True)

    def hears(self, other: Stage) -> bool:
        """Whether what is played into ``other`` while that is engaged gets here."""
        signal, both, reach = self._signal, self._signal.diagrams.both, self._signal.reach()
        return any(
            signal.switches.can_be(both(both(reach.get(edge.start, NEVER), signal.guard(edge)), self._behind[edge.end]))
            for edge in signal.effect_edges(other.name)
            if edge.end in self._behind
        )


def _listener(board: Board, stage: Stage, ahead: list[Stage]) -> Judgement:
    if not ahead:
        return clear(thing(board, stage.name))
    worst = ahead[0]
    return trips(
        Severity.ADVICE,
        [thing(board, stage.name), thing(board, worst.name)],
        f"`{stage.name}` listens to the sound, and `{worst.name}` can be on ahead of it: it will guess.",
        f"Move `{stage.name}` ahead of `{worst.name}`, or feed it from a tuner output.",
    )


def _smeared(board: Board, stage: Stage, loud: list[Stage]) -> Judgement:
    if not loud:
        return clear(thing(board, stage.name))
    return trips(
        Severity.ADVICE,
        [thing(board, stage.name), thing(board, loud[0].name)],
        f"`{stage.name}` can run into `{loud[0].name}`: its echoes smear in the drive. Some players want just that.",
        f"Put `{stage.name}` behind `{loud[0].name}`, if you want the echoes clear.",
        [number("gain", loud[0].gain), limit("high from", limits.HIGH_GAIN)],
    )
