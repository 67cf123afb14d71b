"""``spares``: what travels along for the day that something dies."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from boardwright.spec.fields import ONE_OR_MORE, Flag, PatchLength, Section, Text, choice
from boardwright.spec.sections.boxes import whole
from boardwright.spec.sections.runs import CARRIES


class Spare(Section):
    """A spare. A lead has ``carries``; anything else has ``what``."""

    what: choice("lead", "fuse", "battery", "valve", "supply", "pedal", "other") | None = Field(None, description="What it is; a lead unless stated.")
    carries: choice(*CARRIES) | None = Field(None, description="What a spare lead carries.")
    length: PatchLength | None = Field(None, description="How long the lead is.")
    plug: Text | None = Field(None, description="Its plug, as the lead that it stands in for has it: `TS`, `5.5x2.1`, `4-pin`.")
    reverses: Flag | None = Field(None, description="Whether a power lead swaps plus and minus.")
    rescue: Flag | None = Field(None, description="Whether it is kept at hand to go straight from guitar to amplifier.")
    count: whole(1, 100, "number of spares") = Field(None, description="How many there are; one unless stated.")
    of: Annotated[list[Text], ONE_OR_MORE] | None = Field(None, description="The things that it stands in for, if it is made for them.")
