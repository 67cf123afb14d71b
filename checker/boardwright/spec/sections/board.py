"""``board``: what it is called, what it is for, and the frame that it stands on."""

from __future__ import annotations

from pydantic import Field

from boardwright.spec.fields import Place, Section, Text, choice

Purpose = choice("home", "studio", "stage", "tour")


class Frame(Section):
    """The frame that the boxes stand on."""

    size: list[Place] | None = Field(None, description="Width and depth.", min_length=2, max_length=2)
    material: choice("wood", "metal", "plastic") | None = Field(None, description="What the deck is made of.")
    gap_under: Place | None = Field(None, description="Clear height below the deck.")


class Board(Section):
    """The board as a whole."""

    name: Text | None = Field(None, description="What the board is called.")
    for_: Purpose | None = Field(None, alias="for", description="Where it is used; a touring board is asked for more.")
    client: Text | None = Field(None, description="Whom it is built for, if not for yourself.")
    frame: Frame | None = Field(None, description="The frame that the boxes stand on.")
