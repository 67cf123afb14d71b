"""A sound mixed with a slightly late copy of itself: the comb filter."""

import cmath
import math
from typing import NamedTuple

from ._inputs import decibels, not_negative, positive, whole
from .levels import decibels_of, ratio_of

SPEED_OF_SOUND = 343.0
"""In dry air at 20 °C [m/s]. Source: textbook value."""


class Ripple(NamedTuple):
    """How far a comb filter reaches down and up.

    Attributes:
        dip: level at its notches [dB], or None where nothing at all is left.
        peak: level at its peaks [dB].
    """

    dip: float | None
    peak: float


def response(frequency: float, delay: float, level_difference: float = 0.0, opposed: bool = False) -> complex:
    """A sound and its copy together, against the sound alone.

    Args:
        frequency: frequency [Hz].
        delay: how late the copy is [s].
        level_difference: how much weaker the copy is [dB].
        opposed: whether the copy has the opposite polarity.

    Returns:
        Complex ratio [1].

    Raises:
        ValueError: a frequency or delay below zero, or a level that is not a number from -600 to 600.

    Source:
        Sum of two phasors, 1 + g exp(-j 2 pi f t).
    """
    not_negative(frequency=frequency, delay=delay)
    decibels(level_difference=level_difference)
    strength = ratio_of(-level_difference)
    copy = -strength if opposed else strength
    turns = math.fmod(frequency * delay, 1)
    return 1 + copy * cmath.exp(-2j * math.pi * turns)


def notches(delay: float, count: int, opposed: bool = False) -> list[float]:
    """Frequencies at which a sound and its late copy work against each other most, lowest first.

    Args:
        delay: how late the copy is [s].
        count: how many to give [1], up to 10 000.
        opposed: whether the copy has the opposite polarity; the first notch is then at 0 Hz, and the bass is gone.

    Returns:
        Frequencies [Hz].

    Raises:
        ValueError: delay not above zero, or a count that is not a whole number from 0.

    Source:
        Zeros of the comb filter: odd multiples of 1 / (2 t), or whole multiples of 1 / t when opposed.
    """
    positive(delay=delay)
    whole(0, 10_000, count=count)
    first = 0.0 if opposed else 0.5
    return [(first + k) / delay for k in range(count)]


def ripple(level_difference: float) -> Ripple:
    """How deep the notches and how high the peaks of a comb filter are; polarity makes no difference.

    Args:
        level_difference: how much weaker the copy is [dB].

    Returns:
        The ripple ([dB], [dB]), against the stronger sound alone.

    Raises:
        ValueError: level_difference is not a number from 0 to 600.

    Source:
        Two phasors against and with each other, 20 log10(1 - g) and 20 log10(1 + g).
    """
    decibels(level_difference=level_difference)
    not_negative(level_difference=level_difference)
    copy = ratio_of(-level_difference)
    return Ripple(dip=decibels_of(1 - copy) if copy < 1 else None, peak=decibels_of(1 + copy))


def air_delay(distance: float) -> float:
    """Time that sound takes through the air.

    Args:
        distance: how much farther it travels [m].

    Returns:
        Time [s].

    Raises:
        ValueError: distance is below zero.

    Source:
        Speed of sound in dry air at 20 °C, 343 m/s.
    """
    not_negative(distance=distance)
    return distance / SPEED_OF_SOUND
