"""Comb filters against published figures and a signal-processing library."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx
from scipy.signal import freqz

from boardwright.physics import comb
from published import published


def test_first_notches():
    # The first notch is at 1 / (2 tau), then odd multiples.
    what, source = "notches of a copy 1 ms late", "Smyth, UCSD Music 206"
    assert comb.notches(1e-3, 3) == [published(hertz, "Hz", what, source) for hertz in (500, 1500, 2500)]


def test_notches_of_a_digital_delay():
    # The same: six samples of delay give notches at fs/12, fs/4, 5 fs/12.
    rate = 48_000
    assert comb.notches(6 / rate, 3) == [approx(rate / 12), approx(rate / 4), approx(5 * rate / 12)]


def test_opposed_copies_lose_the_bass():
    # By hand: zeros move to whole multiples of 1 / tau, 0 Hz included.
    assert comb.notches(2e-3, 3, opposed=True) == [0, approx(500), approx(1000)]


@pytest.mark.parametrize("strength, peak, dip", [(0.9, 5.58, -20), (0.5, 3.52, -6.02)])
def test_ripple(strength, peak, dip):
    # |H| = sqrt(1 + 2 g cos(w D) + g^2).
    source = "Case, recordingology.com, on comb filters"
    ripple = comb.ripple(-20 * math.log10(strength))
    assert ripple.dip == published(dip, "dB", f"deepest dip with a copy {strength} as strong", source, abs=0.01)
    assert ripple.peak == published(peak, "dB", f"highest peak with a copy {strength} as strong", source, abs=0.01)


@pytest.mark.parametrize("difference, dip, peak", [(6, -6.0, 3.5), (10, -3.3, 2.4), (15, -1.7, 1.4), (0.1, -38.8, 5.97)])
def test_ripple_by_level_difference(difference, dip, peak):
    # 20 log10(1 -+ g) by hand; a gain error of 0.1 dB leaves a null of -38.8 dB.
    ripple = comb.ripple(difference)
    assert (ripple.dip, ripple.peak) == (approx(dip, abs=0.06), approx(peak, abs=0.06))


def test_equal_copies_cancel_without_rest():
    assert comb.ripple(0) == (None, approx(6.02, abs=0.001))
    assert abs(comb.response(500, 1e-3)) == approx(0, abs=1e-12)
    assert abs(comb.response(0, 1e-3, opposed=True)) == 0


@given(st.integers(1, 40), st.floats(0, 20), st.booleans(), st.floats(1, 23_999))
@settings(max_examples=100, deadline=None)
def test_response_against_scipy(samples, difference, opposed, frequency):
    # A comb filter is a digital filter with two taps: scipy.signal.freqz evaluates its transfer function.
    rate = 48_000
    copy = 10 ** (-difference / 20) * (-1 if opposed else 1)
    _, second = freqz([1, *[0] * (samples - 1), copy], worN=[frequency], fs=rate)
    own = comb.response(frequency, samples / rate, difference, opposed)
    assert own == approx(second[0], abs=1e-9)


@given(st.floats(1e-4, 1e-2), st.floats(0, 20), st.booleans())
@settings(max_examples=50, deadline=None)
def test_notches_are_where_the_response_dips(delay, difference, opposed):
    dip, peak = comb.ripple(difference)
    lowest, highest = 0 if dip is None else 10 ** (dip / 20), 10 ** (peak / 20)
    for notch in comb.notches(delay, 4, opposed):
        assert abs(comb.response(notch, delay, difference, opposed)) == approx(lowest, abs=1e-9)
        assert abs(comb.response(notch + 0.5 / delay, delay, difference, opposed)) == approx(highest, abs=1e-9)


def test_sound_in_air():
    # Speed of sound 343 m/s at 20 °C: 10 cm take 0.29 ms, and 1 ms is 34 cm.
    assert comb.air_delay(0.10) == approx(0.29e-3, abs=5e-6)
    assert comb.air_delay(0.343) == approx(1e-3)


@pytest.mark.parametrize(
    "call",
    [
        lambda: comb.notches(0, 3),
        lambda: comb.notches(1e-3, -1),
        lambda: comb.notches(1e-3, 1.5),
        lambda: comb.ripple(-1),
        lambda: comb.ripple(1e4),
        lambda: comb.response(-1, 1e-3),
        lambda: comb.air_delay(-1),
    ],
)
def test_what_cannot_be_is_refused(call):
    with pytest.raises(ValueError):
        call()
