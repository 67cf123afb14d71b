"""What pedals, switchers and isolators have in common: power, sound, sockets, a place on the board."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field

from boardwright.spec.fields import (
    ONE_OR_MORE,
    Current,
    Flag,
    Frequency,
    Gain,
    LevelU,
    Mass,
    Needs,
    Opens,
    Place,
    Read,
    Resistance,
    Section,
    Size,
    Text,
    Time,
    choice,
)
from boardwright.spec.figure import Unreadable
from boardwright.spec.sections.placement import Placed, UnderFoot
from boardwright.spec.sections.supplies import Feeds

LEVELS = ("pickup", "instrument", "line", "line-consumer", "line-professional", "mic", "speaker")
"""Classes of level. Bare ``line`` means line-consumer on pedals and modellers."""

Polarity = choice("same", "inverts")


def _whole(text: str, least: int, most: int, what: str) -> int | None:
    if text.strip().lower() == "unknown":
        return None
    if not text.strip().isdecimal() or not least <= int(text) <= most:
        raise Unreadable(f"`{text}` is no {what}.", f"a whole number from {least} to {most}")
    return int(text)


def whole(least: int, most: int, what: str) -> Any:
    """A whole number in bounds, or ``unknown``."""
    schema = {"type": ["integer", "string"], "minimum": least, "maximum": most}
    return Annotated[int | None, Read(lambda text: _whole(text, least, most, what), schema)]


Width = whole(1, 2, "number of channels")
Channel = whole(0, 16, "MIDI channel")


class Channels(Section):
    """How many channels of sound go in and come out: 1 is mono, 2 is stereo."""

    in_: Width = Field(None, alias="in", description="Channels that go in.")
    out: Width = Field(None, description="Channels that come out.")


JACK_TYPES = ("TS", "TRS-balanced", "TRS-stereo", "TRS-insert", "XLR", "TRS-control", "DIN")
SIDES = ("left", "right", "front", "rear", "side")


class JackSpec(Section):
    """One socket. ``[left, 60]`` is its side and offset; ``TRS-stereo`` alone is its type."""

    side: choice(*SIDES) | None = Field(None, description="The side of the box it is on, as the player sees it; `side` for left and right.")
    offset: Place | None = Field(None, description="How far from the box's front (or left) edge.")
    type: choice(*(kind.lower() for kind in JACK_TYPES)) | None = Field(None, description="Its contacts: " + ", ".join(JACK_TYPES) + ".")
    ts_ok: Flag | None = Field(None, description="Whether a balanced output may be used with a plain two-contact plug.")
    carries: Annotated[list[choice("audio", "exp", "switch", "midi", "usb")], ONE_OR_MORE] | None = Field(
        None, description="What it is for; a list where it can be set to either."
    )


def _jack(value: Any) -> Any:
    if isinstance(value, list):
        return dict(zip(("side", "offset"), value, strict=False))
    if isinstance(value, str):
        return {"side" if value.strip().lower() in SIDES else "type": value}
    return value


ALL_JACKS = "all"
"""The name under which ``jacks: rear`` is kept."""

Jacks = Annotated[
    dict[str, Annotated[JackSpec, Opens(_jack)]],
    Opens(lambda value: value if isinstance(value, dict) else {ALL_JACKS: value}),
]


class Midi(Section):
    """What a box does with MIDI."""

    channel: Channel = Field(None, description="The channel it listens on, 1 to 16.")
    omni: Flag | None = Field(None, description="Whether it listens on every channel.")
    shared: Flag | None = Field(None, description="Whether it shares its channel on purpose.")
    counts_from: whole(0, 1, "first channel") = Field(None, description="0 for a box that numbers its channels 0 to 15.")
    thru: choice("hard", "soft", "none") | None = Field(None, description="How it hands messages on: by wire, by its processor, or not.")
    jack: choice("din", "trs-a", "trs-b") | None = Field(None, description="Its socket; the two TRS types are mirror images.")
    sends: Annotated[list[Channel], ONE_OR_MORE] | None = Field(None, description="The channels that its presets send on.")
    merges: Flag | None = Field(None, description="Whether it may be fed by several and merges what they send.")


class ExpressionJack(Section):
    """What a box wants from an expression pedal."""

    wiper: choice("tip", "ring") | None = Field(None, description="The contact that it wants the pedal's wiper on.")
    pot: Resistance | None = Field(None, description="The pot it works with, such as `10k to 50k`.")


class SwitchJack(Section):
    """What a box wants from an external footswitch."""

    contact: choice("normally-open", "normally-closed") | None = Field(None, description="Whether the contact rests open or closed.")
    action: choice("momentary", "latching") | None = Field(None, description="Whether the switch springs back or stays.")
    plug: choice("ts", "trs") | None = Field(None, description="The plug it takes: TS for one switch, TRS for two.")


class Box(UnderFoot, Placed):
    """A box that may take power and stand on the board."""

    kind: Text | None = Field(None, description="What it does.")
    needs: Needs | None = Field(None, description="What its power label says, or `none`.")
    feed: Feeds | None = Field(None, description="Where it gets its power: an outlet such as `brick.3`, or `battery`.")
    start: Current | None = Field(None, description="The current it takes for a moment at switch-on.")
    noise: Current | None = Field(None, description="The ripple in its current, rms, in the audio band.")
    load: choice("current", "power", "heater") | None = Field(None, description="How its current follows the voltage.")
    digital: Flag | None = Field(None, description="Whether a processor or converter sits inside.")
    clock: Frequency | None = Field(None, description="The clock of a bucket-brigade chip, converter or charge pump.")
    dual_feed: Flag | None = Field(None, description="Whether it may have two sources, as when the jack cuts off the battery.")
    ground: choice("negative", "positive", "isolated") | None = Field(None, description="Which pole of its supply is its signal ground.")
    unpowered: choice("passes", "silent") | None = Field(None, description="What it does to the sound when its power fails.")
    size: list[Size] | None = Field(None, description="Width, depth and height.", min_length=3, max_length=3)
    at: list[Place] | None = Field(None, description="Where its front left corner is.", min_length=2, max_length=2)
    weight: Mass | None = Field(None, description="What it weighs.")
    stepped: Flag | None = Field(None, description="Whether a foot uses it during a song.")
    jacks: Jacks | None = Field(None, description="Where its sockets are and what they are: `rear`, `side`, or one line for each.")


class Sound(Section):
    """What a box does to the sound that goes through it."""

    zin: Resistance | None = Field(None, description="Input impedance.")
    zout: Resistance | None = Field(None, description="Output impedance.")
    gain: Gain | None = Field(None, description="Its gain, or the range of it.")
    max_in: LevelU | None = Field(None, description="The loudest signal its input takes before it distorts.")
    max_out: LevelU | None = Field(None, description="The loudest signal its output gives.")
    level: choice(*LEVELS) | None = Field(None, description="The level it is made for. Bare `line` is consumer line level.")
    latency: Time | None = Field(None, description="How late the sound comes out while it is engaged, or the range of it.")
    latency_bypassed: Time | None = Field(None, description="How late the sound comes out while it is bypassed.")
    polarity: Polarity | None = Field(None, description="Whether it turns the signal upside down while engaged.")
    polarity_bypassed: Polarity | None = Field(None, description="Whether it turns the signal upside down while bypassed.")
    channels: Channels | None = Field(None, description="Mono or stereo, in and out.")
    phantom_ok: Flag | None = Field(None, description="Whether its output is made to meet 48 V phantom power.")
    isolating: Flag | None = Field(None, description="Whether a transformer inside keeps its output's ground and dc apart.")


class Isolation(Section):
    """What isolators and direct boxes have, wherever they are listed."""

    ratio: Text | None = Field(None, description="Turns ratio, in quotes, such as `\"1:1\"`.")
    max_level: LevelU | None = Field(None, description="The loudest signal it takes at 50 Hz before its core saturates.")
    load_least: Resistance | None = Field(None, description="The heaviest load (lowest impedance) that its output is rated for.")
    screen: choice("lifted", "through") | None = Field(None, description="Whether the screen is broken at it or passes through.")
    active: Flag | None = Field(None, description="Whether it has electronics that want power.")
    speaker_input: Flag | None = Field(None, description="Whether its input is made to meet an amplifier's loudspeaker output.")
