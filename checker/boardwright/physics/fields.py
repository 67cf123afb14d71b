"""Alternating magnetic fields and the voltage they induce in a loop of wire."""

import math

from ._inputs import finite, not_negative, positive, within

MU_0 = 4e-7 * math.pi
"""Magnetic constant [H/m]; the measured value differs by less than 1e-9 of it. Source: CODATA 2018."""


def loop_emf(frequency: float, area: float, field: float, turns: float = 1, angle: float = 0.0) -> float:
    """Voltage induced in a flat loop by an even alternating field.

    Args:
        frequency: frequency of the field [Hz].
        area: area of the loop [m²].
        field: flux density [T].
        turns: number of turns [1].
        angle: angle between the field and the loop's axis [rad]; 0 is the worst case.

    Returns:
        Voltage [V], effective if the field is effective, peak if it is peak.

    Raises:
        ValueError: a value below zero, or an angle that is no number.

    Source:
        Faraday's law for a sine, 2 pi f N A B |cos angle|.
    """
    not_negative(frequency=frequency, area=area, field=field, turns=turns)
    within(-1e6, 1e6, angle=angle)
    return 2 * math.pi * frequency * turns * area * field * abs(math.cos(angle))


def step_emf(area: float, field_change: float, time: float, turns: float = 1) -> float:
    """Mean voltage induced in a flat loop while the field through it changes.

    Args:
        area: area of the loop [m²].
        field_change: change of flux density along the loop's axis [T].
        time: how long the change takes [s].
        turns: number of turns [1].

    Returns:
        Voltage [V], without sign.

    Raises:
        ValueError: an area or a number of turns below zero, or a time not above it.

    Source:
        Faraday's law, N A dB / dt.
    """
    not_negative(area=area, turns=turns)
    finite(field_change=field_change)
    positive(time=time)
    return turns * area * abs(field_change) / time


def dipole_field(distance: float, reference_field: float, reference_distance: float) -> float:
    """Stray field of a transformer or motor at another distance than it was measured at.

    Args:
        distance: distance from its middle [m].
        reference_field: flux density at the known distance [T].
        reference_distance: the known distance [m].

    Returns:
        Flux density in the same direction [T].

    Raises:
        ValueError: a distance not above zero, or a field below it.

    Source:
        Field of a magnetic dipole, which falls with the cube of distance; good from about three times the
        transformer's own size (common practice).
    """
    positive(distance=distance, reference_distance=reference_distance)
    not_negative(reference_field=reference_field)
    return reference_field * (reference_distance / distance) ** 3


def long_wire_field(current: float, distance: float) -> float:
    """Field beside a long straight wire.

    Args:
        current: current in it [A].
        distance: distance from its axis [m].

    Returns:
        Flux density [T].

    Raises:
        ValueError: a current below zero, or a distance not above it.

    Source:
        Ampère's law, mu_0 I / (2 pi r).
    """
    not_negative(current=current)
    positive(distance=distance)
    return MU_0 * current / (2 * math.pi * distance)


def pair_field(current: float, spacing: float, distance: float) -> float:
    """Field beside a long pair of wires, one there and one back, in their common plane, where it is strongest.

    Args:
        current: current in each wire [A].
        spacing: distance between the wires [m].
        distance: distance from the middle of the pair [m], more than half the spacing.

    Returns:
        Flux density [T].

    Raises:
        ValueError: a current below zero, a distance or spacing not above it, or a point not outside the pair.

    Source:
        Difference of two long wires; mu_0 I s / (2 pi d^2) from far away.
    """
    positive(spacing=spacing, distance=distance)
    near, far = distance - spacing / 2, distance + spacing / 2
    if near <= 0:
        raise ValueError("the distance must be more than half the spacing: that point lies between the wires")
    return long_wire_field(current, near) - long_wire_field(current, far)
