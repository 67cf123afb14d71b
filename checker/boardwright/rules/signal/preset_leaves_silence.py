"""Preset leaves silence.

## What it finds
A preset in which no amplifier that should be heard hears the guitar, with its free switches in any position; a quiet preset
that is not quiet; and two presets far apart in level.

## Why it matters
Stepping on a preset should never surprise you with silence, and the silent preset for tuning should really be silent.

## How it decides
For each preset, the switches that it sets are fixed and all others stay free. It trips if any of those states leaves every
amplifier with a full or dry role (the required ones, if any are) without the guitar, unless the preset says `quiet: yes` or
a mute is closed. A quiet preset in which any amplifier can still hear the guitar is a risk. Two presets whose stated gains
differ by more than {{ limit preset-jump }} are an advice, unless one says `louder: yes`; where no gain is stated, none is
counted.

## How to mend it
Correct the preset's list, or mark it: `quiet: yes`, `louder: yes`.

## Source
Graph property. The step in level is common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.signal import State
from boardwright.board.signal.switches import PresetStates
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import amps_of, ends
from boardwright.rules.verdict import Judgement, Severity, Thing, clear, limit, number, over, trips
from boardwright.spec.figure import figure, tell


@rule(Severity.FAULT, Severity.RISK, Severity.ADVICE, lesson="loops-and-presets")
def preset_leaves_silence(board: Board) -> Iterator[Judgement]:
    signal = board.signal
    heard = [amp for amp in ends(board) if amp in amps_of(board, "full", "dry")] or ends(board)
    if not heard:
        return
    for preset in signal.switches.presets.values():
        about = Thing(preset.name, preset.path)
        yield _quiet(board, preset, about) if preset.quiet else _loud(board, preset, about, heard)
    yield from _jumps(board)


def _loud(board: Board, preset: PresetStates, about: Thing, heard: list[str]) -> Judgement:
    signal, diagrams = board.signal, board.signal.diagrams
    silent = diagrams.without(diagrams.both(signal.silent(*heard), preset.states), signal.switches.quiet)
    state = signal.switches.witness(silent, preset.name)
    if state is None:
        return clear(about)
    named = " and ".join(f"`{amp}`" for amp in heard)
    return trips(
        Severity.FAULT,
        [about],
        f"Preset `{preset.name}` can be silent: the guitar does not get to {named}.",
        "Correct the loops and positions that it sets; or say `quiet: yes`, if silence is meant.",
        witness=state.words or None,
    )


def _quiet(board: Board, preset: PresetStates, about: Thing) -> Judgement:
    signal, diagrams = board.signal, board.signal.diagrams
    loud = diagrams.any_of(diagrams.both(signal.hears(amp), preset.states) for amp in signal.amps)
    state = signal.switches.witness(loud, preset.name)
    if state is None:
        return clear(about)
    hearing = [amp for amp in signal.amps if diagrams.both(signal.hears(amp), preset.states)]
    return trips(
        Severity.RISK,
        [about],
        f"Preset `{preset.name}` is meant to be quiet, and `{hearing[0]}` still hears the guitar.",
        "Mute that output in the preset too, or take `quiet: yes` away.",
        witness=state.words or None,
    )


def _jumps(board: Board) -> Iterator[Judgement]:
    """The loudest preset against the softest, by the gains that are stated."""
    gains = {}
    for preset in board.signal.switches.presets.values():
        gain = None if preset.quiet or preset.louder else _gain(board, preset.name)
        if gain is not None:
            gains[preset.name] = (gain, preset)
    if len(gains) < 2:
        return
    soft_range, soft = min(gains.values(), key=lambda pair: pair[0][1])
    loud_range, loud = max(gains.values(), key=lambda pair: pair[0][0])
    low, high = soft_range[1], loud_range[0]  # a control can be set anywhere in its range: only what is sure counts
    about = [Thing(loud.name, loud.path), Thing(soft.name, soft.path)]
    if not over(high - low, limits.PRESET_JUMP.value):
        yield clear(*about)
        return
    yield trips(
        Severity.ADVICE,
        about,
        f"From preset `{soft.name}` to `{loud.name}` the level jumps by {tell(high - low, 'dB')}, by the gains that are stated.",
        "Even them out, or say `louder: yes` on the one that is meant to be louder.",
        [number("step", figure(high - low, "dB")), limit("at most", limits.PRESET_JUMP)],
    )


def _gain(board: Board, preset: str) -> tuple[float, float] | None:
    """Least and most gain (dB), as stated, from the guitar to an amplifier, with the preset as it is called up."""
    signal = board.signal
    conducts = signal.conducts(signal.switches.complete(State({}, preset, "")))
    starts = [node for name in signal.sources for node in signal.starts(name)]
    gains = signal.gain_range(starts, along=conducts)
    heard = [gains[signal.heard(amp)] for amp in signal.amps if signal.heard(amp) in gains]
    return max(heard, key=lambda each: each[1]) if heard else None
