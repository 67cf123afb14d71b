"""Wah feeds a fuzz of low impedance.

## What it finds
A classic wah that feeds a classic fuzz with nothing between, both of which can be on at once.

## Why it matters
The fuzz's low input drags the wah's tuned circuit down: it loses its sweep, or whistles.

## How it decides
It trips if a wah whose output has {{ limit wah-source }} or more (none that is buffered) feeds an input below
{{ limit low-impedance }}, with nothing in between that drives it, in a state in which both are on.

## How to mend it
The fuzz ahead of the wah, or a wah with an output buffer.

## Source
Physics: 10 kΩ into 10 kΩ loses 6 dB and shunts the resonance; common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.signal import NEVER
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import boxes, thing
from boardwright.rules.verdict import Judgement, Severity, clear, limit, number, over, trips


@rule(Severity.RISK, lesson="awkward-characters")
def wah_into_low_impedance_fuzz(board: Board) -> Iterator[Judgement]:
    signal, both = board.signal, board.signal.diagrams.both
    for wah in boxes(board):
        if wah.kind_name != "wah":
            continue
        about = thing(board, wah.name)
        if over(limits.WAH_SOURCE.value, wah.zout.value):
            yield clear(about)
            continue
        starts = {edge.end: both(signal.reach().get(edge.start, NEVER), signal.guard(edge)) for edge in signal.effect_edges(wah.name)}
        bare = signal.spread(starts, along=lambda edge: not edge.drives)
        for fuzz in boxes(board):
            if fuzz is wah or not over(limits.LOW_IMPEDANCE.value, fuzz.zin.value) or fuzz.kind_name in ("volume-pedal", "di", "transformer"):
                continue
            states = signal.diagrams.any_of(both(bare.get(edge.start, NEVER), signal.guard(edge)) for edge in signal.effect_edges(fuzz.name))
            state = signal.switches.witness(states)
            if state is not None:
                yield trips(
                    Severity.RISK,
                    [about, thing(board, fuzz.name)],
                    f"`{wah.name}` ({wah.zout}) feeds `{fuzz.name}` ({fuzz.zin}) with nothing between: its sweep is dragged down, or whistles.",
                    f"Put `{fuzz.name}` ahead of `{wah.name}`, or use a wah with an output buffer.",
                    [number("wah's output", wah.zout), number("fuzz's input", fuzz.zin), limit("at least", limits.LOW_IMPEDANCE)],
                    witness=state.words or None,
                )
                break
        else:
            yield clear(about)
