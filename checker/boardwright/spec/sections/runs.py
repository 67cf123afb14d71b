"""``runs``: leads whose way over the board is drawn, measured or cut."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from boardwright.spec.fields import ONE_OR_MORE, Current, Flag, Jack, PatchLength, Place, Read, Section, Size, Text, choice, read_chains
from boardwright.spec.figure import Unreadable

CARRIES = ("audio", "dc", "ac-low", "mains", "midi", "usb", "control")
RUN_ENDS = ("straight", "angled", "flat", "xlr", "din", "usb", "iec", "bare")
"""Shapes of a lead's ends; the first three are those of what it carries."""


def _joins(text: str) -> tuple[Jack, Jack]:
    chains = read_chains(text)
    if len(chains) != 1 or len(chains[0]) != 2:
        raise Unreadable(f"`{text}` joins more than two things.", "one arrow, such as `drive > echo`")
    return chains[0]


Joins = Annotated[tuple[Jack, Jack], Read(_joins, {"type": "string", "examples": ["drive > echo"]})]
Point = Annotated[list[Place], Field(min_length=2, max_length=2)]


class Run(Section):
    """A lead with its way over the board."""

    id: Text | None = Field(None, description="What it is called, as on its label.")
    carries: choice(*CARRIES) | None = Field(None, description="What it carries; `ac-low` is low-voltage AC, `dc` is pedal power.")
    joins: Joins | None = Field(None, description="What it joins, such as `drive > echo`.")
    path: list[Point] | None = Field(None, description="The corners of its way, from the first end to the last.", max_length=60)
    under: Flag | None = Field(None, description="Whether it runs below the deck.")
    length: PatchLength | None = Field(None, description="Its length from tip to tip, as bought or as wanted.")
    cut: PatchLength | None = Field(None, description="The length its cable was, or is to be, cut to.")
    od: Size | None = Field(None, description="Outer diameter of its cable.")
    flex: Flag | None = Field(None, description="Whether it moves in use, as at a treadle, a lid or between two frames.")
    core: choice("stranded", "solid") | None = Field(None, description="Whether its conductors are many thin wires or one thick one.")
    bends: Annotated[list[Place], ONE_OR_MORE] | None = Field(None, description="Inside radius of each of its bends.")
    ties: Annotated[list[Place], ONE_OR_MORE] | None = Field(None, description="Where it is held, measured along it from the first end.")
    tied: choice("snug", "tight") | None = Field(None, description="How its ties are pulled; `tight` squeezes the cable.")
    holes: Annotated[list[Text], ONE_OR_MORE] | None = Field(None, description="The openings that it passes, by name.")
    ends: Annotated[list[choice(*RUN_ENDS)], ONE_OR_MORE] | None = Field(
        None, description="The shape of its plugs, if they are on before it is laid.", max_length=2
    )
    made: choice("soldered", "crimped", "clamped", "moulded") | None = Field(None, description="How its plugs are fixed.")
    strip: PatchLength | None = Field(None, description="Cable that is used up at each end by stripping.")
    stock: Text | None = Field(None, description="The cable in `stock` that it is cut from.")
    screen: choice("both", "one", "none") | None = Field(None, description="At which ends its screen is connected.")
    open_end: Flag | None = Field(None, description="Whether a plug's cover is missing, so that its hot contact lies open.")
    current: Current | None = Field(None, description="The alternating current in it: mains or low-voltage AC, or the ripple in DC.")
    leaves_board: Flag | None = Field(None, description="Whether it goes on beyond the board.")
    anchor: Flag | None = Field(None, description="Whether a clamp or anchor takes the pull before the first plug.")
    labelled: Flag | None = Field(None, description="Whether its label is on it, at both ends; taken for granted where it has an `id`.")
