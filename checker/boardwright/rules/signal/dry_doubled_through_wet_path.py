"""Dry sound doubled through a wet amplifier.

## What it finds
A wet/dry rig in which the wet amplifier gets the dry sound too, a little late.

## Why it matters
Wet amplifiers should carry the effect alone. Otherwise the same guitar leaves two amplifiers a hair apart in time, and the
sound goes hollow.

## How it decides
For each wet amplifier beside a dry one it asks whether a copy of the guitar can get to it. Through a box that passes the
dry sound by its converters, or later than {{ limit dry-copy-late }}, it is a risk; a copy that is not late is an advice,
since only the separation suffers. If every way goes through a box that gives the effect alone (`mix: wet-only`), it
is clear. A box in the wet path whose mix nobody stated is asked about.

## How to mend it
Set the wet boxes to the effect alone, and mix them side by side: one wet-only box behind another gives reverb of echoes
only, and lets dry sound through when the first is off.

## Source
Physics; common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.signal import ALWAYS, NEVER, Edge
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import amps_of, in_words, lead_of, thing
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, limit, number, trips
from boardwright.spec.figure import figure


@rule(Severity.RISK, Severity.ADVICE, lesson="three-amplifiers", explained_by=("parallel-latency-comb",))
def dry_doubled_through_wet_path(board: Board) -> Iterator[Judgement]:
    if not amps_of(board, "dry"):
        return
    for amp in amps_of(board, "wet"):
        yield _wet(board, amp)


def _wet(board: Board, amp: str) -> Judgement:
    signal, about = board.signal, [thing(board, amp)]
    starts = {node: ALWAYS for name in signal.sources for node in signal.starts(name)}
    copied = signal.spread(starts, along=_counts)
    states = copied.get(signal.heard(amp), NEVER)
    state = signal.switches.witness(states)
    if state is None:
        return clear(*about)
    live = signal.conducts(signal.switches.complete(state))
    ways = [signal.graph.shortest(start, signal.heard(amp), lambda edge: _counts(edge) and live(edge)) for start in starts]
    way = next(each for each in ways if each is not None)
    unsaid = [e.stage.name for e in way if e.stage and e.engaged and e.stage.has_tail and e.stage.pedal and e.stage.pedal.mix in (None, "unknown")]
    late = sum(edge.latency.high or 0.0 for edge in way if edge.engaged)
    digital = [e.stage.name for e in way if e.stage and e.engaged and e.stage.pedal and e.stage.pedal.dry_through == "digital"]
    at = lead_of(way[::-1], about[0].path)
    if unsaid:
        question = f"Does `{unsaid[0]}` give the effect alone, or the dry sound with it? Write `mix: wet-only` or `mix: blend`."
        return cannot_tell(Severity.RISK, [thing(board, unsaid[0]), *about], question)
    through = [thing(board, name) for name in digital]
    if late > limits.DRY_COPY_LATE.value or digital:
        return trips(
            Severity.RISK,
            [*about, *through],
            f"The dry guitar gets to the wet amplifier `{amp}` too, a little late: {in_words(way)}. Between the amplifiers it turns hollow.",
            "Set the boxes on that way to the effect alone (`mix: wet-only`), side by side.",
            [number("late by", figure(late, "s")), limit("late from", limits.DRY_COPY_LATE)],
            at=at,
            witness=state.words or None,
        )
    return trips(
        Severity.ADVICE,
        about,
        f"The dry guitar gets to the wet amplifier `{amp}` too: {in_words(way)}. The two amplifiers are less apart than they could be.",
        "Set the boxes on that way to the effect alone, if you want the amplifiers apart.",
        at=at,
        witness=state.words or None,
    )


def _counts(edge: Edge) -> bool:
    """Whether it carries a copy. A box that is set to the effect alone is taken to keep the dry sound out when it is off too."""
    if edge.stage is not None and edge.stage.pedal is not None and edge.stage.pedal.mix == "wet-only":
        return False
    return edge.copies
