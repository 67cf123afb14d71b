"""``amps``: where the sound ends."""

from __future__ import annotations

from pydantic import Field

from boardwright.spec.fields import Gain, Section, choice


class Amp(Section):
    """An amplifier, powered speaker, desk or interface."""

    kind: choice("valve", "solid-state", "digital", "powered-speaker", "desk", "interface") | None = Field(None, description="What it is.")
    class_: choice("I", "II", "i", "ii") | None = Field(None, alias="class", description="Protection class on its label.")
    gain: Gain | None = Field(None, description="Gain ahead of its volume control; a clean amplifier has none.")
