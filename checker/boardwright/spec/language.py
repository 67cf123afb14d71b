"""Which sections a board has. To add one: write its model in ``sections/``, give it a line here and one in ``Spec``."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from boardwright.spec.fields import Section
from boardwright.spec.sections.accept import Accept
from boardwright.spec.sections.amps import Amp
from boardwright.spec.sections.audio import AudioEntry
from boardwright.spec.sections.board import Board
from boardwright.spec.sections.computers import Computer
from boardwright.spec.sections.control import ControlLead
from boardwright.spec.sections.grounds import GroundBond
from boardwright.spec.sections.guitar import Guitar
from boardwright.spec.sections.instruments import Instrument
from boardwright.spec.sections.isolators import Isolator
from boardwright.spec.sections.mains import Mains
from boardwright.spec.sections.midi import MidiEntry
from boardwright.spec.sections.openings import Opening
from boardwright.spec.sections.papers import Paper
from boardwright.spec.sections.pedals import Pedal
from boardwright.spec.sections.place import Place
from boardwright.spec.sections.presets import Preset
from boardwright.spec.sections.promises import Promise
from boardwright.spec.sections.readings import Reading
from boardwright.spec.sections.runs import Run
from boardwright.spec.sections.spares import Spare
from boardwright.spec.sections.steps import Step
from boardwright.spec.sections.stock import Stock
from boardwright.spec.sections.supplies import Supply
from boardwright.spec.sections.switchers import Switcher
from boardwright.spec.sections.symptom import Symptom
from boardwright.spec.sections.upkeep import Upkeep
from boardwright.spec.sections.usb import UsbLead


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
        SectionKind("instruments", Instrument, Shape.NAMED, makes_things=True),
        SectionKind("supplies", Supply, Shape.NAMED, makes_things=True),
        SectionKind("pedals", Pedal, Shape.NAMED, makes_things=True),
        SectionKind("switchers", Switcher, Shape.NAMED, makes_things=True),
        SectionKind("isolators", Isolator, Shape.NAMED, makes_things=True),
        SectionKind("amps", Amp, Shape.NAMED, makes_things=True),
        SectionKind("computers", Computer, Shape.NAMED, makes_things=True),
        SectionKind("audio", AudioEntry, Shape.LIST, short="path"),
        SectionKind("control", ControlLead, Shape.LIST),
        SectionKind("midi", MidiEntry, Shape.LIST, short="path"),
        SectionKind("usb", UsbLead, Shape.LIST),
        SectionKind("grounds", GroundBond, Shape.LIST),
        SectionKind("mains", Mains, Shape.ONE),
        SectionKind("presets", Preset, Shape.NAMED),
        SectionKind("promises", Promise, Shape.LIST),
        SectionKind("runs", Run, Shape.LIST),
        SectionKind("openings", Opening, Shape.NAMED),
        SectionKind("stock", Stock, Shape.NAMED),
        SectionKind("steps", Step, Shape.LIST),
        SectionKind("readings", Reading, Shape.LIST),
        SectionKind("spares", Spare, Shape.LIST),
        SectionKind("papers", Paper, Shape.LIST, short="paper"),
        SectionKind("symptom", Symptom, Shape.ONE),
        SectionKind("upkeep", Upkeep, Shape.ONE),
        SectionKind("accept", Accept, Shape.LIST),
    )
}

ALIASES = {"devices": "pedals"}
"""Other names that a section may have."""
