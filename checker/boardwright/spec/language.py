"""Which sections a board has. To add one: write its model in ``sections/``, give it a line here and one in ``Spec``."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from boardwright.spec.fields import Section
from boardwright.spec.sections.accept import Accept
from boardwright.spec.sections.amps import Amp
from boardwright.spec.sections.audio import AudioEntry
from boardwright.spec.sections.board import Board
from boardwright.spec.sections.guitar import Guitar
from boardwright.spec.sections.pedals import Pedal
from boardwright.spec.sections.place import Place
from boardwright.spec.sections.supplies import Supply


class Shape(Enum):
    ONE = "one mapping"
    NAMED = "a mapping of names to things"
    LIST = "a list"


@dataclass(frozen=True)
class SectionKind:
    """A section: its key, the model of what stands in it, and how it is written."""

    key: str
    model: type[Section]
    shape: Shape
    short: str | None = None
    """The key that an entry written as bare text stands for."""
    makes_things: bool = False
    """Whether its names are things that leads can join."""


SECTIONS = {
    kind.key: kind
    for kind in (
        SectionKind("board", Board, Shape.ONE),
        SectionKind("place", Place, Shape.ONE),
        SectionKind("guitar", Guitar, Shape.ONE),
        SectionKind("supplies", Supply, Shape.NAMED, makes_things=True),
        SectionKind("pedals", Pedal, Shape.NAMED, makes_things=True),
        SectionKind("amps", Amp, Shape.NAMED, makes_things=True),
        SectionKind("audio", AudioEntry, Shape.LIST, short="path"),
        SectionKind("accept", Accept, Shape.LIST),
    )
}

ALIASES = {"devices": "pedals"}
"""Other names that a section may have."""
