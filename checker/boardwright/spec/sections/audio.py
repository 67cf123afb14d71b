"""``audio``: how the sound goes, as chains of arrows."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from boardwright.spec.fields import CapacitancePerLength, Chains, Length, Section, choice, opens_from


class AudioLead(Section):
    """An audio lead with a role of its own. ``6 m`` by itself is its length."""

    length: Length | None = Field(None, description="How long it is.")
    capacitance: CapacitancePerLength | None = Field(None, description="Its capacitance for each metre.")
    screen: choice("both", "one", "none") | None = Field(None, description="At which ends its screen is connected.")


class AudioEntry(Section):
    """``guitar > tuner > combo``: one or several chains, separated by commas; or the same as ``path`` with its lead."""

    path: Chains | None = Field(None, description="One or several chains.")
    lead: Annotated[AudioLead, opens_from("length")] | None = Field(None, description="The lead of each arrow in `path`.")
