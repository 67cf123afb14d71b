"""Dry sound doubled through a wet amplifier.

## What it finds
A wet/dry rig in which the wet amplifier gets the dry sound too, a little late.

## Why it matters
Wet amplifiers should carry the effect alone. Otherwise the same guitar leaves two amplifiers a hair apart in time, and the
sound goes hollow.

## How it decides
For each wet amplifier beside a dry one it asks whether a copy of the guitar can get to it in any state. Through a box that
passes the dry sound by its converters, or later than {{ limit dry-copy-late }}, it is a risk, told once for each such box; a
copy that is not late is an advice, since only the separation suffers. A box that the dry amplifier hears too makes
both late alike and does not count. If every way goes through a box that gives the effect alone (`mix: wet-only`), it is clear.
A box in the wet path whose mix nobody stated is asked about.

## How to mend it
Set the wet boxes to the effect alone, and mix them side by side: one wet-only box behind another gives reverb of echoes
only, and lets dry sound through when the first is off.

## Source
Physics; common practice.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.signal import ALWAYS, NEVER, Edge, Node, State
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import amps_of, boxes, in_words, lead_of, thing
from boardwright.rules.things import listed
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, limit, number, over, trips
from boardwright.spec.figure import figure


@rule(Severity.RISK, Severity.ADVICE, lesson="three-amplifiers")
def dry_doubled_through_wet_path(board: Board) -> Iterator[Judgement]:
    if not amps_of(board, "dry"):
        return
    found: dict[str | None, list[_Copy]] = defaultdict(list)
    for amp in amps_of(board, "wet"):
        copy = _worst(board, amp)
        if copy is None:
            yield clear(thing(board, amp))
        else:
            found[copy.through].append(copy)
    for through, copies in found.items():
        yield _tell(board, through, copies)


@dataclass(frozen=True, slots=True)
class _Copy:
    """A copy of the guitar at a wet amplifier, and how it comes there."""

    amp: str
    way: list[Edge]
    state: State
    through: str | None
    """The box that makes it late; ``None`` for a copy that is as good as at once."""
    late: float = 0.0
    """By how much (s), against the dry amplifier."""


def _worst(board: Board, amp: str) -> _Copy | None:
    """A late copy, if any state has one; else one that is not late, if any has."""
    signal, both = board.signal, board.signal.diagrams.both
    starts = {node: ALWAYS for name in signal.sources for node in signal.starts(name)}
    end = signal.heard(amp)
    there, onward = signal.spread(starts, along=_counts), signal.spread({end: ALWAYS}, backwards=True, along=_counts)
    shared = signal.graph.behind([signal.heard(dry) for dry in amps_of(board, "dry")])
    own = [edge for stage in boxes(board) for edge in signal.edges_of.get(stage.name, ()) if edge.end not in shared]
    for edge in own:
        if not (_counts(edge) and _is_late(edge)):
            continue
        states = both(both(there.get(edge.start, NEVER), signal.guard(edge)), onward.get(edge.end, NEVER))
        state = signal.switches.witness(states)
        if state is not None and edge.stage is not None:
            way = [*_way(board, list(starts), edge.start, state), edge, *_way(board, [edge.end], end, state)]
            return _Copy(amp, way, state, edge.stage.name, sum(each.latency.high or 0.0 for each in way if each.end not in shared))
    state = signal.switches.witness(there.get(end, NEVER))
    return None if state is None else _Copy(amp, _way(board, list(starts), end, state), state, None)


def _way(board: Board, starts: list[Node], end: Node, state: State) -> Sequence[Edge]:
    signal = board.signal
    live = signal.conducts(signal.switches.complete(state))
    ways = (signal.graph.shortest(start, end, lambda edge: _counts(edge) and live(edge)) for start in starts)
    return next(way for way in ways if way is not None)


def _tell(board: Board, through: str | None, copies: list[_Copy]) -> Judgement:
    first = copies[0]
    amps = [thing(board, copy.amp) for copy in copies]
    wet = f"wet amplifier{'s' if len(copies) > 1 else ''} {listed([copy.amp for copy in copies])}"
    at = lead_of(first.way[::-1], amps[0].path)
    if through is None:
        return trips(
            Severity.ADVICE,
            amps,
            f"The dry guitar gets to the {wet} too: {in_words(first.way)}. The amplifiers are less apart than they could be.",
            "Set the boxes on that way to the effect alone, if you want the amplifiers apart.",
            at=at,
            witness=first.state.words or None,
        )
    about = [thing(board, through), *amps]
    pedal = board.signal.stages[through].pedal
    if pedal is not None and pedal.mix in (None, "unknown") and board.signal.stages[through].has_tail:
        return cannot_tell(
            Severity.RISK, about, f"Does `{through}` give the effect alone, or the dry sound with it? Write `mix: wet-only` or `mix: blend`."
        )
    return trips(
        Severity.RISK,
        about,
        f"The dry guitar gets to the {wet} too, by way of `{through}` and a little late: {in_words(first.way)}. "
        "Between the amplifiers it turns hollow.",
        f"Set `{through}` to the effect alone (`mix: wet-only`); several such boxes go side by side.",
        [number("late by", figure(first.late, "s")), limit("late from", limits.DRY_COPY_LATE)],
        at=at,
        witness=first.state.words or None,
    )


def _is_late(edge: Edge) -> bool:
    """Whether a copy on it comes out late: by the box's delay, or because the box passes the dry sound by its converters."""
    by_converters = edge.engaged and edge.stage is not None and edge.stage.pedal is not None and edge.stage.pedal.dry_through == "digital"
    return by_converters or over(edge.latency.high or 0.0, limits.DRY_COPY_LATE.value)


def _counts(edge: Edge) -> bool:
    """Whether it carries a copy. A box that is set to the effect alone is taken to keep the dry sound out when it is off too."""
    if edge.stage is not None and edge.stage.pedal is not None and edge.stage.pedal.mix == "wet-only":
        return False
    return edge.copies
