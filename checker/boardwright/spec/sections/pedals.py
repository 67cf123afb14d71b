"""``pedals``: every box that sound or control goes through."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BeforeValidator, Field

from boardwright.spec.fields import Current, Flag, Frequency, Gain, Needs, Place, Section, choice
from boardwright.spec.sections.supplies import Feeds

KINDS = (
    "tuner", "buffer", "boost", "treble-booster", "compressor", "overdrive", "distortion", "fuzz", "wah", "volume-pedal",
    "chorus", "phaser", "flanger", "tremolo", "vibrato", "octave", "pitch", "envelope-filter", "delay", "reverb", "looper",
    "modeller", "amp-simulator", "noise-gate", "wireless-receiver", "equaliser", "mixer", "splitter", "valve-preamp",
    "preamp", "expression-pedal", "footswitch", "reamp", "di", "other",
)  # fmt: skip

WANTS = ("direct-pickup", "weak-battery", "clean-signal")


def _as_list(value: Any) -> Any:
    return value if isinstance(value, list) else [value]


class Pedal(Section):
    """A box. Its kind lets the checker assume things that were not stated, and it says so when it does."""

    kind: choice(*KINDS) | None = Field(None, description="What it does. Gives assumptions, never a voltage or polarity.")
    needs: Needs | None = Field(None, description="What its power label says, or `none`.")
    feed: Feeds | None = Field(None, description="Where it gets its power: an outlet such as `brick.3`, or `battery`.")
    start: Current | None = Field(None, description="The current it takes for a moment at switch-on.")
    noise: Current | None = Field(None, description="The ripple in its current, rms, in the audio band.")
    load: choice("current", "power", "heater") | None = Field(None, description="How its current follows the voltage.")
    digital: Flag | None = Field(None, description="Whether a processor or converter sits inside.")
    clock: Frequency | None = Field(None, description="The clock of a bucket-brigade chip, converter or charge pump.")
    dual_feed: Flag | None = Field(None, description="Whether it may have two sources, as when the jack cuts off the battery.")
    ground: choice("negative", "positive", "isolated") | None = Field(None, description="Which pole of its supply is its signal ground.")
    transistors: choice("germanium", "silicon") | None = Field(None, description="What its transistors are made of.")
    wants: Annotated[list[choice(*WANTS)], BeforeValidator(_as_list)] | None = Field(None, description="What it is happiest with.")
    gain: Gain | None = Field(None, description="Its gain, or the range of it.")
    bypass: choice("true-bypass", "relay", "buffered", "always-on") | None = Field(None, description="What it does to the sound when off.")
    size: list[Place] | None = Field(None, description="Width, depth and height.", min_length=3, max_length=3)
    at: list[Place] | None = Field(None, description="Where its front left corner is.", min_length=2, max_length=2)
