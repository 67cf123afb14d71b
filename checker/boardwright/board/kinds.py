"""What a kind of box lets us assume while nothing better is stated: never a voltage, never a polarity.

The gains are small-signal gains with the controls at a usual place, and serve the noise rules only. All of it is bench
experience, not a standard.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Kind:
    """Assumptions about a kind of box. Gain in dB."""

    gain: float = 0.0
    digital: bool = False
    clocked: bool = False
    heater: bool = False
    powered: bool = True


_PASSIVE = Kind(powered=False)
KINDS: dict[str, Kind] = {
    "tuner": Kind(digital=True),
    "buffer": Kind(),
    "boost": Kind(gain=15),
    "treble-booster": Kind(gain=25),
    "compressor": Kind(gain=30),
    "overdrive": Kind(gain=35),
    "distortion": Kind(gain=45),
    "fuzz": Kind(gain=55),
    "wah": Kind(gain=10),
    "volume-pedal": _PASSIVE,
    "chorus": Kind(),
    "phaser": Kind(),
    "flanger": Kind(),
    "tremolo": Kind(),
    "vibrato": Kind(),
    "octave": Kind(),
    "pitch": Kind(digital=True),
    "envelope-filter": Kind(gain=10),
    "delay": Kind(digital=True),
    "reverb": Kind(digital=True),
    "looper": Kind(digital=True),
    "modeller": Kind(digital=True),
    "amp-simulator": Kind(digital=True),
    "noise-gate": Kind(),
    "wireless-receiver": Kind(digital=True),
    "equaliser": Kind(gain=12),
    "mixer": Kind(),
    "splitter": Kind(),
    "valve-preamp": Kind(gain=40, heater=True),
    "preamp": Kind(gain=12),
    "expression-pedal": _PASSIVE,
    "footswitch": _PASSIVE,
    "reamp": _PASSIVE,
    "di": _PASSIVE,
}
UNNAMED = Kind()
"""A box whose kind is not stated, or ``other``."""


def kind_of(name: str | None) -> Kind:
    return KINDS.get(name or "", UNNAMED)
