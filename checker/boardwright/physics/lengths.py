"""How long a lead must be, and how long to cut its cable."""

import math
from collections.abc import Sequence
from itertools import pairwise

from ._inputs import SMALLEST, finite, not_negative, positive, whole

# A cut that is a whole number of steps already must not be rounded up by the last bit of a product.
_ROUNDING = 1e-9

Point = Sequence[float]


def bend_saving(angle: float, radius: float) -> float:
    """How much shorter a path becomes when a corner is rounded.

    Args:
        angle: change of direction at the corner [rad], from 0 to below pi; a right angle is pi / 2.
        radius: radius of the bend along the cable's middle [m].

    Returns:
        Length saved [m].

    Raises:
        ValueError: an angle outside its range, or a radius below zero.

    Source:
        Geometry: two tangents against an arc, r (2 tan(angle / 2) - angle); 0.43 r at a right angle.
    """
    not_negative(radius=radius, angle=angle)
    if angle >= math.pi:
        raise ValueError("a lead that turns back on itself has no corner to round")
    return radius * (2 * math.tan(angle / 2) - angle)


def path_length(points: Sequence[Point], radius: float = 0.0) -> float:
    """Length of a lead along a path of straight parts whose corners are rounded.

    A bend uses up at most half of the shorter part beside it, and a turn sharper than a right angle is credited as a
    right angle: so a lead is never planned short.

    Args:
        points: corners of the path, start and end included, in the plane or in space (each coordinate [m]).
        radius: radius of the bends along the cable's middle [m].

    Returns:
        Length [m].

    Raises:
        ValueError: a coordinate that is no number, points of different dimension, or a radius below zero.

    Source:
        Geometry.
    """
    not_negative(radius=radius)
    for point in points:
        for coordinate in point:
            finite(coordinate=coordinate)
    if len({len(point) for point in points}) > 1:
        raise ValueError("all points of a path must lie in the plane, or all in space")
    steps = (_minus(b, a) for a, b in pairwise(points))
    parts = [step for step in steps if math.hypot(*step) >= SMALLEST]
    return sum(math.hypot(*part) for part in parts) - sum(_corner(a, b, radius) for a, b in pairwise(parts))


def wanted_length(path: float, slack: float, service: float, service_ends: int) -> float:
    """Length of a lead that follows its path, lies easily, and lets its pedal be lifted and unplugged.

    Args:
        path: length along the path [m].
        slack: share of the path added so that it lies easily [1].
        service: length added for each end that must be unplugged in place [m].
        service_ends: number of such ends, 0 to 2 [1].

    Returns:
        Length from tip to tip [m].

    Raises:
        ValueError: a value below zero, or a number of ends other than 0, 1, 2.

    Source:
        Arithmetic; how much slack to leave is common practice.
    """
    not_negative(path=path, slack=slack, service=service)
    whole(0, 2, service_ends=service_ends)
    return path * (1 + slack) + service * service_ends


def cut_length(wanted: float, plug_body: float, strip: float, step: float) -> float:
    """Length to cut a piece of cable to, so that the made lead has the wanted length.

    Args:
        wanted: length of the made lead [m].
        plug_body: part of that length taken by each plug, into which the cable does not reach [m].
        strip: cable used up at each end by stripping [m].
        step: lengths are rounded up to a multiple of this [m].

    Returns:
        Length to cut [m]; zero if two plugs alone make up the wanted length.

    Raises:
        ValueError: a value below zero, or a step not above it.

    Source:
        Arithmetic; never rounded down, as IPC/WHMA-A-620 allows a made lead to be long but not short.
    """
    not_negative(wanted=wanted, plug_body=plug_body, strip=strip)
    positive(step=step)
    steps = (wanted - 2 * plug_body + 2 * strip) / step
    return max(0, math.ceil(steps - _ROUNDING * max(1.0, steps))) * step


def length_tolerance(length: float) -> float:
    """How much longer than asked for a made lead may be; it may not be shorter at all.

    Args:
        length: length asked for [m].

    Returns:
        Greatest surplus [m].

    Raises:
        ValueError: length is not above zero.

    Source:
        IPC/WHMA-A-620, table 11-1.
    """
    positive(length=length)
    for longest, surplus in ((0.3, 0.025), (1.5, 0.05), (3.0, 0.1), (7.5, 0.15)):
        if length <= longest:
            return surplus
    return 0.05 * length


def _corner(a: Point, b: Point, radius: float) -> float:
    """Length saved by rounding the corner between two parts of a path."""
    lengths = math.hypot(*a), math.hypot(*b)
    cosine = sum(p * q for p, q in zip(a, b, strict=True)) / (lengths[0] * lengths[1])
    angle = math.acos(min(1.0, max(0.0, cosine)))  # 0: sharper than a right angle counts as one
    if angle == 0:
        return 0.0
    return bend_saving(angle, min(radius, min(lengths) / 2 / math.tan(angle / 2)))


def _minus(a: Point, b: Point) -> tuple[float, ...]:
    return tuple(p - q for p, q in zip(a, b, strict=True))
