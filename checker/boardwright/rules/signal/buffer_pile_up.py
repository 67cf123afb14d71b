"""Too many buffers in a row.

## What it finds
A chain with so many stages that are always on that their hiss adds up.

## Why it matters
One buffer is a rescue, two are plenty. Eight in a row each add a whisper of hiss and shave a little level.

## How it decides
With everything off, the stages that still drive what follows are counted on the way from the guitar. More than
{{ limit buffers }} trip, and fewer if an amplifier states so much gain that their hiss ({{ limit buffer-noise }} each,
added as squares) comes above {{ limit hiss-floor }}. Where it hangs on a bypass that nobody states, it cannot tell.

## How to mend it
Pedals with true bypass, or loops of a switcher.

## Source
Physics: noises that have nothing to do with each other add as squares; common practice for the count.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.signal import Node, Role, State
from boardwright.board.signal.graph import Walk
from boardwright.physics import levels, noise
from boardwright.rules import things
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import thing
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, limit, number, trips
from boardwright.spec.figure import figure, tell


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
        stages = {e.stage.name: e.drives for e in way if e.stage is not None and e.stage.role is not Role.AMP and e.drives is not False}
        active = [name for name, drives in stages.items() if drives]
        about = [thing(board, amp), *(thing(board, name) for name in stages)]
        hiss = _hiss(board, amp, len(active))
        if _is_heard(len(active), hiss):
            yield trips(
                Severity.ADVICE,
                [thing(board, amp), *(thing(board, name) for name in active)],
                f"With everything off, {len(active)} stages are still on between the guitar and `{amp}`. Their hiss adds up to {tell(hiss, 'dBV')}.",
                "Give some of them true bypass, or put them in loops of a switcher.",
                [
                    number("stages always on", figure(float(len(active)), "")),
                    limit("at most", limits.BUFFERS),
                    limit("hiss heard above", limits.HISS_FLOOR),
                ],
            )
        elif _is_heard(len(stages), _hiss(board, amp, len(stages))):
            unsure = [name for name in stages if name not in active]
            yield cannot_tell(Severity.ADVICE, about, f"How many of {things.listed(unsure)} are buffered while off? Their hiss adds up.")
        else:
            yield clear(*about)


def _hiss(board: Board, amp: str, count: int) -> float:
    """Level (dBV) of so many buffers behind the gain that an amplifier states."""
    gain = getattr(board.signal.stages[amp].section, "gain", None)
    added = gain.value if gain is not None and gain.known else 0.0
    return levels.dbv(noise.noise_sum([limits.BUFFER_NOISE.value] * count)) + added if count else float("-inf")


def _is_heard(count: int, hiss: float) -> bool:
    return count > limits.BUFFERS.value or hiss > limits.HISS_FLOOR.value


def _longest(board: Board, amp: str, conducts):
    """The way with most stages that conducts with everything off, in signal order; ``None`` if there is none."""
    signal, order = board.signal, board.signal.graph.order
    best: dict[Node, tuple[int, Walk | None]] = {node: (0, None) for name in signal.sources for node in signal.starts(name)}
    for node in order:
        if node not in best:
            continue
        count, walk = best[node]
        for edge in signal.graph.leaving[node]:
            if order[edge.end] > order[node] and conducts(edge):
                grown = count + (edge.stage is not None and edge.drives is not False)
                if edge.end not in best or grown > best[edge.end][0]:
                    best[edge.end] = (grown, Walk(edge, walk))
    _, walk = best.get(signal.heard(amp), (0, None))
    return walk.way if walk else None
