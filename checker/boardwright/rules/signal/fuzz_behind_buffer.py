"""Fuzz behind a buffer.

## What it finds
An old-style fuzz that does not meet the bare pickup, because something ahead of it drives it.

## Why it matters
Old-style fuzzes hold a conversation with the pickup: the pickup's softness is part of the circuit. A buffer or a wireless
receiver in between shouts instead, and the fuzz goes thin and fizzy and stops cleaning up with the guitar's volume.

## How it decides
It is asked for a box that says `wants: direct-pickup`, and for a fuzz with an input below {{ limit low-impedance }}. A risk
if something drives it in every state in which the fuzz is on; an advice if that takes another pedal to be on too, which is
often wanted. A reamp box stands for a pickup. A box ahead of it whose bypass is not known is asked about, and so is
what comes ahead of a fuzz that no sound gets to.

## How to mend it
Put the fuzz first, or in a loop ahead of the buffer; or put a pickup-like transformer, or a resistor of 10 to 50 kΩ, ahead
of it.

## Source
Physics: the source's impedance sets feedback and bias of the fuzz; common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.signal import NEVER, Diagram, Node, Stage, State
from boardwright.board.signal.loading import driven
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import boxes, thing, wants_bare_pickup
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, trips


@rule(Severity.RISK, Severity.ADVICE, lesson="awkward-characters")
def fuzz_behind_buffer(board: Board) -> Iterator[Judgement]:
    wanting = [stage for stage in boxes(board) if wants_bare_pickup(stage)]
    fed = driven(board.signal) if wanting else {}
    for stage in wanting:
        yield _judge(board, stage, fed)


def _judge(board: Board, stage: Stage, fed: dict[Node, Diagram]) -> Judgement:
    signal, both = board.signal, board.signal.diagrams.both
    about = [thing(board, stage.name)]
    entries = signal.effect_edges(stage.name)
    played = both(signal.played_into(stage.name), signal.switches.possible)
    firm = both(signal.diagrams.any_of(both(fed.get(edge.start, NEVER), signal.guard(edge)) for edge in entries), signal.switches.possible)
    if played == NEVER:
        return cannot_tell(Severity.RISK, about, f"What comes ahead of `{stage.name}`? No sound gets to it in what is described.")
    if firm == NEVER:
        unsure = _unsure(board, stage)
        if unsure:
            question = f"Is `{unsure}` true bypass? If not, expect `{stage.name}` to turn harsh and stop cleaning up with the guitar's volume."
            return cannot_tell(Severity.RISK, [thing(board, unsure), *about], question)
        return clear(*about)
    always = signal.diagrams.without(played, firm) == NEVER
    state = signal.switches.witness(played if always else firm)
    assert state is not None
    who = _drivers(board, stage, state)
    named = f"`{who[0]}`" if who else "something"
    if always:
        return trips(
            Severity.RISK,
            [*about, *(thing(board, name) for name in who[:1])],
            f"`{stage.name}` wants to meet the bare pickup, and {named} drives it. It turns thin and fizzy, and stops cleaning up.",
            f"Put `{stage.name}` ahead of {named}, or in a loop ahead of it.",
        )
    return trips(
        Severity.ADVICE,
        [*about, *(thing(board, name) for name in who[:1])],
        f"`{stage.name}` wants to meet the bare pickup, and with {named} on it does not. Many players want just that.",
        f"Put `{stage.name}` first, if you want it to clean up whatever is on.",
        witness=state.words or None,
    )


def _drivers(board: Board, stage: Stage, state: State) -> list[str]:
    """What can drive it in that state: first the boxes that do so with everything else off."""
    signal = board.signal
    live = signal.conducts(signal.switches.complete(state))
    behind = signal.graph.behind([edge.start for edge in signal.edges_of.get(stage.name, ())])
    edges = [edge for edge in signal.graph.edges if edge.drives and edge.end in behind and edge.stage is not stage and live(edge)]
    found = [edge.stage.name for edge in sorted(edges, key=lambda edge: any(is_on for _, is_on in edge.guard)) if edge.stage is not None]
    return list(dict.fromkeys(found)) or [name for name in signal.sources if not signal.stages[name].is_passive_pickup]


def _unsure(board: Board, stage: Stage) -> str | None:
    signal = board.signal
    behind = signal.graph.behind([edge.start for edge in signal.edges_of.get(stage.name, ())])
    return next(
        (e.stage.name for e in signal.graph.edges if e.stage is not None and e.drives is None and e.end in behind and e.stage is not stage), None
    )
