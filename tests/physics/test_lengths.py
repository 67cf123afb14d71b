"""Lengths of leads against a geometry library, a workmanship standard and arithmetic."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx
from shapely import LineString, Point

from boardwright.physics import lengths
from published import published

millimetres = st.integers(-1000, 1000).map(lambda mm: mm / 1000)


def test_right_angle():
    # Geometry: two tangents of r against a quarter circle, r (2 - pi / 2) = 0.43 r.
    assert lengths.bend_saving(math.pi / 2, 1) == approx(0.43, abs=0.001)
    assert lengths.bend_saving(0, 1) == 0


@given(st.lists(st.tuples(millimetres, millimetres), min_size=2, max_size=8))
@settings(max_examples=100, deadline=None)
def test_square_corners_against_shapely(points):
    assert lengths.path_length(points) == approx(LineString(points).length, abs=1e-12)


@pytest.mark.parametrize("turn", [20, 45, 60, 90])
@pytest.mark.parametrize("radius", [0.01, 0.03])
def test_a_rounded_corner_against_shapely(turn, radius):
    # The rounded path drawn out: up to where a circle of that radius touches both parts, and along its rim between.
    angle = math.radians(turn)
    tangent = radius * math.tan(angle / 2)
    rim = Point(0, 0).buffer(radius, quad_segs=4000).exterior.length * turn / 360
    corner = [(0, 0), (0.3, 0), (0.3 + 0.2 * math.cos(angle), 0.2 * math.sin(angle))]
    drawn = LineString(corner).length - 2 * tangent + rim
    assert lengths.path_length(corner, radius) == approx(drawn, abs=1e-8)


def test_a_path_in_space():
    # By hand: 30 mm down through a deck and 40 mm along: 70 mm; straight down counts whole.
    assert lengths.path_length([(0, 0, 0), (0, 0, -0.03), (0.04, 0, -0.03)]) == approx(0.07)


@given(st.lists(st.tuples(millimetres, millimetres), min_size=2, max_size=8), st.floats(0, 0.5))
@settings(max_examples=100, deadline=None)
def test_rounding_never_shortens_a_path_below_its_ends(points, radius):
    square, rounded = lengths.path_length(points), lengths.path_length(points, radius)
    assert rounded <= square + 1e-12
    assert rounded >= 0.785 * square - 1e-12  # quarter circles all along: pi / 4
    assert rounded >= math.dist(points[0], points[-1]) - 1e-12  # a straight line is the shortest way


def test_a_fold_saves_no_more_than_a_right_angle():
    there_and_back = [(0, 0), (0.1, 0), (0, 0)]
    assert lengths.path_length(there_and_back, 0.01) == approx(0.2 - lengths.bend_saving(math.pi / 2, 0.01))


def test_places_visited_twice_in_a_row_do_not_matter():
    assert lengths.path_length([(0, 0), (0.1, 0), (0.1, 0), (0.2, 0)], 0.01) == approx(0.2)
    assert lengths.path_length([(0, 0)]) == 0
    assert lengths.path_length([]) == 0


def test_from_path_to_cut():
    # By hand: a 500 mm path wants 605 mm with 5 % and two ends of 40 mm; soldered ends of 10 mm make it 625 mm.
    path = lengths.path_length([(0, 0), (0.3, 0), (0.3, 0.2)])
    wanted = lengths.wanted_length(path, 0.05, 0.04, 2)
    assert wanted == approx(0.605)
    assert lengths.cut_length(wanted, 0, 0.01, 0.005) == approx(0.625)


@given(st.integers(0, 2000), st.integers(0, 40), st.integers(0, 20))
@settings(max_examples=200, deadline=None)
def test_cuts_against_whole_millimetres(wanted, body, strip):
    # The same in whole millimetres, where nothing rounds.
    need = wanted - 2 * body + 2 * strip
    expected = max(0, -(-need // 5) * 5)
    assert lengths.cut_length(wanted / 1000, body / 1000, strip / 1000, 0.005) == approx(expected / 1000, abs=1e-9)


@pytest.mark.parametrize("millimetres_asked, surplus", [(100, 25), (300, 25), (301, 50), (1500, 50), (3000, 100), (7500, 150), (10_000, 500)])
def test_tolerance_of_made_leads(millimetres_asked, surplus):
    # Up to 0.3 m +25 mm, 1.5 m +50, 3 m +100, 7.5 m +150, beyond +5 %; never short.
    what, source = f"how much longer a lead of {millimetres_asked} mm may be", "IPC/WHMA-A-620, table 11-1"
    assert lengths.length_tolerance(millimetres_asked / 1000) * 1000 == published(surplus, "mm", what, source)


@pytest.mark.parametrize(
    "call",
    [
        lambda: lengths.bend_saving(math.pi, 0.01),
        lambda: lengths.bend_saving(-0.1, 0.01),
        lambda: lengths.path_length([(0, 0), (1, 0)], -1),
        lambda: lengths.path_length([(0, 0), (1, 0, 0)]),
        lambda: lengths.path_length([(0, 0), (math.inf, 0)]),
        lambda: lengths.wanted_length(1, 0.05, 0.04, 3),
        lambda: lengths.cut_length(1, 0, 0.01, 0),
        lambda: lengths.length_tolerance(0),
    ],
)
def test_what_cannot_be_is_refused(call):
    with pytest.raises(ValueError):
        call()
