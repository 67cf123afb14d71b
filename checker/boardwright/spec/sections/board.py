"""``board``: what it is called, what it is for, the frame that it stands on and the case that it travels in."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from boardwright.spec.fields import ONE_OR_MORE, Flag, Mass, Place, Section, Size, Text, choice
from boardwright.spec.sections.boxes import whole
from boardwright.spec.sections.placement import SIDES, Fixing

Purpose = choice("home", "studio", "stage", "tour")


class Row(Section):
    """A row: a strip of the deck from front to back, and how far it is raised."""

    span: list[Place] | None = Field(None, description="Where it begins and ends, from the frame's front edge.", min_length=2, max_length=2)
    rise: Place | None = Field(None, description="How far it stands above the front deck; 0 if not stated.")


class Edge(Section):
    """Rails along the frame's edges: how high each stands above the deck."""

    left: Place | None = Field(None, description="Height of the left rail.")
    right: Place | None = Field(None, description="Height of the right rail.")
    front: Place | None = Field(None, description="Height of the front rail.")
    back: Place | None = Field(None, description="Height of the back rail.")


class Frame(Section):
    """The frame that the boxes stand on."""

    size: list[Size] | None = Field(None, description="Width and depth.", min_length=2, max_length=2)
    material: choice("wood", "metal", "plastic") | None = Field(None, description="What the deck is made of.")
    gap_under: Annotated[list[Place], ONE_OR_MORE] | None = Field(
        None, description="Clear height below the deck; of a sloped frame `[front, back]`.", min_length=1, max_length=2
    )
    thickness: Size | None = Field(None, description="Thickness of the deck.")
    rows: list[Row] | None = Field(None, description="The rows, from the front; without them the deck is flat and one.", max_length=20)
    edge: Edge | None = Field(None, description="Rails along the edges.")


class Case(Section):
    """The case that the board travels in."""

    inside: list[Size] | None = Field(None, description="Width, depth and height inside.", min_length=3, max_length=3)
    lid_clear: Place | None = Field(None, description="Clear height from the front deck up to the closed lid, foam included if it is in `foam`.")
    foam: Place | None = Field(None, description="Thickness of the foam in the lid.")
    empty_weight: Mass | None = Field(None, description="What the case weighs with the bare frame in it.")
    wheels: Flag | None = Field(None, description="Whether it has wheels.")
    lifters: whole(1, 8, "number of people") = Field(None, description="How many people lift it.")
    handle: choice(*SIDES) | None = Field(None, description="The side that it hangs from when carried; a long one if not stated.")
    flies: Flag | None = Field(None, description="Whether it goes on aeroplanes as baggage.")


class Board(Section):
    """The board as a whole."""

    name: Text | None = Field(None, description="What the board is called.")
    for_: Purpose | None = Field(None, alias="for", description="Where it is used; a touring board is asked for more.")
    client: Text | None = Field(None, description="Whom it is built for, if not for yourself.")
    frame: Frame | None = Field(None, description="The frame that the boxes stand on.")
    case: Case | None = Field(None, description="The case that the board travels in.")
    fixing: Fixing | None = Field(None, description="What holds the boxes to the frame.")
    player: choice("standing", "sitting") | None = Field(None, description="How the player plays; a sitting foot reaches less far.")
