"""Noise against published examples, measured constants and a spectrum."""

import numpy
import pytest
import scipy.constants
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from boardwright.physics import levels, noise
from published import published


@pytest.mark.parametrize(
    "ohms, kelvin, hertz, nanovolts, source",
    [
        (1e3, 300, 1, 4.07, "an encyclopedia, per root hertz"),
        (1e6, 310, 1e6, 1.31e5, "a textbook exercise"),
        (1e6, 300, 20e3, 18.2e3, "a textbook exercise"),
    ],
)
def test_johnson_noise(ohms, kelvin, hertz, nanovolts, source):
    what = f"noise of {ohms:.7g} Ω at {kelvin} K over {hertz:.7g} Hz"
    assert noise.johnson_noise(ohms, hertz, kelvin) * 1e9 == published(nanovolts, "nV", what, source, rel=2e-3)


def test_johnson_noise_as_a_level():
    # 1 megohm at 300 K over 20 kHz: -92.6 dBu.
    assert levels.dbu(noise.johnson_noise(1e6, 20e3, 300)) == approx(-92.6, abs=0.05)


def test_a_warm_room_unless_told_otherwise():
    assert noise.johnson_noise(1e3, 1) == noise.johnson_noise(1e3, 1, 300)


def test_boltzmann():
    codata = "CODATA, as the library scipy holds it"
    assert published(scipy.constants.k * 1e23, "10⁻²³ J/K", "Boltzmann constant", codata, rel=1e-12) == noise.BOLTZMANN * 1e23
    assert scipy.constants.k == noise.BOLTZMANN


def test_common_impedance():
    # Ohm's law: 300 microampere in 1 ohm is -60.5 dB against -10 dBV, 1 mA in 0.1 ohm is -70.0 dB.
    assert levels.dbv(noise.common_impedance_voltage(300e-6, 1)) + 10 == approx(-60.5, abs=0.05)
    assert levels.dbv(noise.common_impedance_voltage(1e-3, 0.1)) + 10 == approx(-70.0, abs=0.05)


def test_digital_pedal_on_a_shared_lead():
    # By hand: 10 mA through 50 beside 40 milliohm is 222 microvolt, -73 dBV; after 35 dB of gain -38 dBV.
    volts = noise.common_impedance_voltage(0.010, 0.05, 0.04)
    assert volts == approx(222e-6, rel=2e-3)
    assert noise.level_after(volts, 35) == approx(-38, abs=0.1)


def test_uncorrelated_noise_against_random_numbers():
    # Two independent normal noises of 3 and 4: together 5, as their samples show (seed fixed).
    rng = numpy.random.default_rng(1)
    samples = rng.normal(0, 3, 400_000) + rng.normal(0, 4, 400_000)
    assert noise.noise_sum([3, 4]) == approx(5)
    assert samples.std() == approx(noise.noise_sum([3, 4]), rel=0.01)
    assert noise.noise_sum([]) == 0


@pytest.mark.parametrize("first, second", [(1000, 1030), (1500, 1000), (997, 1487)])
def test_beats_against_a_spectrum(first, second):
    # The product of two signals with three harmonics each, as a diode makes it: every line of its spectrum below the
    # lowest sum tone must be a beat, and every beat a line.
    time = numpy.arange(20_000) / 20_000
    harmonics = [sum(numpy.cos(2 * numpy.pi * n * f * time) for n in (1, 2, 3)) for f in (first, second)]
    spectrum = numpy.abs(numpy.fft.rfft(harmonics[0] * harmonics[1])) / len(time)
    below = min(first, second) // 2 * 3
    lines = {hertz for hertz in range(20, below + 1) if spectrum[hertz] > 1e-6}
    assert {beat.frequency for beat in noise.clock_beats(first, second, 20, below, 3)} == lines


def test_beats_come_simplest_first():
    # Arithmetic: 100 kHz and 101 kHz.
    assert noise.clock_beats(100e3, 101e3, 20, 15e3, 3) == [(1, 1, 1e3), (2, 2, 2e3), (3, 3, 3e3)]
    assert noise.clock_beats(100e3, 100e3, 20, 15e3, 3) == []
    assert noise.clock_beats(1000, 1400, 0, 400, 3) == [(1, 1, 400), (3, 2, 200)]
    assert noise.clock_beats(1000, 1500, 0, 1000, 2) == [(1, 1, 500), (2, 1, 500), (2, 2, 1000)]


def test_both_ends_of_the_band_belong_to_it():
    assert noise.clock_beats(100e3, 101e3, 1e3, 2e3, 3) == [(1, 1, 1e3), (2, 2, 2e3)]
    assert noise.clock_beats(100e3, 101e3, 1e3, 1e3, 3) == [(1, 1, 1e3)]


@given(st.floats(1e3, 1e6), st.floats(1e3, 1e6))
@settings(max_examples=100, deadline=None)
def test_it_does_not_matter_which_clock_is_named_first(first, second):
    ahead = {(b.first, b.second, b.frequency) for b in noise.clock_beats(first, second, 20, 15e3, 3)}
    assert {(b.second, b.first, b.frequency) for b in noise.clock_beats(second, first, 20, 15e3, 3)} == ahead


@pytest.mark.parametrize(
    "call",
    [
        lambda: noise.common_impedance_voltage(0.01),
        lambda: noise.common_impedance_voltage(-0.01, 1),
        lambda: noise.level_after(0, 20),
        lambda: noise.johnson_noise(-1, 1),
        lambda: noise.noise_sum([1, -1]),
        lambda: noise.clock_beats(0, 1e3, 20, 15e3, 3),
        lambda: noise.clock_beats(1e3, 1e3, 15e3, 20, 3),
        lambda: noise.clock_beats(1e3, 1e3, 20, 15e3, 0),
    ],
)
def test_what_cannot_be_is_refused(call):
    with pytest.raises(ValueError):
        call()
