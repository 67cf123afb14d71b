"""The thresholds of layout and routing against the published figures that they stand on."""

from __future__ import annotations

import pytest

from boardwright import limits
from boardwright.board.assemble import assemble
from boardwright.board.layout.balance import balance_of
from boardwright.board.layout.lengths import cut_length, least_length, strip_of, wanted_length
from boardwright.physics.lengths import length_tolerance
from boardwright.physics.lifting import recommended_weight_limit
from boardwright.spec.read import read

# Foot breadth, horizontal, of men: percentiles 5, 50, 95, 99 in mm. ANSUR II, NATICK/TR-15/007, public file.
MEN = {5: 94, 50: 102, 95: 111, 99: 115}
STREET_SHOE, BOOT = 10, 30  # mm, Pheasant-type table of British adults


def test_shoe_and_switch_spacing_follow_foot_breadth():
    assert limits.SHOE_BREADTH.value * 1000 == MEN[50] + STREET_SHOE
    # half a big man's shoe, half a cap of 12 mm, and 5 mm to spare
    needed = (MEN[95] + STREET_SHOE) / 2 + 6 + 5
    assert needed == pytest.approx(71.5)
    assert limits.SWITCH_RISK.value * 1000 < needed <= limits.SWITCH_ADVICE.value * 1000
    # below the fault distance even a small man's shoe covers the next switch
    assert limits.SWITCH_FAULT.value * 1000 < (MEN[5] + STREET_SHOE) / 2
    # what is advised suits boots with half their allowance to spare
    assert limits.SWITCH_ADVICE.value * 1000 >= (MEN[50] + BOOT) / 2 + 6


def test_recommended_weight_limit_of_the_assumed_lift():
    # NIOSH 94-110: 23 kg · 25/30 · (1 − 0.003·70) · (0.82 + 4.5/70)
    found = recommended_weight_limit(limits.LIFT_REACH.value, limits.LIFT_HEIGHT.value, limits.LIFT_TRAVEL.value)
    assert found == pytest.approx(23 * 25 / 30 * (1 - 0.003 * 70) * (0.82 + 4.5 / 70), rel=1e-9)
    assert found == pytest.approx(13.4, abs=0.05)
    assert found * 1000 < limits.LIFT_ADVICE.value < limits.LIFT_RISK.value == 25_000  # ISO 11228-1 reference mass, from memory


def test_worked_lengths():
    """A way of 500 mm: wanted 605, cut 625. Common practice, no published source for the allowances."""
    assert wanted_length(0.5) == pytest.approx(0.605)
    assert least_length(0.5) == pytest.approx(0.530)
    assert cut_length(0.605, strip_of("soldered")) == pytest.approx(0.625)
    assert cut_length(0.605, strip_of("clamped")) == pytest.approx(0.605)
    assert strip_of("crimped") == pytest.approx(0.012) and strip_of("soldered", 0.008) == 0.008


@pytest.mark.parametrize(("millimetres", "over"), [(300, 25), (301, 50), (1500, 50), (1501, 100), (3000, 100), (7500, 150), (10_000, 500)])
def test_tolerance_of_made_leads(millimetres, over):
    """IPC/WHMA-A-620, table 11-1: longer is allowed, shorter never."""
    assert length_tolerance(millimetres / 1000) == pytest.approx(over / 1000)
    for wanted in (millimetres - 3, millimetres):
        cut = cut_length(wanted / 1000, 0.010)
        assert 0 <= cut - 0.020 - wanted / 1000 < limits.CUT_STEP.value <= length_tolerance(wanted / 1000)


def test_balance_point_by_hand():
    # 5.2 kg at [650, 85], 5.4 kg at [600, 275], 16 kg of case in the middle [450, 200]
    text = """
board: {case: {empty_weight: 16 kg}, frame: {size: [900, 400]}}
pedals: {a: {weight: 5200 g, size: [400, 150, 70], at: [450, 10]}, b: {weight: 5400 g, size: [300, 150, 70], at: [450, 200]}}
"""
    found = balance_of(assemble(read(text, fragment=True)).layout)
    assert found.x == pytest.approx((5.2 * 0.650 + 5.4 * 0.600 + 16 * 0.450) / 26.6)
    assert found.y == pytest.approx((5.2 * 0.085 + 5.4 * 0.275 + 16 * 0.200) / 26.6)


def test_no_balance_while_weights_have_no_place():
    text = "board: {frame: {size: [900, 400]}}\npedals: {a: {weight: 5 kg}, b: {weight: 1 kg, at: [10, 10]}}"
    assert balance_of(assemble(read(text, fragment=True)).layout) is None
