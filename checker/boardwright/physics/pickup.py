"""A magnetic pickup with its cable and load, as the resonant low-pass filter that it is."""

import math
from typing import NamedTuple

from ._inputs import not_negative, positive
from .impedance import lc_resonance
from .levels import decibels_of


class Pickup(NamedTuple):
    """A magnetic pickup by its equivalent circuit.

    Attributes:
        inductance: inductance of the coil [H].
        resistance: resistance of its wire [ohm].
        capacitance: capacitance between its turns [F].
    """

    inductance: float
    resistance: float
    capacitance: float


class Peak(NamedTuple):
    """The resonant peak of a pickup.

    Attributes:
        frequency: where it lies [Hz].
        level: its height above low frequencies [dB].
    """

    frequency: float
    level: float


def response(frequency: float, pickup: Pickup, cable: float, load: float) -> complex:
    """Voltage at the end of the cable against the voltage induced in the coil.

    Args:
        frequency: frequency [Hz].
        pickup: the pickup (inductance [H], resistance [ohm], capacitance [F]).
        cable: capacitance of all cable up to the first active input, inputs included [F].
        load: resistance of pots and input side by side [ohm].

    Returns:
        Complex ratio [1].

    Raises:
        ValueError: a frequency, cable, pickup resistance or pickup capacitance below zero, or a pickup inductance, a
            load or the whole capacitance not above it.

    Source:
        Equivalent circuit of a pickup: coil and wire in series, then capacitance and load across the output; Paiva,
        Pakarinen and Välimäki, Acoustics and modeling of pickups, JAES 60(10) (2012).
    """
    not_negative(frequency=frequency)
    positive(load=load)
    capacitance = _capacitance(pickup, cable)
    s = 2j * math.pi * frequency
    return 1 / (1 + (pickup.resistance + s * pickup.inductance) * (s * capacitance + 1 / load))


def level(frequency: float, reference: float, pickup: Pickup, cable: float, load: float) -> float:
    """Level at one frequency against that at another.

    Args:
        frequency: the frequency of interest [Hz].
        reference: the frequency to compare with [Hz].
        pickup: the pickup (inductance [H], resistance [ohm], capacitance [F]).
        cable: capacitance of all cable up to the first active input, inputs included [F].
        load: resistance of pots and input side by side [ohm].

    Returns:
        Level [dB].

    Raises:
        ValueError: as response().

    Source:
        As response().
    """
    here = abs(response(frequency, pickup, cable, load))
    there = abs(response(reference, pickup, cable, load))
    return decibels_of(here / there)


def resonance(pickup: Pickup, cable: float) -> float:
    """Resonance of a pickup with its cable, leaving losses aside.

    Args:
        pickup: the pickup (inductance [H], resistance [ohm], capacitance [F]).
        cable: capacitance of all cable up to the first active input, inputs included [F].

    Returns:
        Frequency [Hz].

    Raises:
        ValueError: an inductance or a whole capacitance not above zero.

    Source:
        Thomson's formula, 1 / (2 pi sqrt(L C)).
    """
    return lc_resonance(pickup.inductance, _capacitance(pickup, cable))


def quality(pickup: Pickup, cable: float, load: float) -> float:
    """Quality factor of the resonance: above 0.71 it shows as a peak.

    Args:
        pickup: the pickup (inductance [H], resistance [ohm], capacitance [F]).
        cable: capacitance of all cable up to the first active input, inputs included [F].
        load: resistance of pots and input side by side [ohm].

    Returns:
        Quality factor [1].

    Raises:
        ValueError: as response().

    Source:
        Coefficients of the second-order low-pass of response(). Where the wire's resistance is small it comes to the
        well-known load * sqrt(C / L).
    """
    positive(load=load)
    capacitance = _capacitance(pickup, cable)
    inductance, resistance, _ = pickup
    damping = resistance * capacitance + inductance / load
    return math.sqrt(inductance * capacitance * (1 + resistance / load)) / damping


def peak(pickup: Pickup, cable: float, load: float) -> Peak | None:
    """The resonant peak, if there is one.

    Args:
        pickup: the pickup (inductance [H], resistance [ohm], capacitance [F]).
        cable: capacitance of all cable up to the first active input, inputs included [F].
        load: resistance of pots and input side by side [ohm].

    Returns:
        The peak ([Hz], [dB]), or None where losses have flattened it.

    Raises:
        ValueError: as response().

    Source:
        Greatest magnitude of a second-order low-pass, at f0 sqrt(1 - 1 / (2 Q^2)).
    """
    q = quality(pickup, cable, load)
    rounding = 1 - 1 / (2 * q**2)
    if rounding <= 0:
        return None
    loaded = resonance(pickup, cable) * math.sqrt(1 + pickup.resistance / load)
    return Peak(loaded * math.sqrt(rounding), decibels_of(q / math.sqrt(1 - 1 / (4 * q**2))))


def _capacitance(pickup: Pickup, cable: float) -> float:
    positive(pickup_inductance=pickup.inductance)
    not_negative(pickup_resistance=pickup.resistance, pickup_capacitance=pickup.capacitance, cable=cable)
    positive(capacitance=pickup.capacitance + cable)
    return pickup.capacitance + cable
