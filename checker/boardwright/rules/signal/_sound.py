"""What several signal rules ask of the sound."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.signal import NEVER, Diagram, Edge, Node, Role, Stage
from boardwright.rules.verdict import Thing, over
from boardwright.spec.fields import Jack
from boardwright.spec.problem import Path
from boardwright.spec.sections.boxes import Midi


def thing(board: Board, name: str) -> Thing:
    stage = board.signal.stages.get(name)
    return Thing(name, stage.path if stage is not None else board.names.get(name, ("audio",)))


def boxes(board: Board) -> Iterator[Stage]:
    """Everything between source and amplifier that sound goes through."""
    for stage in board.signal.stages.values():
        if stage.role is Role.BOX and stage.carries_sound:
            yield stage


def wants_bare_pickup(stage: Stage) -> bool:
    """Whether a box is made to meet the pickup itself, as old fuzzes are: it says so, or its input is that low."""
    if stage.pedal is not None and "direct-pickup" in (stage.pedal.wants or ()):
        return True
    return stage.kind_name == "fuzz" and over(limits.LOW_IMPEDANCE.value, stage.zin.value)


def amps_of(board: Board, *roles: str) -> list[str]:
    """Amplifiers whose role is one of ``roles``; one that states none plays everything."""
    return [name for name in board.signal.amps if (getattr(board.signal.stages[name].section, "role", None) or "full") in roles]


def ends(board: Board) -> list[str]:
    """The amplifiers that must be heard: those that are required, else all of them."""
    required = [name for name in board.signal.amps if getattr(board.signal.stages[name].section, "required", None)]
    return required or board.signal.amps


def in_words(edges: tuple[Edge, ...] | list[Edge]) -> str:
    """A way through the board, thing by thing."""
    names: list[str] = []
    for edge in edges:
        for node in (edge.start, edge.end):
            if not names or names[-1] != node.thing:
                names.append(node.thing)
    return " > ".join(names)


def lead_of(edges: tuple[Edge, ...] | list[Edge], otherwise: Path) -> Path:
    """Where the first lead of a way stands in the text."""
    return next((edge.hop.path for edge in edges if edge.hop is not None), otherwise)


def outputs(board: Board, name: str) -> list[Node]:
    """The nodes at which a box's sound comes out."""
    return [edge.end for edge in board.signal.edges_of.get(name, ())]


def gets_out(board: Board, name: str) -> Diagram:
    """The states in which what comes out of a box is heard at any amplifier."""
    heard = board.signal.heard_from
    return board.signal.diagrams.any_of(heard.get(node, NEVER) for node in outputs(board, name))


def midi_leads(board: Board) -> Iterator[tuple[Jack, Jack, int]]:
    """Every MIDI lead from jack to jack, with the number of its entry."""
    for number, entry in board.spec.midi.items():
        for chain in entry.path or ():
            for start, end in pairwise(chain):
                yield start, end, number


def midi_of(board: Board, name: str) -> Midi | None:
    """What a thing states about MIDI."""
    stage = board.signal.stages.get(name)
    return getattr(stage.section, "midi", None) if stage else None
