"""Volume pedal of the wrong kind for its place.

## What it finds
A low volume pedal straight behind a pickup, a high one behind a buffer, and a pedal and cable that roll off the treble.

## Why it matters
Volume pedals come in two strengths. The high one goes straight after the guitar, the low one after buffered pedals. Swap
them and you lose treble.

## How it decides
A passive volume pedal below {{ limit volume-high }} that can meet a bare pickup is a risk; one of that or more behind
something that always drives it is an advice. Behind an active source, a quarter of its pot with the cable after it should
not roll off below {{ limit volume-treble }}, or that is an advice. A pedal whose pot is not stated is asked about.

## How to mend it
The right kind for the place, or a buffer on the right side of it.

## Source
Physics: loading, and the low-pass of a resistance with a cable; common practice for the two kinds.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.signal import NEVER, Stage
from boardwright.board.signal.loading import driven, segments
from boardwright.physics import impedance
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import boxes, outputs, thing
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, limit, number, over, trips
from boardwright.spec.figure import figure, tell


@rule(Severity.RISK, Severity.ADVICE, lesson="awkward-characters")
def volume_pedal_wrong_for_its_place(board: Board) -> Iterator[Judgement]:
    for stage in boxes(board):
        if stage.kind_name == "volume-pedal" and not stage.drives_engaged:
            yield _judge(board, stage)


def _judge(board: Board, stage: Stage) -> Judgement:
    signal, about = board.signal, [thing(board, stage.name)]
    pot = stage.pedal.pot if stage.pedal else None
    entries = [edge.start for edge in signal.edges_of.get(stage.name, ())]
    arrives = signal.diagrams.both(signal.arrives(stage.name), signal.switches.possible)
    if arrives == NEVER:
        return clear(*about)
    if pot is None or not pot.known:
        return cannot_tell(Severity.RISK, about, f"Is `{stage.name}` of the high kind (250k or more) or of the low (25k)? Write its `pot`.")
    fed = driven(signal)
    firm = signal.diagrams.any_of(fed.get(node, NEVER) for node in entries)
    bare = signal.diagrams.without(arrives, firm)
    high = not over(limits.VOLUME_HIGH.value, pot.value)
    numbers = [number("pot", pot), limit("high from", limits.VOLUME_HIGH)]
    if bare != NEVER and not high:
        state = signal.switches.witness(bare)
        return trips(
            Severity.RISK,
            about,
            f"`{stage.name}` ({pot}) can meet the bare pickup: it is of the low kind and takes the treble away.",
            "Put it behind a buffer, or use one of the high kind.",
            numbers,
            witness=state.words if state and state.words else None,
        )
    if bare == NEVER and high:
        return trips(
            Severity.ADVICE,
            about,
            f"`{stage.name}` ({pot}) stands behind a buffer, where the low kind is quieter and its taper right.",
            "Use one of 25k here, or put this one straight behind the guitar.",
            numbers,
        )
    return _treble(board, stage, pot) if bare == NEVER else clear(*about)


def _treble(board: Board, stage: Stage, pot) -> Judgement:
    after = segments(board.signal, stage.name, outputs(board, stage.name))
    worst = max((each.capacitance for each in after), default=0.0)
    about = [thing(board, stage.name)]
    corner = impedance.rc_corner(pot.value / 4, worst) if worst else float("inf")
    if not over(limits.VOLUME_TREBLE.value, corner):
        return clear(*about)
    return trips(
        Severity.ADVICE,
        about,
        f"Half turned down, `{stage.name}` and the {tell(worst, 'F')} of cable after it roll off above {tell(corner, 'Hz')}.",
        "Put a buffer behind it, or use one of 25k.",
        [number("rolls off above", figure(corner, "Hz")), limit("at least", limits.VOLUME_TREBLE)],
    )
