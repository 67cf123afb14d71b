"""Tails are cut short.

## What it finds
A delay or reverb whose trails are wanted, placed or switched so that they are cut off.

## Why it matters
Want echoes to fade naturally when you switch off? Then the way *out* of the delay must stay open; only the way in may
close.

## How it decides
For a box with `trails: wanted` it trips if the box has true bypass; if it stands in a loop that disconnects its return
when it is off (unless the loop says `keeps_return: yes`); or if a noise gate that listens to its own input, or a volume
pedal, comes after it.

## How to mend it
The box's own trails bypass, out of the loop; gate and volume pedal ahead of it.

## Source
Common practice; graph property.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.signal import Stage
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import boxes, outputs, thing
from boardwright.rules.verdict import Judgement, Severity, clear, trips
from boardwright.spec.fields import YesNo


@rule(Severity.ADVICE, lesson="loops-and-presets")
def tails_cut_short(board: Board) -> Iterator[Judgement]:
    for stage in boxes(board):
        if stage.pedal is None or stage.pedal.trails != "wanted":
            continue
        why = _why(board, stage)
        about = [thing(board, stage.name)]
        if why is None:
            yield clear(*about)
        else:
            yield trips(Severity.ADVICE, about, f"The trails of `{stage.name}` are wanted, but {why[0]}.", why[1])


def _why(board: Board, stage: Stage) -> tuple[str, str] | None:
    """What cuts them off, and how to mend it."""
    if stage.bypass in ("true-bypass", "relay"):
        return "its bypass takes it out of the sound", "Use its trails or buffered bypass, if it has one; otherwise nothing rings on."
    if stage.loop is not None:
        name, key = stage.loop
        loop = (board.spec.switchers[name].loops or {}).get(key) if name in board.spec.switchers else None
        if loop is not None and loop.keeps_return is not YesNo.YES and not loop.send_only:
            return (
                f"loop {key} of `{name}` disconnects its return when it is off",
                f"Put `{stage.name}` behind the switcher, or in a loop that keeps its return connected.",
            )
    behind = board.signal.graph.ahead(outputs(board, stage.name))
    for other in boxes(board):
        if other.name == stage.name or not any(edge.start in behind for edge in board.signal.edges_of.get(other.name, ())):
            continue
        if other.kind_name == "noise-gate" and other.pedal and other.pedal.key != "guitar":
            return f"the noise gate `{other.name}` after it closes on them", f"Put `{other.name}` ahead of `{stage.name}`, or let it listen to the guitar."
        if other.kind_name == "volume-pedal":
            mend = f"Put `{other.name}` ahead of `{stage.name}`, unless it is your master volume."
            return f"the volume pedal `{other.name}` after it turns them down too", mend
    return None
