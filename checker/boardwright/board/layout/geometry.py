"""Rectangles along the axes, and paths made of straight parts. Everything in metres and radians, exact to rounding."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

Point = tuple[float, float]
Segment = tuple[Point, Point]

SIDES = ("front", "left", "rear", "right")
"""In the order in which a turn clockwise, as the player sees it, moves one onto the next."""

OUTWARD: dict[str, Point] = {"left": (-1.0, 0.0), "right": (1.0, 0.0), "front": (0.0, -1.0), "rear": (0.0, 1.0)}

_TINY = 1e-12
_ROUNDING = 1e-9
"""Places are written to the millimetre; what is exactly at a distance must not fall inside it by the last bit."""


class Rect(NamedTuple):
    """A footprint: x to the right, y away from the player."""

    left: float
    front: float
    right: float
    back: float

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def depth(self) -> float:
        return self.back - self.front

    @property
    def area(self) -> float:
        return self.width * self.depth

    @property
    def middle(self) -> Point:
        return (self.left + self.right) / 2, (self.front + self.back) / 2

    def overlap(self, other: Rect) -> Point:
        """How far the two reach into each other along x and y; below zero is the gap between them."""
        return (
            min(self.right, other.right) - max(self.left, other.left),
            min(self.back, other.back) - max(self.front, other.front),
        )

    def shared(self, other: Rect) -> float:
        """Area that both cover."""
        x, y = self.overlap(other)
        return x * y if x > 0 and y > 0 else 0.0

    def distance(self, other: Rect) -> float:
        """From the nearest point of one to the nearest of the other; zero where they touch."""
        x, y = self.overlap(other)
        return math.hypot(max(0.0, -x), max(0.0, -y))

    def grown(self, left: float = 0, front: float = 0, right: float = 0, back: float = 0) -> Rect:
        return Rect(self.left - left, self.front - front, self.right + right, self.back + back)

    def holds(self, point: Point) -> bool:
        return self.left <= point[0] <= self.right and self.front <= point[1] <= self.back

    def outside(self, of: Rect) -> float:
        """How far its furthest edge reaches beyond ``of``; zero where it lies within."""
        return max(0.0, of.left - self.left, of.front - self.front, self.right - of.right, self.back - of.back)

    def edge(self, side: str) -> float:
        """Where its side is: x of ``left`` and ``right``, y of ``front`` and ``rear``."""
        return {"left": self.left, "right": self.right, "front": self.front, "rear": self.back}[side]

    def beside(self, other: Rect, side: str) -> float:
        """From its side ``side`` outward to ``other``; below zero where ``other`` reaches across that side."""
        if side == "left":
            return self.left - other.right
        if side == "right":
            return other.left - self.right
        return self.front - other.back if side == "front" else other.front - self.back

    def along(self, side: str) -> tuple[float, float]:
        """From where to where it reaches along its side ``side``: y for ``left`` and ``right``, x for the others."""
        return (self.front, self.back) if side in ("left", "right") else (self.left, self.right)


def opposite(side: str) -> str:
    return SIDES[(SIDES.index(side) + 2) % 4]


def turned_side(side: str, turn: int) -> str:
    """Where a box's side is after the box was turned clockwise by ``turn`` degrees."""
    return SIDES[(SIDES.index(side) + turn // 90) % 4]


def turned_point(x: float, y: float, width: float, depth: float, turn: int) -> Point:
    """Where a point of a box (from its own left and front edge) is in its footprint after a turn clockwise."""
    return {0: (x, y), 90: (y, width - x), 180: (width - x, depth - y), 270: (depth - y, x)}[turn]


def segments(path: Sequence[Point]) -> Iterator[Segment]:
    """The straight parts of a path that have a length."""
    return ((a, b) for a, b in pairwise(path) if a != b)


def path_length(path: Sequence[Point]) -> float:
    return math.fsum(math.dist(a, b) for a, b in pairwise(path))


def angle_between(one: Segment, other: Segment) -> float:
    """Acute angle between two parts, whichever way they run: 0 to a right angle."""
    ux, uy = _direction(one)
    vx, vy = _direction(other)
    return math.atan2(abs(ux * vy - uy * vx), abs(ux * vx + uy * vy))


def segment_distance(one: Segment, other: Segment) -> float:
    if crossing(one, other) is not None:
        return 0.0
    return min(distance_to(one[0], other), distance_to(one[1], other), distance_to(other[0], one), distance_to(other[1], one))


def near_part(part: Segment, other: Segment, distance: float) -> tuple[float, float] | None:
    """The stretch of ``part`` that is nearer to ``other`` than ``distance``, as positions from its start.

    The points near a straight part form a strip with round ends, so the stretch is a single one.
    """
    distance -= _ROUNDING
    ux, uy = _direction(part)
    vx, vy = _direction(other)
    reach, length = math.dist(*part), math.dist(*other)
    ends: list[float] = []
    for corner in other:
        along = (corner[0] - part[0][0]) * ux + (corner[1] - part[0][1]) * uy
        aside = (corner[0] - part[0][0]) * uy - (corner[1] - part[0][1]) * ux
        if abs(aside) < distance:
            half = math.sqrt(distance * distance - aside * aside)
            ends += [along - half, along + half]
    px, py = part[0][0] - other[0][0], part[0][1] - other[0][1]
    strip = _between(px * vx + py * vy, ux * vx + uy * vy, 0.0, length)
    across = _between(px * vy - py * vx, ux * vy - uy * vx, -distance, distance)
    low, high = max(strip[0], across[0]), min(strip[1], across[1])
    if low < high:
        ends += [low, high]
    if not ends:
        return None
    start, end = max(0.0, min(ends)), min(reach, max(ends))
    return (start, end) if end > start else None


def length_beside(path: Sequence[Point], other: Sequence[Point], distance: float, angle: float) -> float:
    """How much of ``path`` is nearer to ``other`` than ``distance`` while they run at less than ``angle``."""
    total = 0.0
    others = list(segments(other))
    for part in segments(path):
        stretches = sorted(
            found
            for one in others
            if _may_be_near(part, one, distance) and angle_between(part, one) < angle and (found := near_part(part, one, distance)) is not None
        )
        reached = -math.inf
        for start, end in stretches:
            total += max(0.0, end - max(start, reached))
            reached = max(reached, end)
    return total


def bounds(path: Sequence[Point]) -> Rect:
    """The smallest rectangle that holds a path."""
    xs, ys = [x for x, _ in path], [y for _, y in path]
    return Rect(min(xs), min(ys), max(xs), max(ys))


def _may_be_near(one: Segment, other: Segment, distance: float) -> bool:
    (ax, ay), (bx, by) = one
    (cx, cy), (dx, dy) = other
    return (
        min(ax, bx) - distance < max(cx, dx)
        and min(cx, dx) - distance < max(ax, bx)
        and min(ay, by) - distance < max(cy, dy)
        and min(cy, dy) - distance < max(ay, by)
    )


@dataclass(frozen=True, slots=True)
class Crossing:
    """Where two paths cross, and the acute angle between them (rad)."""

    at: Point
    angle: float


def crossing(one: Segment, other: Segment) -> Point | None:
    """The point that two parts share; ``None`` for parallel ones."""
    (ax, ay), (bx, by) = one
    (cx, cy), (dx, dy) = other
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    turn = ux * vy - uy * vx
    if abs(turn) <= _TINY * math.hypot(ux, uy) * math.hypot(vx, vy) or turn == 0:
        return None
    s = ((cx - ax) * vy - (cy - ay) * vx) / turn
    t = ((cx - ax) * uy - (cy - ay) * ux) / turn
    if -_TINY <= s <= 1 + _TINY and -_TINY <= t <= 1 + _TINY:
        return ax + s * ux, ay + s * uy
    return None


def crossings(path: Sequence[Point], other: Sequence[Point]) -> list[Crossing]:
    """Every crossing of two paths; one at a corner is counted once, at its flattest."""
    found: dict[Point, Crossing] = {}
    others = list(segments(other))
    for part in segments(path):
        for one in others:
            at = crossing(part, one)
            if at is None:
                continue
            key = (round(at[0], 6), round(at[1], 6))
            angle = angle_between(part, one)
            if key not in found or angle < found[key].angle:
                found[key] = Crossing(at, angle)
    return list(found.values())


def corner_radius(path: Sequence[Point], corner: int) -> float:
    """The largest bend that fits a corner (its number in the path); a straight part between two corners serves both."""
    before, here, after = path[corner - 1], path[corner], path[corner + 1]
    turn = math.pi - _inner_angle(before, here, after)
    if turn < 1e-9:
        return math.inf
    into = math.dist(before, here) / (1 if corner == 1 else 2)
    out = math.dist(here, after) / (1 if corner == len(path) - 2 else 2)
    return min(into, out) / math.tan(turn / 2) if turn < math.pi - 1e-9 else 0.0


def _inner_angle(before: Point, here: Point, after: Point) -> float:
    ax, ay = before[0] - here[0], before[1] - here[1]
    bx, by = after[0] - here[0], after[1] - here[1]
    return math.atan2(abs(ax * by - ay * bx), ax * bx + ay * by)


def _direction(part: Segment) -> Point:
    (ax, ay), (bx, by) = part
    length = math.hypot(bx - ax, by - ay)
    return (bx - ax) / length, (by - ay) / length


def distance_to(point: Point, part: Segment) -> float:
    """From a point to the nearest point of a straight part that has a length (m)."""
    ux, uy = _direction(part)
    px, py = point[0] - part[0][0], point[1] - part[0][1]
    along = min(max(px * ux + py * uy, 0.0), math.dist(*part))
    return math.hypot(px - along * ux, py - along * uy)


def _between(start: float, slope: float, low: float, high: float) -> tuple[float, float]:
    """Where ``start + slope * t`` lies between ``low`` and ``high``."""
    if abs(slope) < _TINY:
        return (-math.inf, math.inf) if low <= start <= high else (math.inf, -math.inf)
    ends = (low - start) / slope, (high - start) / slope
    return min(ends), max(ends)
