"""``pedals``: every box that sound or control goes through."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from boardwright.spec.fields import ONE_OR_MORE, Flag, Resistance, Text, choice
from boardwright.spec.sections.boxes import Box, ExpressionJack, Isolation, Midi, Sound, SwitchJack
from boardwright.spec.sections.wall import Input, Mark

KINDS = (
    "tuner", "buffer", "boost", "treble-booster", "compressor", "overdrive", "distortion", "fuzz", "wah", "volume-pedal",
    "chorus", "phaser", "flanger", "tremolo", "vibrato", "octave", "pitch", "envelope-filter", "delay", "reverb", "looper",
    "modeller", "amp-simulator", "noise-gate", "wireless-receiver", "equaliser", "mixer", "splitter", "valve-preamp",
    "preamp", "expression-pedal", "footswitch", "reamp", "di", "load-box", "midi-box", "other",
)  # fmt: skip

WANTS = ("direct-pickup", "weak-battery", "clean-signal")


class Pedal(Isolation, Sound, Box):
    """A box. Its kind lets the checker assume things that were not stated, and it says so when it does."""

    kind: choice(*KINDS) | None = Field(None, description="What it does. Gives assumptions, never a voltage or polarity.")
    transistors: choice("germanium", "silicon") | None = Field(None, description="What its transistors are made of.")
    wants: Annotated[list[choice(*WANTS)], ONE_OR_MORE] | None = Field(None, description="What it is happiest with.")
    bypass: choice("true-bypass", "relay", "buffered", "always-on") | None = Field(None, description="What it does to the sound when off.")
    dry_through: choice("yes", "no", "digital") | None = Field(
        None, description="Whether the dry sound passes as it is, not at all, or through its converters."
    )
    mix: choice("blend", "wet-only", "passive") | None = Field(
        None, description="Whether it gives dry and wet together or wet alone; `passive` for a mixer made of resistors."
    )
    trails: choice("wanted", "no") | None = Field(None, description="Whether its echoes should ring on when it is switched off.")
    tail: Flag | None = Field(None, description="Whether it goes on sounding after the playing stops, as delays and reverbs do.")
    mutes: Flag | None = Field(None, description="Whether it silences its output while engaged, as tuners in line do.")
    pot: Resistance | None = Field(None, description="Resistance of the pot in a passive volume or expression pedal.")
    coil: Flag | None = Field(None, description="Whether there is an inductor inside that hears transformers.")
    buffered_out: Flag | None = Field(None, description="Whether its output is buffered; of a wah, usually not.")
    key: choice("guitar", "input") | None = Field(None, description="What a noise gate listens to: the guitar itself, or what goes through it.")
    sends: Annotated[list[Text], ONE_OR_MORE] | None = Field(None, description="The sends of a mixer, each a switch.")
    dry: choice("through", "muted") | None = Field(None, description="Whether a mixer passes its own input on to its outputs.")
    keeps_return: Flag | None = Field(None, description="Whether a return stays connected while its send is off, so that tails ring on.")
    send_only: Flag | None = Field(None, description="Whether nothing is meant to come back from it, as from a tuner on a send.")
    parked: Flag | None = Field(None, description="Whether it stands on the board unplugged on purpose.")
    midi: Midi | None = Field(None, description="What it does with MIDI.")
    exp: ExpressionJack | None = Field(None, description="What it wants from an expression pedal.")
    switch_in: SwitchJack | None = Field(None, description="What it wants from an external footswitch.")
    input: Input = None
    class_: choice("I", "II", "i", "ii") | None = Field(None, alias="class", description="For one with a mains cord: protection class on its label.")
    mark: Mark = None
    cover: choice("on", "off") | None = Field(None, description="Whether its cover is on; a valve pedal has high voltage inside.")
