"""Too much cable on a bare pickup.

## What it finds
A passive pickup that has to drive so much cable, in some state of the switches, that the sound turns dull.

## Why it matters
A cable is a tiny capacitor, and a passive pickup is too gentle to drive much of it. Long leads and a string of bypassed
pedals are like a blanket over the speaker.

## How it decides
It adds up what hangs on the pickup until the first box that drives what follows, in the worst state: leads
({{ limit cable-capacitance }}, {{ limit board-lead }} between boxes and {{ limit rig-lead }} to an amplifier, where nothing
else is stated), {{ limit bypass-capacitance }} for each bypassed pedal, {{ limit input-capacitance }} for the input at the
end. Above {{ limit pickup-cable-advice }} an advice, above {{ limit pickup-cable-risk }} a risk; the resonance and the loss
at 5 kHz are worked out from the pickup, a single coil where none is stated. Active pickups are not concerned.

## How to mend it
A buffer early in the chain (unless a fuzz objects), or shorter leads of lower capacitance.

## Source
Physics: the pickup, its cable and its load are a resonant low-pass. The bounds are common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.signal.loading import Coil, Segment, coil_of, segments
from boardwright.rules import things
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import in_words, thing
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, limit, number, over, trips
from boardwright.spec.figure import figure, tell


@rule(Severity.RISK, Severity.ADVICE, lesson="pickup-and-cable")
def unbuffered_cable_dulls_pickup(board: Board) -> Iterator[Judgement]:
    for name in board.signal.sources:
        coil = coil_of(board.signal.stages[name])
        found = segments(board.signal, name, board.signal.starts(name)) if coil else []
        if coil and found:
            yield _worst(board, coil, max(found, key=lambda each: each.capacitance))


def _worst(board: Board, coil: Coil, worst: Segment) -> Judgement:
    about = [thing(board, worst.source), thing(board, worst.end.name)]
    total = figure(worst.capacitance, "F", worst.origin)
    if not over(total.value, limits.PICKUP_CABLE_ADVICE.value):
        return clear(*about)
    if worst.unsure:
        are = "Is" if len(worst.unsure) == 1 else "Are"
        who = things.listed(list(worst.unsure))
        question = f"{are} {who} true bypass or buffered? If true, the pickup drives {total} of cable, and the sound turns dull."
        return cannot_tell(Severity.RISK, [thing(board, worst.unsure[0]), *about], question)
    risk = over(total.value, limits.PICKUP_CABLE_RISK.value)
    return trips(
        Severity.RISK if risk else Severity.ADVICE,
        about,
        f"With everything off up to `{worst.end.name}`, the pickup of `{worst.source}` drives {total} of cable ({in_words(worst.way)}). Its "
        f"resonance falls to {tell(coil.resonance(worst), 'Hz')}, and 5 kHz lies at {tell(coil.treble(worst), 'dB')} against the bass.",
        "Put one buffer early in the chain, behind anything that wants the bare pickup; or use shorter leads.",
        [number("on the pickup", total), limit("at most", limits.PICKUP_CABLE_RISK if risk else limits.PICKUP_CABLE_ADVICE)],
    )
