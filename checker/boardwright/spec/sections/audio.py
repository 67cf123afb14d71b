"""``audio``: how the sound goes, as chains of arrows."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from boardwright.spec.fields import ONE_OR_MORE, CapacitancePerLength, Chains, Flag, Length, Section, choice, opens_from
from boardwright.spec.sections.boxes import whole

LEAD_PLUGS = ("ts", "trs", "xlr", "ts-to-xlr", "trs-to-xlr", "trs-to-2ts", "ts-to-trs", "insert-y", "y")
"""Plugs at both ends, or at each: ``trs-to-2ts`` splits a stereo jack, ``insert-y`` serves an insert, ``y`` joins two to one."""


class AudioLead(Section):
    """An audio lead with a role of its own. ``6 m`` by itself is its length."""

    length: Length | None = Field(None, description="How long it is.")
    capacitance: CapacitancePerLength | None = Field(None, description="Its capacitance for each metre.")
    screen: choice("both", "one", "none") | None = Field(None, description="At which ends its screen is connected.")
    cores: whole(1, 2, "number of conductors") = Field(None, description="Conductors inside the screen; with two, one of them can be the return.")
    balanced: Flag | None = Field(None, description="Whether it carries the signal on two conductors inside the screen.")
    cable: choice("instrument", "loudspeaker", "microphone") | None = Field(None, description="What kind of cable it is.")
    plug: choice(*LEAD_PLUGS) | None = Field(None, description="Its plugs: `TS`, `TRS`, `XLR`, or two kinds as in `TS-to-XLR`.")
    ends: Annotated[list[choice("straight", "angled", "flat")], ONE_OR_MORE] | None = Field(
        None, description="The shape of each plug; a guitar lead's are straight unless said."
    )
    made: choice("soldered", "clamped", "moulded") | None = Field(None, description="How its plugs are fixed.")
    anchor: Flag | None = Field(None, description="Whether it is held where it leaves the board, so that a pull does not reach the jack.")
    stays_in: Flag | None = Field(None, description="Whether it stays plugged in for transport.")


class AudioEntry(Section):
    """``guitar > tuner > combo``: one or several chains, separated by commas; or the same as ``path`` with its lead."""

    path: Chains | None = Field(None, description="One or several chains.")
    lead: Annotated[AudioLead, opens_from("length")] | None = Field(None, description="The lead of each arrow in `path`.")
    feedback: choice("intended") | None = Field(None, description="`intended` where sound is meant to come back to where it was.")
