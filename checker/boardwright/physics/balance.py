"""Weight and balance of a board."""

import math
from collections.abc import Sequence

from ._inputs import finite, not_negative


def centre_of_gravity(masses: Sequence[float], points: Sequence[Sequence[float]]) -> tuple[float, ...]:
    """Point on which a board would balance.

    Args:
        masses: mass of each part [kg].
        points: middle of each part, in the plane or in space (each coordinate [m]).

    Returns:
        The point (each coordinate [m]).

    Raises:
        ValueError: no part has any mass, a mass below zero, or a point missing, of another dimension or no point.

    Source:
        Mean of the points, weighted by mass.
    """
    if len(masses) != len(points):
        raise ValueError("give one point for each mass")
    for mass in masses:
        not_negative(mass=mass)
    for point in points:
        for coordinate in point:
            finite(coordinate=coordinate)
    if len({len(point) for point in points}) > 1:
        raise ValueError("all points must lie in the plane, or all in space")
    total = math.fsum(masses)
    if total == 0:
        raise ValueError("something must have a mass: there is nothing to balance")
    return tuple(math.fsum(m * p for m, p in zip(masses, line, strict=True)) / total for line in zip(*points, strict=True))


def tip_angle(offset: float, height: float) -> float:
    """How far something may be leaned before it falls over an edge of its base.

    Args:
        offset: horizontal distance from its centre of gravity to that edge [m].
        height: height of its centre of gravity above the base [m].

    Returns:
        Angle [rad].

    Raises:
        ValueError: a value below zero, or both zero.

    Source:
        Statics: it falls once its centre of gravity is above the edge, atan(offset / height).
    """
    not_negative(offset=offset, height=height)
    if offset == height == 0:
        raise ValueError("a centre of gravity right on the edge has no tip angle")
    return math.atan2(offset, height)
