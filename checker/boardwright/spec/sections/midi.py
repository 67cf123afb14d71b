"""``midi``: who hands messages to whom, as chains of arrows."""

from __future__ import annotations

from pydantic import Field

from boardwright.spec.fields import Chains, Flag, Length, Section, choice


class MidiEntry(Section):
    """``hub.midi_out > echo, echo.midi_thru > hall``; or the same as ``path`` with its lead."""

    path: Chains | None = Field(None, description="One or several chains.")
    length: Length | None = Field(None, description="How long each of its leads is.")
    crosses: Flag | None = Field(None, description="Whether the lead swaps tip and ring, so that TRS type A meets type B.")
    screen: choice("both", "one") | None = Field(None, description="`both` where the receiver joins the screen too; by the standard it does not.")
