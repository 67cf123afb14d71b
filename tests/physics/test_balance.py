"""Balance against a geometry library and statics."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx
from shapely import MultiPolygon, box

from boardwright.physics import balance

boxes = st.tuples(st.integers(1, 300), st.integers(1, 300))


@given(st.lists(boxes, min_size=1, max_size=8))
@settings(max_examples=100, deadline=None)
def test_against_shapely(sizes):
    # Plates of even thickness: their mass is their area, and shapely's centroid of all is the centre of gravity.
    plates = [box(number * 400, 0, number * 400 + w, h) for number, (w, h) in enumerate(sizes)]
    middles = [(plate.centroid.x, plate.centroid.y) for plate in plates]
    whole = MultiPolygon(plates).centroid
    assert balance.centre_of_gravity([p.area for p in plates], middles) == approx((whole.x, whole.y))


def test_a_lever():
    # Archimedes' law of the lever by hand: 3 kg at 0 and 1 kg at 1 m balance at 0.25 m.
    assert balance.centre_of_gravity([3, 1], [(0, 0, 0), (1, 0, 2)]) == approx((0.25, 0, 0.5))


def test_standing_on_edge():
    # Statics by hand: a box 0.1 m deep and 0.4 m tall, balanced in its middle, falls at atan(0.05 / 0.2) = 14 degrees.
    angle = balance.tip_angle(0.05, 0.2)
    assert math.degrees(angle) == approx(14.04, abs=0.01)
    # Leaned just so far, its centre of gravity stands right above the edge.
    assert math.sin(angle) * math.hypot(0.05, 0.2) == approx(0.05)
    assert balance.tip_angle(0, 0.2) == 0
    assert balance.tip_angle(0.05, 0) == approx(math.pi / 2)


@pytest.mark.parametrize(
    "call",
    [
        lambda: balance.centre_of_gravity([], []),
        lambda: balance.centre_of_gravity([0], [(1, 1)]),
        lambda: balance.centre_of_gravity([1], []),
        lambda: balance.centre_of_gravity([1, -1], [(0, 0), (1, 1)]),
        lambda: balance.centre_of_gravity([1, 1], [(0, 0), (1, 1, 1)]),
        lambda: balance.centre_of_gravity([1], [(math.nan, 0)]),
        lambda: balance.tip_angle(0, 0),
        lambda: balance.tip_angle(-1, 1),
    ],
)
def test_what_cannot_be_is_refused(call):
    with pytest.raises(ValueError):
        call()
