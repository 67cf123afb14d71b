"""Tone shifts when pedals are switched.

## What it finds
A board whose treble depends on which pedal is on, because the first one that is on rescues the pickup from its cable.

## Why it matters
With every pedal off the sound is dark; step on one and it brightens, even if it is set to do nothing. The first pedal that
is on becomes a buffer.

## How it decides
For each box that can be the first to drive what follows, the level at 5 kHz against 100 Hz is worked out from pickup,
cable and input. Above {{ limit tone-shift-advice }} between the brightest and the dullest it is an advice, above
{{ limit tone-shift-risk }} a risk. Boxes that want the bare pickup are left out, and so are wahs, which sound different
anyway. Only the place where the pickup's cable ends moves, so there are as many cases as boxes, and not as combinations.

## How to mend it
One buffer that is always on, behind whatever needs the raw pickup.

## Source
Physics: the pickup and its cable as a resonant low-pass. The bounds are common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.signal.loading import coil_of, segments
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import thing
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, limit, number, over, trips
from boardwright.spec.figure import Origin, figure, tell


@rule(Severity.RISK, Severity.ADVICE, lesson="pickup-and-cable", explained_by=("unbuffered-cable-dulls-pickup",))
def tone_shifts_when_bypassed(board: Board) -> Iterator[Judgement]:
    for name in board.signal.sources:
        coil = coil_of(board.signal.stages[name])
        if coil is None:
            continue
        found = [each for each in segments(board.signal, name, board.signal.starts(name)) if not _is_apart(each.end)]
        if not found:
            continue
        levels = [(coil.treble(each), each) for each in found]
        low, dull = min(levels, key=lambda pair: pair[0])
        high, bright = max(levels, key=lambda pair: pair[0])
        about = [thing(board, name), thing(board, bright.end.name)]
        if not over(high - low, limits.TONE_SHIFT_ADVICE.value):
            yield clear(*about)
        elif dull.unsure:
            yield cannot_tell(
                Severity.RISK, [thing(board, dull.unsure[0])], f"Is `{dull.unsure[0]}` true bypass or buffered? The treble depends on it."
            )
        else:
            risk = over(high - low, limits.TONE_SHIFT_RISK.value)
            yield trips(
                Severity.RISK if risk else Severity.ADVICE,
                about,
                f"The treble of `{name}` changes by {tell(high - low, 'dB')} at 5 kHz: bright when `{bright.end.name}` is the first that is on, "
                f"dull when nothing is on up to `{dull.end.name}`.",
                "Put one buffer that is always on behind whatever needs the raw pickup.",
                [
                    number("change at 5 kHz", figure(high - low, "dB", Origin.ASSUMED)),
                    limit("at most", limits.TONE_SHIFT_RISK if risk else limits.TONE_SHIFT_ADVICE),
                ],
            )


def _is_apart(end) -> bool:
    return end.kind_name in ("fuzz", "treble-booster", "wah") or bool(end.pedal and "direct-pickup" in (end.pedal.wants or ()))
