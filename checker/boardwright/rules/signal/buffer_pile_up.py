"""Too many buffers in a row.

## What it finds
A chain with so many stages that are always on that their hiss adds up.

## Why it matters
One buffer is a rescue, two are plenty. Eight in a row each add a whisper of hiss and shave a little level.

## How it decides
With everything off, the stages that still drive what follows are counted on the way from the guitar. More than
{{ limit buffers }} trip, and fewer if an amplifier states so much gain that their hiss ({{ limit buffer-noise }} each,
added as squares) comes above {{ limit hiss-floor }}. A bypass that nobody states counts as a buffer.

## How to mend it
Pedals with true bypass, or loops of a switcher.

## Source
Physics: noises that have nothing to do with each other add as squares; common practice for the count.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.signal import Role, State
from boardwright.physics import levels, noise
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import thing
from boardwright.rules.verdict import Judgement, Severity, clear, limit, number, trips
from boardwright.spec.figure import Origin, figure, tell


@rule(Severity.ADVICE, lesson="pickup-and-cable")
def buffer_pile_up(board: Board) -> Iterator[Judgement]:
    signal = board.signal
    if not board.audio.described:
        return
    conducts = signal.conducts(signal.switches.complete(State({}, None, "")))
    for amp in signal.amps:
        way = _longest(board, amp, conducts)
        if way is None:
            continue
        active = list(dict.fromkeys(e.stage.name for e in way if e.stage is not None and e.stage.role is not Role.AMP and e.drives is not False))
        gain = getattr(signal.stages[amp].section, "gain", None)
        hiss = levels.dbv(noise.noise_sum([limits.BUFFER_NOISE.value] * len(active))) if active else -200.0
        hiss += gain.value if gain is not None and gain.known else 0.0
        about = [thing(board, amp), *(thing(board, name) for name in active)]
        if len(active) <= limits.BUFFERS.value and hiss <= limits.HISS_FLOOR.value:
            yield clear(*about)
            continue
        yield trips(
            Severity.ADVICE,
            about,
            f"With everything off, {len(active)} stages are still on between the guitar and `{amp}`. Their hiss adds up to {tell(hiss, 'dBV')}.",
            "Give some of them true bypass, or put them in loops of a switcher.",
            [
                number("stages always on", figure(float(len(active)), "", Origin.ASSUMED)),
                limit("at most", limits.BUFFERS),
                limit("hiss heard above", limits.HISS_FLOOR),
            ],
        )


def _longest(board: Board, amp: str, conducts):
    """The way with most stages that conducts with everything off, in signal order; ``None`` if there is none."""
    signal, order = board.signal, board.signal.graph.order
    best = {node: (0, ()) for name in signal.sources for node in signal.starts(name)}
    for node in sorted(order, key=order.__getitem__):
        if node not in best:
            continue
        count, way = best[node]
        for edge in signal.graph.leaving[node]:
            if order[edge.end] > order[node] and conducts(edge):
                grown = count + (edge.stage is not None and edge.drives is not False)
                if edge.end not in best or grown > best[edge.end][0]:
                    best[edge.end] = (grown, (*way, edge))
    found = best.get(signal.heard(amp))
    return found[1] if found else None
