"""What runs hear of each other: against Grover's formula and a numerical Neumann integral."""

from __future__ import annotations

import math
import random
from itertools import pairwise

import pytest
from scipy import integrate

from boardwright.board.assemble import assemble
from boardwright.board.layout.coupling import beside, gain_between, lies_apart, mutual
from boardwright.physics.fields import MU_0
from boardwright.physics.inductance import coplanar_pairs
from boardwright.rules.routing.crossing_not_square import heard_share
from boardwright.spec.read import read


def _neumann(one, other, apart):
    """mu0 / 4 pi times the double integral of dl1 dl2 / r, by quadrature."""
    total = 0.0
    for (ax, ay), (bx, by) in pairwise(one):
        for (cx, cy), (dx, dy) in pairwise(other):
            ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
            dot = ux * vx + uy * vy
            if abs(dot) < 1e-15:
                continue

            def near(t, s, ax=ax, ay=ay, cx=cx, cy=cy, ux=ux, uy=uy, vx=vx, vy=vy):
                return 1 / math.sqrt((ax + s * ux - cx - t * vx) ** 2 + (ay + s * uy - cy - t * vy) ** 2 + apart**2)

            total += dot * integrate.dblquad(near, 0, 1, 0, 1, epsabs=1e-9, epsrel=1e-9)[0]
    return MU_0 / (4 * math.pi) * total


def _pairs(one, other, s1, s2, apart):
    return sum(a * b * _neumann(beside(one, a * s1 / 2), beside(other, b * s2 / 2), apart) for a in (1, -1) for b in (1, -1))


def test_ways_with_corners_against_quadrature():
    rng = random.Random(1)
    for _ in range(3):
        one = [(0.0, 0.0), (rng.uniform(0.1, 0.3), 0.0), (rng.uniform(0.1, 0.3), 0.2)]
        other = [(0.0, 0.1), (0.2, rng.uniform(0.05, 0.2)), (0.35, 0.15)]
        assert mutual(one, other, 0.005, 0.004, 0.01) == pytest.approx(_pairs(one, other, 0.005, 0.004, 0.01), rel=2e-4, abs=1e-14)


def test_long_neighbours_against_the_formula_of_two_pairs():
    # 10 m long at 10 mm: the ends do not matter
    found = mutual([(0, 0), (10, 0)], [(0, 0.01), (10, 0.01)], 0.003, 0.002, 0.0)
    assert abs(found) / 10 == pytest.approx(coplanar_pairs(0.003, 0.002, 0.01), rel=2e-3)


def test_nothing_jumps_where_two_leads_begin_to_touch():
    # One 3 mm and one 5 mm thick: side by side they touch at 4 mm, and nearer than that one lies a little above the other.
    def heard(apart):
        text = f"runs: [{{id: d1, carries: dc, od: 3, path: [[0, 0], [200, 0]]}}, {{id: a1, carries: audio, od: 5, path: [[0, {apart}], [200, {apart}]]}}]"
        power, sound = assemble(read(text, fragment=True)).layout.runs
        return mutual(power.points, sound.points, 0.003, 0.002, lies_apart(power, sound))

    assert heard(3.999) == pytest.approx(heard(4.001), rel=5e-3)


def test_square_crossing_hears_nothing():
    assert mutual([(-0.2, 0), (0.2, 0)], [(0, -0.2), (0, 0.2)], 0.003, 0.002, 0.005) == pytest.approx(0, abs=1e-18)


@pytest.mark.parametrize(("degrees", "nanohenries"), [(0, 187.64), (30, 108.8), (45, 79.6), (60, 52.5), (80, 17.4), (90, 0.0)])
def test_share_of_a_crossing(degrees, nanohenries):
    """300 mm, 10 mm apart: the parallel value is Grover's (Inductance Calculations, 1944, p. 35, eq. 7), the others Neumann's integral."""
    text = "runs: [{id: a, carries: audio, od: 10, path: [[0, 0], [300, 0]]}, {id: p, carries: mains, od: 10, path: [[0, 0], [300, 0]]}]"
    one, other = assemble(read(text, fragment=True)).layout.runs
    assert heard_share(one, other, math.radians(degrees)) == pytest.approx(nanohenries / 187.64, abs=1e-3)


def test_wire_beside_a_way_keeps_its_distance():
    rng = random.Random(2)
    for _ in range(200):
        path = [(0.0, 0.0)]
        for _ in range(4):
            path.append((path[-1][0] + rng.uniform(0.05, 0.2), path[-1][1] + rng.uniform(-0.1, 0.1)))
        moved = beside(path, 0.003)
        for (a, b), (c, d) in zip(pairwise(path), pairwise(moved), strict=True):
            ux, uy = b[0] - a[0], b[1] - a[1]
            for x, y in (c, d):
                assert ((x - a[0]) * -uy + (y - a[1]) * ux) / math.hypot(ux, uy) == pytest.approx(0.003, abs=1e-9)


def test_gain_between_takes_the_loudest_way_and_survives_rings():
    text = """
pedals: {a: {kind: boost, gain: 10 dB}, b: {kind: boost, gain: 30 dB}, c: {kind: boost, gain: 5 dB}, d: {kind: boost, gain: 1 dB}}
audio: ["a > b > d, a > c > d, d > a"]
"""
    board = assemble(read(text, fragment=True))
    devices = board.power.devices
    assert gain_between(board.audio, devices, [], "a", "d") == pytest.approx(41)
    assert gain_between(board.audio, devices, [], "c", "c") == pytest.approx(5)
    assert gain_between(board.audio, devices, [], "d", "nowhere") is None
