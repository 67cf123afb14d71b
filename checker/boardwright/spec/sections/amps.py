"""``amps``: where the sound ends."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field

from boardwright.spec.fields import NOTHING, Flag, Gain, LevelU, Opens, Power, Read, Resistance, Section, Time, choice
from boardwright.spec.figure import RESISTANCE, Figure, read_figure
from boardwright.spec.sections.boxes import LEVELS, Channels, Jacks, Polarity
from boardwright.spec.sections.wall import Circuit, Input, Leakage, MainsLoad, Mark, SetTo


def _speaker(text: str) -> Figure | str:
    return NOTHING if text.strip().lower() == NOTHING else read_figure(text, RESISTANCE)


Speaker = Annotated[Figure | str, Read(_speaker, {"type": "string", "examples": ["8 ohm", NOTHING]})]


def _loop(value: Any) -> Any:
    """``yes`` or ``none`` alone is both of its jacks."""
    word = {"none": "no"}.get(value.strip().lower(), value) if isinstance(value, str) else value
    return {"send": word, "return": word} if isinstance(word, str) else word


class EffectsLoop(Section):
    """An amplifier's effects loop, between its preamplifier and its power amplifier."""

    send: Flag | None = Field(None, description="Whether it has a send.")
    return_: Flag | None = Field(None, alias="return", description="Whether it has a return.")
    level: choice(*LEVELS) | None = Field(None, description="The level of its send and return.")
    mode: choice("serial", "parallel") | None = Field(None, description="Whether all of the sound goes through it, or a part.")
    zin: Resistance | None = Field(None, description="Input impedance of its return.")
    zout: Resistance | None = Field(None, description="Output impedance of its send.")


class Amp(Section):
    """An amplifier, powered speaker, desk or interface."""

    kind: choice("valve", "solid-state", "digital", "powered-speaker", "desk", "interface", "cabinet") | None = Field(None, description="What it is.")
    class_: choice("I", "II", "i", "ii") | None = Field(None, alias="class", description="Protection class on its label.")
    gain: Gain | None = Field(None, description="Gain ahead of its volume control; a clean amplifier has none.")
    role: choice("full", "dry", "wet") | None = Field(None, description="What it is there to play: all of the sound, the dry sound, or the effects.")
    required: Flag | None = Field(None, description="Whether it is always in the rig.")
    zin: Resistance | None = Field(None, description="Input impedance.")
    max_in: LevelU | None = Field(None, description="The loudest signal its input takes before it distorts.")
    level: choice(*LEVELS) | None = Field(None, description="The level its input is made for.")
    polarity: Polarity | None = Field(None, description="Whether its loudspeaker moves the other way than its input.")
    latency: Time | None = Field(None, description="How late the sound comes out of it.")
    loop: Annotated[EffectsLoop, Opens(_loop)] | None = Field(None, description="Its effects loop; `yes` alone is one with both jacks.")
    speaker: Speaker | None = Field(None, description="The loudspeaker connected to it, such as `8 ohm`, or `none`.")
    speaker_least: Resistance | None = Field(None, description="The lowest loudspeaker impedance that it is rated for.")
    power: Power | None = Field(None, description="The power that it gives its loudspeaker.")
    phantom: choice("on", "off") | None = Field(None, description="Whether its inputs send 48 V up the lead.")
    jacks: Jacks | None = Field(None, description="What its sockets are.")
    channels: Channels | None = Field(None, description="`{in: 2}` for one that plays stereo.")
    earth_bond: choice("hard", "soft", "none") | None = Field(
        None, description="How its signal ground meets protective earth inside: joined (`hard`), through a resistance of some ohms (`soft`), or not."
    )
    input: Input = None
    set_to: SetTo = None
    mark: Mark = None
    circuit: Circuit = None
    load: MainsLoad = None
    leakage: Leakage = None
