"""``guitar``: what plays into the board."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from boardwright.spec.fields import (
    Capacitance,
    CapacitancePerLength,
    Inductance,
    Length,
    Resistance,
    Section,
    Voltage,
    choice,
    opens_from,
)


class GuitarLead(Section):
    """The lead from the guitar to the board. ``6 m`` by itself is its length."""

    length: Length | None = Field(None, description="How long it is.")
    capacitance: CapacitancePerLength | None = Field(None, description="Its capacitance for each metre.")


class Guitar(Section):
    """The guitar. It is called ``guitar`` in ``audio``."""

    pickups: choice("single-coil", "humbucker", "p-style", "piezo", "active") | None = Field(None, description="What kind of pickups it has.")
    L: Inductance | None = Field(None, description="A pickup's inductance.")
    R: Resistance | None = Field(None, description="A pickup's resistance.")
    C: Capacitance | None = Field(None, description="A pickup's own capacitance.")
    volume_pot: Resistance | None = Field(None, description="The volume control's resistance.")
    tone_pot: Resistance | None = Field(None, description="The tone control's resistance.")
    level: Voltage | None = Field(None, description="How many volts (peak) it gives when played hard.")
    lead: Annotated[GuitarLead, opens_from("length")] | None = Field(None, description="The lead to the board.")
