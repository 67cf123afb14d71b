"""``openings``: holes that leads pass through."""

from __future__ import annotations

from pydantic import Field

from boardwright.spec.fields import Flag, Place, Section, Size, choice


class Opening(Section):
    """A hole in the deck or in a wall of the frame."""

    dia: Size | None = Field(None, description="Its diameter.")
    at: list[Place] | None = Field(None, description="Where its middle is, if it goes through the deck.", min_length=2, max_length=2)
    edge: choice("metal", "wood", "plastic") | None = Field(None, description="What its edge is made of.")
    grommet: Flag | None = Field(None, description="Whether it is lined with a grommet or edge strip.")
