"""Decibels and reference levels against published ones."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from boardwright.physics import levels
from published import published


def test_reference_levels():
    source = "GNU units 2.22"
    assert levels.volts_from_dbu(0) == published(0.774597, "V", "0 dBu", source, abs=5e-7)
    assert levels.volts_from_dbu(4) == published(1.227653, "V", "+4 dBu", source, abs=5e-7)
    assert levels.volts_from_dbv(-10) == published(0.3162278, "V", "−10 dBV", source, abs=5e-8)


def test_between_the_references():
    # It prints 11.79 for the first, and 2.2 for the second.
    source = "STX manual of the Austrian Academy of Sciences, table 5"
    assert levels.dbv(levels.volts_from_dbu(4)) + 10 == published(11.78, "dB", "from −10 dBV to +4 dBu", source, abs=0.015)
    assert levels.dbu(1) == published(2.218, "dB", "from 0 dBu to 0 dBV", source, abs=5e-4)


@given(st.floats(-300, 300))
def test_there_and_back(level):
    assert levels.decibels_of(levels.ratio_of(level)) == approx(level, abs=1e-9)
    assert levels.dbu(levels.volts_from_dbu(level)) == approx(level, abs=1e-9)
    assert levels.dbv(levels.volts_from_dbv(level)) == approx(level, abs=1e-9)


@pytest.mark.parametrize("supply, peak, level", [(9, 3.5, 7.9), (18, 8, 15.1)])
def test_headroom_of_a_stage(supply, peak, level):
    # By hand, 2 V lost to the stage (common practice): 9 V leave 3.5 V peak, which is +7.9 dBV of sine.
    assert levels.peak_ceiling(supply, 2) == peak
    assert levels.dbv(levels.effective_from_peak(peak)) == approx(level, abs=0.05)


def test_a_stage_without_room():
    assert levels.peak_ceiling(1.5, 2) == 0


@pytest.mark.parametrize(
    "call",
    [
        lambda: levels.decibels_of(0),
        lambda: levels.dbv(-1),
        lambda: levels.dbu(0),
        lambda: levels.ratio_of(1e9),
        lambda: levels.volts_from_dbu(float("nan")),
        lambda: levels.effective_from_peak(-1),
        lambda: levels.peak_ceiling(0, 2),
    ],
)
def test_what_cannot_be_is_refused(call):
    with pytest.raises(ValueError):
        call()
