"""Warmth of a supply against a cooling experiment done numerically, and geometry."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx
from scipy.integrate import solve_ivp
from shapely import box

from boardwright.physics import heat


def test_a_box_settles_at_this_rise():
    # Newton's law of cooling, integrated over ten hours for 1.5 kg of aluminium (897 J/(kg K)).
    area = heat.box_area(0.19, 0.08, 0.045)
    course = solve_ivp(lambda _, rise: (24 - 10 * area * 0.3 * rise) / (1.5 * 897), (0, 3.6e5), [0], rtol=1e-9)
    assert heat.temperature_rise(24, area, 10, 0.3) == approx(course.y[0][-1], rel=1e-6)


def test_linear_supply_boxed_in():
    # By hand: 24 W at 50 % lose 24 W; 0.0547 m² at 10 W/(m² K), 0.3 of it exposed: far beyond any limit.
    assert heat.conversion_loss(24, 0.5) == approx(24)
    assert heat.temperature_rise(24, heat.box_area(0.19, 0.08, 0.045), 10, 0.3) == approx(146.3, abs=0.1)


def test_a_perfect_converter_stays_cool():
    assert heat.conversion_loss(24, 1) == 0


@given(st.floats(0.01, 1), st.floats(0.01, 1), st.floats(0.01, 1))
def test_area_of_a_box_from_its_net(length, width, height):
    faces = [box(0, 0, length, width), box(0, 0, width, height), box(0, 0, height, length)]
    assert heat.box_area(length, width, height) == approx(2 * sum(face.area for face in faces))


@pytest.mark.parametrize(
    "call",
    [
        lambda: heat.conversion_loss(1, 0),
        lambda: heat.conversion_loss(1, 1.01),
        lambda: heat.conversion_loss(-1, 0.8),
        lambda: heat.box_area(1, 0, 1),
        lambda: heat.temperature_rise(1, 1, 10, 0),
        lambda: heat.temperature_rise(1, 1, 10, 1.5),
    ],
)
def test_what_cannot_be_is_refused(call):
    with pytest.raises(ValueError):
        call()
