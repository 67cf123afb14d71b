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
from boardwright.board.signal import NEVER, Diagram, Node, Stage
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
    played = {stage.name: _PlayedInto(board, stage) for stage in boxes(board)}
    for stage in boxes(board):
        confusing = CONFUSED_BY.get(stage.kind_name or "", ())
        if confusing:
            ahead = [
                other for other in boxes(board) if other.kind_name in confusing and not _stands_aside(stage, other) and played[other.name].meets(stage)
            ]
            yield _listener(board, stage, ahead)
        elif stage.kind_name in ("delay", "reverb"):
            loud = [
                other
                for other in boxes(board)
                if other.gain.value >= limits.HIGH_GAIN.value and other.kind_name in DRIVES and played[stage.name].meets(other)
            ]
            yield _smeared(board, stage, loud)


def _stands_aside(listener: Stage, other: Stage) -> bool:
    """Whether the box has to stand ahead, and is switched off while the listener is used."""
    return listener.kind_name == "tuner" and wants_bare_pickup(other)


class _PlayedInto:
    """What the sound of a box runs into while the box is engaged. Worked out when first asked for, once for all that may meet it."""

    def __init__(self, board: Board, first: Stage) -> None:
        self._signal, self._first = board.signal, first

    @cached_property
    def _onward(self) -> list[dict[Node, Diagram]]:
        """For each way out of it, the states in which its sound is at each place."""
        signal, reach = self._signal, self._signal.reach()
        starts = ((out.end, signal.diagrams.both(reach.get(out.start, NEVER), signal.guard(out))) for out in signal.effect_edges(self._first.name))
        return [signal.spread({end: states}) for end, states in starts if states != NEVER]

    @cached_property
    def _things(self) -> set[str]:
        return {node.thing for onward in self._onward for node in onward}

    def meets(self, then: Stage) -> bool:
        """Whether ``then`` can be engaged at the same time, behind it."""
        if then is self._first or then.name not in self._things:
            return False
        signal, both = self._signal, self._signal.diagrams.both
        entries = signal.effect_edges(then.name) or signal.edges_of.get(then.name, [])
        for onward in self._onward:
            if not entries:
                return any(node.thing == then.name and signal.switches.can_be(states) for node, states in onward.items())
            if any(signal.switches.can_be(both(onward.get(edge.start, NEVER), signal.guard(edge))) for edge in entries):
                return True
        return False


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
