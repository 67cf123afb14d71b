"""``instruments``: whatever else plays into the board."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from boardwright.spec.fields import Flag, Read, Resistance, choice
from boardwright.spec.figure import VOLTAGE, Figure, Unreadable, read_figure
from boardwright.spec.sections.boxes import LEVELS, Channels
from boardwright.spec.sections.guitar import Guitar


def _loudness(text: str) -> Figure | str:
    word = text.strip().lower()
    if word in LEVELS:
        return word
    try:
        return read_figure(text, VOLTAGE)
    except Unreadable as error:
        raise Unreadable(error.message, f"volts such as `0.6 V`, or one of {', '.join(LEVELS)}") from None


Loudness = Annotated[Figure | str, Read(_loudness, {"type": "string", "examples": ["line-professional"]})]


class Instrument(Guitar):
    """An instrument or player besides the guitar; the same keys, and what it is."""

    kind: choice("guitar", "bass", "acoustic", "keyboard", "synth", "playback", "microphone", "other") | None = Field(
        None, description="What it is."
    )
    level: Loudness | None = Field(None, description="How many volts (peak) it gives when played hard, or its class of level.")
    zout: Resistance | None = Field(None, description="Output impedance, for anything but a passive pickup.")
    channels: Channels | None = Field(None, description="`{out: 2}` for one that plays stereo.")
    phantom_ok: Flag | None = Field(None, description="Whether its output is made to meet 48 V phantom power.")
