"""Input too heavy for what feeds it.

## What it finds
An output that feeds an input of too low an impedance, and a pickup that meets a load that damps it.

## Why it matters
A box likes to feed something that barely leans on it: ten times its own impedance or more. Leaning harder makes it quieter
and, with pickups, duller.

## How it decides
For an output of its own, the inputs on it side by side over its impedance: below {{ limit bridging-poor }} a risk, below
{{ limit bridging-good }} an advice. For a passive pickup, the input that it meets: below {{ limit pickup-load-poor }} a
risk, below {{ limit pickup-load-good }} an advice; for a piezo below {{ limit piezo-load }} a risk. Wahs, fuzzes that want
the bare pickup, volume pedals (they have a rule of their own) and transformers made for it are exempt. Impedances that
are not stated are assumed by kind.

## How to mend it
A buffer between them, or an input of higher impedance.

## Source
Physics: the voltage divider; interface practice as in IEC 61938.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.signal import Role, Stage
from boardwright.board.signal.loading import segments
from boardwright.physics import impedance
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import thing
from boardwright.rules.verdict import Judgement, Severity, clear, limit, number, over, trips
from boardwright.spec.figure import figure, tell, weakest


@rule(Severity.RISK, Severity.ADVICE, lesson="pickup-and-cable")
def bridging_ratio_too_low(board: Board) -> Iterator[Judgement]:
    for name in board.signal.sources:
        stage = board.signal.stages[name]
        if stage.is_passive_pickup:
            for segment in segments(board.signal, name, board.signal.starts(name)):
                yield _pickup(board, stage, segment.end)
    yield from _outputs(board)


def _pickup(board: Board, source: Stage, end: Stage) -> Judgement:
    about = [thing(board, end.name), thing(board, source.name)]
    if _exempt(end):
        return clear(*about)
    piezo = getattr(source.section, "pickups", None) == "piezo"
    zin = end.zin
    if piezo and over(limits.PIEZO_LOAD.value, zin.value):
        corner = impedance.rc_corner(zin.value, limits.PIEZO_CAPACITANCE.value)
        said = f"the piezo of `{source.name}` loses everything below about {tell(corner, 'Hz')}"
        bound, severity = limits.PIEZO_LOAD, Severity.RISK
    elif piezo or not over(limits.PICKUP_LOAD_GOOD.value, zin.value):
        return clear(*about)
    else:
        poor = over(limits.PICKUP_LOAD_POOR.value, zin.value)
        bound, severity = (limits.PICKUP_LOAD_POOR, Severity.RISK) if poor else (limits.PICKUP_LOAD_GOOD, Severity.ADVICE)
        said = f"the pickups of `{source.name}` get quieter and duller"
    return trips(
        severity,
        about,
        f"`{end.name}` meets the bare pickup with an input of {zin}: {said}.",
        f"Put a buffer, or a direct box of high impedance, ahead of `{end.name}`.",
        [number("input", zin), limit("at least", bound)],
    )


def _exempt(end: Stage) -> bool:
    wants = end.pedal.wants if end.pedal else None
    return "direct-pickup" in (wants or ()) or end.kind_name in ("fuzz", "treble-booster", "wah", "volume-pedal")


def _outputs(board: Board) -> Iterator[Judgement]:
    """Each output that drives what follows, with every input that hangs on it."""
    signal = board.signal
    for start in signal.graph.nodes:
        hops = [edge for edge in signal.graph.leaving[start] if edge.hop is not None]
        source = signal.stages.get(start.thing)
        if not hops or source is None or not source.drives_engaged or not source.zout.known or "speaker" in start.jack:
            continue
        loads = [signal.stages[edge.end.thing] for edge in hops if edge.end.thing in signal.stages]
        loads = [load for load in loads if load.role is not Role.SWITCHER]
        if not loads:
            continue
        if any(_exempt(load) or load.kind_name == "wah" for load in loads):
            continue
        zin = figure(impedance.parallel(*(load.zin.value for load in loads)), "Ω", weakest(load.zin.origin for load in loads))
        ratio = zin.value / max(source.zout.value, 1e-3)
        about = [*(thing(board, load.name) for load in loads), thing(board, source.name)]
        if not over(limits.BRIDGING_GOOD.value, ratio):
            yield clear(*about)
            continue
        poor = over(limits.BRIDGING_POOR.value, ratio)
        loss = -impedance.bridging_loss(source.zout.value, zin.value)
        yield trips(
            Severity.RISK if poor else Severity.ADVICE,
            about,
            f"`{source.name}` ({source.zout}) feeds {zin}, {tell(ratio, '')} times its own: {tell(abs(loss), 'dB')} are lost.",
            f"Put a buffer between, or use an input of at least {tell(10 * source.zout.value, 'Ω')}.",
            [number("output", source.zout), number("input", zin), limit("times at least", limits.BRIDGING_POOR if poor else limits.BRIDGING_GOOD)],
            at=hops[0].hop.path if hops[0].hop else (),
        )
