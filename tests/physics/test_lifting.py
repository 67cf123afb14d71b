"""The lifting equation against its published table."""

import math

import pytest
from pytest import approx

from boardwright.physics import lifting
from published import published

FACT_SHEET = "Canadian Centre for Occupational Health and Safety, fact sheet on the NIOSH lifting equation"
# Centimetres (or degrees) and the multiplier, to two figures. The sheet prints 0.87 at 100 cm, where the equation gives 0.865.
HORIZONTAL = {25: 1.00, 30: 0.83, 40: 0.63, 50: 0.50, 60: 0.42}
VERTICAL = {0: 0.78, 30: 0.87, 75: 1.00, 150: 0.78}
DISTANCE = {25: 1.00, 40: 0.93, 55: 0.90, 100: 0.87}
ASYMMETRY = {0: 1.00, 30: 0.90, 45: 0.86, 90: 0.71}


@pytest.mark.parametrize(
    "multiplier, table",
    [
        (lifting.horizontal_multiplier, HORIZONTAL),
        (lifting.vertical_multiplier, VERTICAL),
        (lifting.distance_multiplier, DISTANCE),
    ],
)
def test_lengths_against_the_table(multiplier, table):
    for centimetres, expected in table.items():
        what = f"{multiplier.__name__.replace('_', ' ')} at {centimetres} cm"
        assert multiplier(centimetres / 100) == published(expected, "", what, FACT_SHEET, abs=0.0051)


def test_twist_against_the_table():
    for degrees, expected in ASYMMETRY.items():
        what = f"asymmetry multiplier at {degrees} degrees"
        assert lifting.asymmetry_multiplier(math.radians(degrees)) == published(expected, "", what, FACT_SHEET, abs=0.0051)


def test_limits_of_the_equation():
    # NIOSH 94-110: reach beyond 63 cm, hands above 175 cm, travel beyond 175 cm, twist beyond 135 degrees: nothing.
    assert lifting.horizontal_multiplier(0.64) == 0
    assert lifting.vertical_multiplier(1.76) == 0
    assert lifting.distance_multiplier(1.76) == 0
    assert lifting.asymmetry_multiplier(math.radians(136)) == 0
    assert lifting.asymmetry_multiplier(math.radians(135)) == approx(0.57, abs=0.005)
    assert lifting.horizontal_multiplier(0) == lifting.distance_multiplier(0) == 1


def test_a_board_from_the_floor():
    # The equation by hand: H 30, V 5, D 70 cm, straight ahead, one lift, good handles: 13.4 kg.
    limit = lifting.recommended_weight_limit(0.30, 0.05, 0.70)
    assert limit == approx(13.4, abs=0.05)
    assert lifting.lifting_index(26.8, limit) == approx(2, abs=0.01)
    assert lifting.recommended_weight_limit(0.30, 0.05, 0.70, grip=0.9) == approx(0.9 * limit)


def test_ideal_lift():
    what = "lifted close to the body, from 75 cm, by no more than 25 cm"
    assert lifting.recommended_weight_limit(0.25, 0.75, 0.25) == published(23, "kg", what, "NIOSH 94-110")


@pytest.mark.parametrize(
    "call",
    [
        lambda: lifting.horizontal_multiplier(-0.1),
        lambda: lifting.vertical_multiplier(math.nan),
        lambda: lifting.recommended_weight_limit(0.3, 0.05, -0.7),
        lambda: lifting.recommended_weight_limit(0.3, 0.05, 0.7, frequency=1.1),
        lambda: lifting.lifting_index(10, 0),
    ],
)
def test_what_cannot_be_is_refused(call):
    with pytest.raises(ValueError):
        call()
