"""Mutual inductance of straight runs of wire: how much of one run's current the other one hears."""

import math
from typing import NamedTuple

from ._inputs import finite, not_negative, positive, within
from .fields import MU_0

_PARALLEL = 1e-7  # sine of the angle below which two runs count as parallel: both ways of reckoning then agree to 1e-6
_SQUARE = 1e-12  # cosine of the angle below which two runs count as square to each other

Vector = tuple[float, float, float]


class Filament(NamedTuple):
    """A straight run of thin wire.

    Attributes:
        start: where its current enters (x [m], y [m], z [m]).
        end: where its current leaves (x [m], y [m], z [m]).
    """

    start: Vector
    end: Vector


def parallel_filaments(length: float, distance: float) -> float:
    """Mutual inductance of two equal parallel runs of wire that lie side by side.

    Args:
        length: length of both [m].
        distance: distance between them [m].

    Returns:
        Mutual inductance [H].

    Raises:
        ValueError: a value not above zero.

    Source:
        Grover, Inductance Calculations (1944), p. 35, eq. 7.
    """
    positive(length=length, distance=distance)
    ratio = length / distance
    return MU_0 / (2 * math.pi) * length * (math.asinh(ratio) - math.hypot(1, 1 / ratio) + 1 / ratio)


def crossing_filaments(first_length: float, second_length: float, distance: float, angle: float) -> float:
    """Mutual inductance of two runs of wire whose middles cross one above the other.

    It is not simply a cosine of the parallel value: turning a run also takes its ends away from the other run.

    Args:
        first_length: length of one run [m].
        second_length: length of the other [m].
        distance: distance where they cross [m].
        angle: angle between their directions [rad]; pi / 2 is square, where they do not hear each other.

    Returns:
        Mutual inductance [H], below zero where the directions are opposed.

    Raises:
        ValueError: a length or distance not above zero, or an angle that is no number.

    Source:
        As mutual_inductance().
    """
    positive(first_length=first_length, second_length=second_length, distance=distance)
    within(-1e6, 1e6, angle=angle)
    half, x, y = first_length / 2, math.cos(angle) * second_length / 2, math.sin(angle) * second_length / 2
    return mutual_inductance(Filament((-half, 0, 0), (half, 0, 0)), Filament((-x, -y, distance), (x, y, distance)))


def mutual_inductance(first: Filament, second: Filament) -> float:
    """Mutual inductance of any two straight runs of wire; runs with corners are sums over their straight parts.

    Args:
        first: one run (start [m], end [m]).
        second: the other (start [m], end [m]).

    Returns:
        Mutual inductance [H]: exactly zero where they are square to each other, below zero where their directions are
        opposed.

    Raises:
        ValueError: a point that is no point, a run without length, or two runs that lie in one another.

    Source:
        Neumann's integral in closed form: Grover, Inductance Calculations (1944), on filaments inclined at an angle
        and on unequal parallel filaments.
    """
    for x, y, z in (*first, *second):
        finite(x=x, y=y, z=z)
    u, first_length = _direction(first)
    v, second_length = _direction(second)
    cosine, across = _dot(u, v), _cross(u, v)
    if abs(cosine) < _SQUARE:
        return 0.0
    apart = _minus(second.start, first.start)
    sine = math.hypot(*across)
    if sine < _PARALLEL:
        integral = _parallel_integral(apart, u, math.copysign(second_length, cosine), first_length)
        return MU_0 / (4 * math.pi) * math.copysign(integral, cosine)
    # Positions along each line are counted from the foot of their common perpendicular.
    along_u, along_v = _dot(apart, u), _dot(apart, v)
    s = (cosine * along_v - along_u) / sine**2
    t = (along_v - cosine * along_u) / sine**2
    gap = abs(_dot(apart, across)) / sine
    integral = (
        _skew_term(s + first_length, t + second_length, gap, cosine, sine)
        - _skew_term(s + first_length, t, gap, cosine, sine)
        - _skew_term(s, t + second_length, gap, cosine, sine)
        + _skew_term(s, t, gap, cosine, sine)
    )
    return MU_0 / (4 * math.pi) * cosine * integral


def parallel_pairs(near: float, far: float, *, other_near: float, other_far: float) -> float:
    """Mutual inductance of two long parallel pairs, each a wire there and a wire back, per metre of run.

    Args:
        near: from the first pair's go to the second pair's go [m].
        far: from the first pair's go to the second pair's return [m].
        other_near: from the first pair's return to the second pair's go [m].
        other_far: from the first pair's return to the second pair's return [m].

    Returns:
        Mutual inductance per length [H/m], of either sign.

    Raises:
        ValueError: a distance not above zero.

    Source:
        Flux of two long wires through a long loop, mu_0 / (2 pi) ln(r14 r23 / (r13 r24)).
    """
    positive(near=near, far=far, other_near=other_near, other_far=other_far)
    return MU_0 / (2 * math.pi) * math.log(far / near * (other_near / other_far))


def coplanar_pairs(first_spacing: float, second_spacing: float, distance: float) -> float:
    """Mutual inductance of two long pairs that lie side by side in one plane, per metre of run.

    Args:
        first_spacing: distance between the wires of one pair [m].
        second_spacing: distance between the wires of the other [m].
        distance: distance between the middles of the pairs [m].

    Returns:
        Mutual inductance per length, without sign [H/m].

    Raises:
        ValueError: a value not above zero, or pairs that overlap.

    Source:
        As parallel_pairs(); mu_0 s_1 s_2 / (2 pi d^2) from far away.
    """
    positive(first_spacing=first_spacing, second_spacing=second_spacing, distance=distance)
    total, unlike = (first_spacing + second_spacing) / 2, (first_spacing - second_spacing) / 2
    if distance <= total:
        raise ValueError("the pairs overlap: the distance between their middles must exceed half of both spacings")
    return abs(parallel_pairs(distance + unlike, distance + total, other_near=distance - total, other_far=distance - unlike))


def wire_beside_loop(length: float, near: float, far: float) -> float:
    """Mutual inductance of a long wire and a rectangular loop in its plane.

    Args:
        length: side of the loop along the wire [m].
        near: distance from the wire to the loop's nearer side [m].
        far: distance from the wire to its farther side [m].

    Returns:
        Mutual inductance [H].

    Raises:
        ValueError: a value not above zero, or a far side that is not the farther one.

    Source:
        Flux of a long wire, mu_0 l / (2 pi) ln(r2 / r1); MIL-HDBK-419A vol. 1, section 6.2.2.
    """
    positive(length=length, near=near, far=far)
    if far < near:
        raise ValueError("the far side of the loop must not be nearer than its near side")
    return MU_0 * length / (2 * math.pi) * math.log(far / near)


def induced_voltage(mutual: float, frequency: float, current: float) -> float:
    """Voltage that a current in one run induces in another.

    Args:
        mutual: mutual inductance of the two [H], of either sign.
        frequency: frequency of the current [Hz].
        current: current [A].

    Returns:
        Voltage [V], effective if the current is effective, peak if it is peak.

    Raises:
        ValueError: a frequency or current below zero, or a mutual inductance that is no number.

    Source:
        Faraday's law, 2 pi f M I.
    """
    finite(mutual=mutual)
    not_negative(frequency=frequency, current=current)
    return 2 * math.pi * frequency * abs(mutual) * current


def _skew_term(s: float, t: float, gap: float, cosine: float, sine: float) -> float:
    """A function of two positions whose mixed second derivative is one over the distance between them."""
    distance = math.hypot(s - t * cosine, t * sine, gap)
    turned = gap / sine * math.atan2(gap**2 * cosine + s * t * sine**2, gap * distance * sine)
    return _along(s, t, gap, cosine, sine) + _along(t, s, gap, cosine, sine) - turned


def _along(here: float, there: float, gap: float, cosine: float, sine: float) -> float:
    aside = math.hypot(here * sine, gap)
    return here * math.asinh((there - here * cosine) / aside) if here and aside else 0.0


def _parallel_integral(apart: Vector, u: Vector, reach: float, length: float) -> float:
    """Double integral of one over the distance between parallel runs; `reach` is the other run's signed length."""
    offset = _dot(apart, u)
    gap = math.hypot(*_cross(apart, u))
    low, high = sorted((offset, offset + reach))
    rounding = 1e-12 * length
    if gap < rounding:
        if low < length - rounding and high > rounding:
            raise ValueError("the two runs lie in one another")
        gap = 0.0
    return _parallel_term(high, gap) - _parallel_term(high - length, gap) - _parallel_term(low, gap) + _parallel_term(low - length, gap)


def _parallel_term(x: float, gap: float) -> float:
    """A function whose second derivative is one over the distance sqrt(x^2 + gap^2)."""
    if gap:
        return x * math.asinh(x / gap) - math.hypot(x, gap)
    return abs(x) * (math.log(abs(x)) - 1) if x else 0.0


def _direction(filament: Filament) -> tuple[Vector, float]:
    x, y, z = _minus(filament.end, filament.start)
    length = math.hypot(x, y, z)
    positive(length_of_the_run=length)
    return (x / length, y / length, z / length), length


def _minus(a: Vector, b: Vector) -> Vector:
    return a[0] - b[0], a[1] - b[1], a[2] - b[2]


def _dot(a: Vector, b: Vector) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _cross(a: Vector, b: Vector) -> Vector:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]
