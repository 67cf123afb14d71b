"""Leads that share a lane, drawn beside each other instead of on one another."""

from __future__ import annotations

import itertools
from collections import defaultdict
from collections.abc import Sequence

from boardwright.board.layout.geometry import Point, Rect

PITCH = 0.0025
"""From one lead to the next in a drawing (m)."""
SPREADS = 0.022, 0.008
"""A bundle is drawn no broader (m): along the streets between rows, and through the gaps between boxes."""


INSIDE = 0.002
"""Tracks stay this far inside the frame (m)."""


def drawn_apart(paths: Sequence[Sequence[Point]], area: Rect) -> list[list[Point]]:
    """The corners of each path with its inner parts moved to tracks of their own; the ends stay where they are.

    Parts that overlap on one line get different tracks, by first fit along the line. Paths with slanting parts, which
    someone has drawn, are left alone.
    """
    lanes: dict[tuple[int, float], list[tuple[float, float, int, int]]] = defaultdict(list)
    for number, path in enumerate(paths):
        if any(_axis(a, b) is None for a, b in itertools.pairwise(path)):
            continue
        for part in range(1, len(path) - 2):
            axis = _axis(path[part], path[part + 1])
            assert axis is not None
            start, end = sorted((path[part][axis], path[part + 1][axis]))
            lanes[axis, round(path[part][1 - axis], 4)].append((start, end, number, part))
    moved = [[list(point) for point in path] for path in paths]
    for (axis, line), parts in lanes.items():
        low, high = ((area.front, area.back), (area.left, area.right))[axis]
        for number, part, offset in _offsets(sorted(parts), SPREADS[axis]):
            if low < line < high:
                offset = min(max(line + offset, low + INSIDE), high - INSIDE) - line
            moved[number][part][1 - axis] += offset
            moved[number][part + 1][1 - axis] += offset
    for path, new in zip(paths, moved, strict=True):
        for end, corner, inner in ((0, 1, 2), (-1, -2, -3)) if len(path) > 3 else ():
            axis = _axis(path[end], path[corner])
            if axis is not None and axis == _axis(path[corner], path[inner]):
                new[end][1 - axis] = new[corner][1 - axis]  # an end that goes straight on moves along
    return [[(x, y) for x, y in path] for path in moved]


def _axis(a: Point, b: Point) -> int | None:
    """0 for a part along x, 1 along y."""
    return 0 if a[1] == b[1] else 1 if a[0] == b[0] else None


def _offsets(parts: list[tuple[float, float, int, int]], spread: float) -> list[tuple[int, int, float]]:
    ends: list[float] = []
    tracks = []
    for start, end, number, part in parts:
        track = next((place for place, last in enumerate(ends) if last <= start), len(ends))
        ends[track : track + 1] = [end]
        tracks.append((number, part, track))
    pitch = min(PITCH, spread / max(1, len(ends) - 1))
    middle = (len(ends) - 1) / 2
    return [(number, part, (track - middle) * pitch) for number, part, track in tracks]
