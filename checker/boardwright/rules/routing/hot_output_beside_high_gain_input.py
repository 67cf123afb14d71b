"""Hot output beside a high-gain input.

## What it finds
A very loud lead beside the very quiet lead that feeds it.

## Why it matters
A very loud lead lying next to a very quiet one that feeds the same loud pedal can squeal.

## How it decides
Two leads with {{ limit hot-gain }} of gain or more between them, nearer than {{ limit hot-beside }} for more than
{{ limit hot-beside-length }}. A risk if one of them has no screen or an open end; advice if both are screened. For
comparison the loop is worked out: the capacitance between the two hot conductors (through a good braid
{{ limit braid-leak }}), the input's resistance and the gain, at {{ limit squeal }}. Above 1 it squeals, and is a risk
whatever the screens.

## How to mend it
Lead inputs and outputs apart: returns on the other side.

## Source
Physics: feedback through a capacitance, π ε₀ / arcosh(D / 2a) per metre between unscreened wires. The bounds are common
practice.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import permutations

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.kinds import kind_of
from boardwright.board.layout.coupling import gain_between
from boardwright.board.layout.geometry import length_beside, segment_distance, segments
from boardwright.board.layout.runs import Run
from boardwright.physics.coupling import wire_capacitance
from boardwright.rules.layout._shared import mm, size
from boardwright.rules.registry import rule
from boardwright.rules.routing._shared import of_run, too_much, ways
from boardwright.rules.verdict import Judgement, Number, Severity, clear, limit, over, trips
from boardwright.spec.figure import Figure, Origin, assumed, tell


@rule(Severity.RISK, Severity.ADVICE, lesson="leads-and-routes")
def hot_output_beside_high_gain_input(board: Board) -> Iterator[Judgement]:
    joined = [run for run in ways(board, "audio") if run.section.joins]
    hit: set[str] = set()
    meeting = [pair for pair in permutations(joined, 2) if _may_meet(*pair)]
    if (given_up := too_much(meeting, Severity.RISK)) is not None:
        yield given_up
        return
    for quiet, loud in meeting:
        shared = _beside(quiet, loud)
        if shared is None:
            continue
        assert quiet.section.joins is not None and loud.section.joins is not None
        ends = quiet.section.joins[1].thing, loud.section.joins[0].thing
        gain = gain_between(board.audio, board.power.devices, board.layout.runs, *ends)
        found = _judge(board, quiet, loud, gain, shared) if gain is not None else None
        if found is not None:
            hit.add(quiet.name)
            yield found
    for run in joined if len(joined) > 1 else ():
        if run.name not in hit:
            yield clear(of_run(run))


def _may_meet(one: Run, other: Run) -> bool:
    return one.bounds.distance(other.bounds) < limits.HOT_BESIDE.value and bool(one.section.under) == bool(other.section.under)


def _beside(quiet: Run, loud: Run) -> float | None:
    """For how long the two lie beside each other (m), if that is long enough to matter."""
    shared = length_beside(quiet.points, loud.points, limits.HOT_BESIDE.value, math.radians(limits.PARALLEL_ANGLE.value))
    return shared if over(shared, limits.HOT_BESIDE_LENGTH.value) else None


def _judge(board: Board, quiet: Run, loud: Run, gain: float, shared: float) -> Judgement | None:
    open_leads = [run for run in (quiet, loud) if run.section.screen == "none" or run.section.open_end]
    loop = _loop_gain(board, quiet, loud, gain, shared, both_open=len(open_leads) == 2)
    squeals = over(loop, 1)
    if over(limits.HOT_GAIN.value, gain) and not squeals:
        return None
    screens = f"`{open_leads[0].name}` is not screened throughout" if open_leads else "both are screened"
    return trips(
        Severity.RISK if open_leads or squeals else Severity.ADVICE,
        [of_run(quiet), of_run(loud)],
        f"`{loud.name}` carries what `{quiet.name}` feeds, up to {tell(gain, 'dB')} louder, and lies nearer "
        f"than {mm(limits.HOT_BESIDE.value)} to it for "
        f"{mm(shared)}; {screens}. That can squeal.",
        "Lead them apart, outputs and returns on the other side of the row; use screened leads with their covers on.",
        [
            Number("gain between", tell(gain, "dB"), gain, "dB", Origin.ASSUMED.word),
            size("side by side", shared),
            Number("loop gain about", tell(loop, "", 2), loop, "", "computed"),
            limit("nearer than", limits.HOT_BESIDE),
        ],
    )


def _loop_gain(board: Board, quiet: Run, loud: Run, gain: float, shared: float, both_open: bool) -> float:
    """What comes back after once around, at the highest frequency that is heard."""
    apart = min(segment_distance(a, b) for a in segments(quiet.points) for b in segments(loud.points))
    apart = max(apart, (quiet.od.value + loud.od.value) / 2)
    per_metre = wire_capacitance(apart, limits.WIRE_RADIUS.value) if both_open else limits.BRAID_LEAK.value
    assert quiet.section.joins is not None
    impedance = _zin(board, quiet.section.joins[1].thing).value
    return 2 * math.pi * limits.SQUEAL.value * per_metre * shared * impedance * 10 ** (gain / 20)


def _zin(board: Board, name: str) -> Figure:
    pedal = board.spec.pedals.get(name)
    if pedal is not None and pedal.zin is not None and pedal.zin.known:
        return pedal.zin
    return assumed(kind_of(pedal.kind if pedal else None).zin, "Ω")
