"""The exact geometry of layouts against shapely, on thousands of random boxes and runs."""

from __future__ import annotations

import math
import random

import pytest

shapely = pytest.importorskip("shapely")
from shapely.affinity import rotate  # noqa: E402
from shapely.geometry import LineString, Point, box  # noqa: E402

from boardwright.board.layout import geometry as g  # noqa: E402


def _rect(rng: random.Random) -> g.Rect:
    # on a grid of millimetres, so that touching edges and equal corners come up often
    x, y, w, d = rng.randint(0, 40), rng.randint(0, 40), rng.randint(1, 25), rng.randint(1, 25)
    return g.Rect(x / 1000, y / 1000, (x + w) / 1000, (y + d) / 1000)


def _path(rng: random.Random, corners: int, square: bool) -> list[g.Point]:
    points = [(rng.uniform(0, 1), rng.uniform(0, 1))]
    for number in range(corners):
        x, y = points[-1]
        if square:
            points.append((rng.uniform(0, 1), y) if number % 2 else (x, rng.uniform(0, 1)))
        else:
            points.append((rng.uniform(0, 1), rng.uniform(0, 1)))
    return points


def _shape(rect: g.Rect):
    return box(rect.left, rect.front, rect.right, rect.back)


def test_boxes():
    rng = random.Random(1)
    for _ in range(4000):
        a, b = _rect(rng), _rect(rng)
        one, other = _shape(a), _shape(b)
        assert a.shared(b) == pytest.approx(one.intersection(other).area, abs=1e-15)
        assert a.distance(b) == pytest.approx(one.distance(other), abs=1e-12)
        x, y = a.overlap(b)
        assert (x > 1e-12 and y > 1e-12) == (one.intersection(other).area > 1e-15)
        beyond = max(0.0, *(_beyond(point, b) for point in one.exterior.coords))
        assert a.outside(b) == pytest.approx(beyond, abs=1e-12)


def _beyond(point, rect):
    return max(rect.left - point[0], rect.front - point[1], point[0] - rect.right, point[1] - rect.back)


def test_turned_boxes():
    rng = random.Random(2)
    for _ in range(2000):
        width, depth, turn = rng.uniform(0.03, 0.3), rng.uniform(0.03, 0.3), rng.choice((0, 90, 180, 270))
        x, y = rng.uniform(0, width), rng.uniform(0, depth)
        shape = rotate(box(0, 0, width, depth), -turn, origin=(0, 0))  # shapely turns anticlockwise
        left, front, *_ = shape.bounds
        there = rotate(Point(x, y), -turn, origin=(0, 0))
        found = g.turned_point(x, y, width, depth, turn)
        assert found == pytest.approx((there.x - left, there.y - front), abs=1e-9)
        side = rng.choice(g.SIDES)
        ox, oy = g.OUTWARD[side]
        out = rotate(Point(ox, oy), -turn, origin=(0, 0))
        assert g.OUTWARD[g.turned_side(side, turn)] == pytest.approx((out.x, out.y), abs=1e-12)


@pytest.mark.parametrize("square", [True, False])
def test_paths(square):
    rng = random.Random(3 + square)
    for _ in range(1500):
        one, other = _path(rng, 3, square), _path(rng, 4, square)
        a, b = LineString(one), LineString(other)
        assert g.path_length(one) == pytest.approx(a.length, rel=1e-12)
        meeting = a.intersection(b)
        points = [p for p in getattr(meeting, "geoms", [meeting]) if p.geom_type == "Point"]
        found = g.crossings(one, other)
        assert len(found) == len({(round(p.x, 6), round(p.y, 6)) for p in points})
        for each in found:
            assert min(p.distance(Point(each.at)) for p in points) < 1e-9


def test_parts():
    rng = random.Random(5)
    for _ in range(3000):
        part, other = tuple(_path(rng, 1, False)), tuple(_path(rng, 1, False))
        a, b = LineString(part), LineString(other)
        assert g.segment_distance(part, other) == pytest.approx(a.distance(b), abs=1e-12)
        within = rng.uniform(0.02, 0.4)
        found = g.near_part(part, other, within)
        length = 0.0 if found is None else found[1] - found[0]
        assert length == pytest.approx(a.intersection(b.buffer(within, quad_segs=48)).length, abs=4e-3)
        if found:  # its ends are exactly at that distance, or are the part's own ends
            for position in found:
                there = a.interpolate(position)
                assert there.distance(b) == pytest.approx(within, abs=1e-8) or position in (0.0, pytest.approx(a.length))
        # the angle between directions, whichever way they run
        ux, uy = part[1][0] - part[0][0], part[1][1] - part[0][1]
        vx, vy = other[1][0] - other[0][0], other[1][1] - other[0][1]
        cosine = abs(ux * vx + uy * vy) / (a.length * b.length)
        assert math.cos(g.angle_between(part, other)) == pytest.approx(cosine, abs=1e-9)


def test_length_beside_counts_no_stretch_twice():
    rng = random.Random(6)
    for _ in range(800):
        one, other, within = _path(rng, 4, True), _path(rng, 5, True), rng.uniform(0.05, 0.3)
        whole = LineString(one)
        # parts at less than 30 degrees are, on square paths, those in the same direction
        expected = 0.0
        for part in g.segments(one):
            beside = [LineString(o).buffer(within, quad_segs=48) for o in g.segments(other) if g.angle_between(part, o) < 0.5]
            expected += LineString(part).intersection(shapely.union_all(beside)).length if beside else 0.0
        assert g.length_beside(one, other, within, math.radians(30)) == pytest.approx(expected, abs=8e-3)
        assert g.length_beside(one, other, 9.0, math.radians(91)) == pytest.approx(whole.length)


def test_corner_radius_is_the_largest_that_fits():
    # a right angle: the tangent point lies one radius from the corner
    assert g.corner_radius([(0, 0), (0.03, 0), (0.03, 0.2)], 1) == pytest.approx(0.03)
    assert g.corner_radius([(0, 0), (0.1, 0), (0.1, 0.04), (0.3, 0.04)], 1) == pytest.approx(0.02)
    assert g.corner_radius([(0, 0), (0.1, 0), (0.2, 0)], 1) == math.inf
    assert g.corner_radius([(0, 0), (0.1, 0), (0.02, 0)], 1) == 0
