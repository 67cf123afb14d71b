"""What a kind of box lets us assume while nothing better is stated: never a voltage, never a polarity.

All of it is bench experience, not a standard. The gains are small-signal gains with the controls at a usual place, and
serve the noise rules only.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Kind:
    """Assumptions about a kind of box. Gain in dB, impedances in ohm, latency in s, ceilings in V peak."""

    gain: float = 0.0
    digital: bool = False
    clocked: bool = False
    heater: bool = False
    powered: bool = True
    zin: float = 500e3
    zout: float = 1e3
    latency: tuple[float, float] = (0.0, 0.0)
    """How late it gives the sound while engaged: a range that is more than a point is a guess nobody should rely on."""
    drives: bool = True
    """Whether its output, while engaged, no longer leans on what is ahead of it."""
    has_switch: bool = True
    """Whether a foot can take it in and out; a buffer or a mixer is always in."""
    mutes: bool = False
    """Whether it silences its output while engaged."""
    tail: bool = False
    """Whether it goes on sounding after the playing stops."""
    dry: bool = True
    """Whether a copy of what goes in comes out beside its effect."""
    coil: bool = False
    carries_sound: bool = True
    ceiling: float | None = None
    """What its output is limited to, where that is its purpose."""
    level: str = "instrument"
    """Class of level at its output."""


_ECHO = (1e-3, 3e-3)
"""What a digital delay, reverb or looper usually takes."""

KINDS: dict[str, Kind] = {
    "tuner": Kind(digital=True, zin=1e6, mutes=True),
    "buffer": Kind(zin=1e6, zout=150, has_switch=False),
    "boost": Kind(gain=15, ceiling=3.0),
    "treble-booster": Kind(gain=25, zin=50e3, zout=10e3, ceiling=3.0),
    "compressor": Kind(gain=30, ceiling=1.0),
    "overdrive": Kind(gain=35, ceiling=1.0),
    "distortion": Kind(gain=45, ceiling=1.0),
    "fuzz": Kind(gain=55, zin=10e3, zout=10e3, ceiling=1.0),
    "wah": Kind(gain=10, zin=70e3, zout=10e3, coil=True),
    "volume-pedal": Kind(powered=False, zin=250e3, zout=62.5e3, drives=False, has_switch=False),
    "chorus": Kind(),
    "phaser": Kind(),
    "flanger": Kind(),
    "tremolo": Kind(),
    "vibrato": Kind(),
    "octave": Kind(latency=(0.0, 30e-3)),
    "pitch": Kind(digital=True, latency=(2e-3, 30e-3)),
    "envelope-filter": Kind(gain=10),
    "delay": Kind(digital=True, latency=_ECHO, tail=True),
    "reverb": Kind(digital=True, zin=1e6, latency=_ECHO, tail=True),
    "looper": Kind(digital=True, zin=1e6, latency=_ECHO, tail=True),
    "modeller": Kind(digital=True, zin=1e6, latency=(1.5e-3, 4e-3), level="line"),
    "amp-simulator": Kind(digital=True, zin=1e6, latency=(1.5e-3, 4e-3), level="line"),
    "noise-gate": Kind(),
    "wireless-receiver": Kind(digital=True, latency=(2e-3, 5e-3), has_switch=False),
    "equaliser": Kind(gain=12),
    "mixer": Kind(zout=150, has_switch=False),
    "splitter": Kind(zout=150, has_switch=False),
    "valve-preamp": Kind(gain=40, heater=True, zin=1e6, zout=10e3),
    "preamp": Kind(gain=12, zin=1e6),
    "expression-pedal": Kind(powered=False, carries_sound=False, has_switch=False),
    "footswitch": Kind(powered=False, carries_sound=False, has_switch=False),
    "midi-box": Kind(carries_sound=False, has_switch=False),
    "reamp": Kind(powered=False, zin=10e3, zout=10e3, drives=False, has_switch=False),
    "di": Kind(powered=False, zin=150e3, zout=600, drives=False, has_switch=False, level="mic"),
    "load-box": Kind(powered=False, drives=False, has_switch=False, level="line"),
    # beside the pedals
    "transformer": Kind(powered=False, zin=10e3, zout=10e3, drives=False, has_switch=False, coil=True),
    "optocoupler": Kind(powered=False, has_switch=False),
    "relay": Kind(powered=False, drives=False, has_switch=False),
    "loop-switcher": Kind(digital=True, has_switch=False),
    "selector": Kind(powered=False, drives=False, has_switch=False),
}
UNNAMED = Kind()
"""A box whose kind is not stated, or ``other``."""


def kind_of(name: str | None) -> Kind:
    return KINDS.get(name or "", UNNAMED)
