"""Noise: from shared leads, from warm resistors, from several stages, and from two clocks that beat."""

import math
from collections.abc import Sequence
from typing import NamedTuple

from ._inputs import decibels, not_negative, positive, whole
from .impedance import parallel
from .levels import dbv

BOLTZMANN = 1.380649e-23
"""Boltzmann's constant [J/K], exact by definition of the kelvin. Source: SI brochure, 9th edition."""


def common_impedance_voltage(current: float, *paths: float) -> float:
    """Noise voltage that a noisy current leaves along a return that others share.

    Args:
        current: alternating part of the current [A].
        paths: resistance of each way back that lies side by side with the others [ohm], at least one.

    Returns:
        Voltage [V].

    Raises:
        ValueError: no path, or a value below zero.

    Source:
        Ohm's law over resistances side by side; common-impedance coupling, Ott, Noise Reduction Techniques in
        Electronic Systems, chapter 2 (named from memory).
    """
    not_negative(current=current)
    return current * parallel(*paths)


def level_after(voltage: float, gain: float) -> float:
    """Level of a small voltage after all the gain that follows it.

    Args:
        voltage: effective voltage [V].
        gain: sum of the gains that follow [dB].

    Returns:
        Level [dBV].

    Raises:
        ValueError: voltage not above zero, or a gain that is not a number from -600 to 600.

    Source:
        Definition of the decibel.
    """
    decibels(gain=gain)
    return dbv(voltage) + gain


def johnson_noise(resistance: float, bandwidth: float, temperature: float = 300.0) -> float:
    """Noise voltage that any resistance makes by being warm.

    Args:
        resistance: resistance [ohm].
        bandwidth: width of the band listened to [Hz].
        temperature: temperature [K]; a warm room unless given.

    Returns:
        Effective voltage [V].

    Raises:
        ValueError: a value below zero.

    Source:
        Johnson and Nyquist (1928), sqrt(4 k T R B).
    """
    not_negative(resistance=resistance, bandwidth=bandwidth, temperature=temperature)
    return math.sqrt(4 * BOLTZMANN * temperature * resistance * bandwidth)


def noise_sum(voltages: Sequence[float]) -> float:
    """Noise voltage of several sources that know nothing of each other.

    Args:
        voltages: effective voltage of each [V].

    Returns:
        Effective voltage of all together [V].

    Raises:
        ValueError: a voltage below zero.

    Source:
        Powers of uncorrelated signals add: root of the sum of squares.
    """
    for voltage in voltages:
        not_negative(voltage=voltage)
    return math.hypot(*voltages)


class Beat(NamedTuple):
    """A difference tone of two clocks.

    Attributes:
        first: which multiple of the first clock [1].
        second: which multiple of the second clock [1].
        frequency: the difference tone [Hz].
    """

    first: int
    second: int
    frequency: float


def clock_beats(first: float, second: float, low: float, high: float, order: int) -> list[Beat]:
    """Difference tones of two clocks and their multiples that fall into a band, lowest multiples first.

    Args:
        first: frequency of one clock [Hz].
        second: frequency of the other [Hz].
        low: lower end of the band [Hz], included.
        high: upper end of the band [Hz], included.
        order: highest multiple of either clock to look at [1], up to 100.

    Returns:
        The beats ([1], [1], [Hz]).

    Raises:
        ValueError: a frequency not above zero, a band upside down, or an order that is not a whole number from 1.

    Source:
        Product of two periodic signals, |n f1 - m f2|.
    """
    positive(first=first, second=second, high=high)
    not_negative(low=low)
    whole(1, 100, order=order)
    if low > high:
        raise ValueError("the band's lower end lies above its upper end")
    multiples = range(1, order + 1)
    beats = [Beat(n, m, abs(n * first - m * second)) for n in multiples for m in multiples]
    heard = [beat for beat in beats if low <= beat.frequency <= high]
    return sorted(heard, key=lambda beat: (beat.first + beat.second, beat.frequency))
