"""Pickup, cable and load against a circuit simulator and published figures."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx
from scipy.optimize import minimize_scalar

import spice
from boardwright.physics import impedance, pickup
from boardwright.physics.pickup import Pickup

SINGLE_COIL = Pickup(2.5, 6200, 110e-12)
HUMBUCKER = Pickup(4.5, 8200, 150e-12)

# Pickup, cable [F] and load [ohm]; values within the ranges of Lemme, "The secrets of electric guitar pickups":
# 1 to 10 H, 80 to 200 pF of coil, 300 to 1000 pF of cable.
NETWORKS = {
    "single coil, short cable, high input": (SINGLE_COIL, 300e-12, impedance.parallel(250e3, 250e3, 1e6)),
    "single coil, long cable": (SINGLE_COIL, 1770e-12, impedance.parallel(250e3, 250e3, 1e6)),
    "single coil into a low input": (SINGLE_COIL, 600e-12, impedance.parallel(250e3, 250e3, 8e3)),
    "humbucker, usual cable": (HUMBUCKER, 600e-12, impedance.parallel(500e3, 500e3, 1e6)),
    "humbucker, no cable to speak of": (HUMBUCKER, 20e-12, 10e6),
    "low-impedance pickup": (Pickup(0.1, 200, 50e-12), 1000e-12, 47e3),
}
TWENTY_FREQUENCIES = [20 * 1000 ** (n / 19) for n in range(20)]  # 20 Hz to 20 kHz


@pytest.mark.parametrize("name", NETWORKS)
def test_response_against_ngspice(name):
    (henries, ohms, farads), cable, load = NETWORKS[name]
    netlist = ["V1 in 0 AC 1", f"R1 in a {ohms}", f"L1 a out {henries}", f"C1 out 0 {farads}", f"C2 out 0 {cable}"]
    second = spice.magnitudes([*netlist, f"R2 out 0 {load!r}"], "out", TWENTY_FREQUENCIES)
    own = [20 * math.log10(abs(pickup.response(f, *NETWORKS[name]))) for f in TWENTY_FREQUENCIES]
    assert own == approx(second, abs=1e-6)  # asked for: 0.05 dB


@pytest.mark.parametrize("henries, picofarads, hertz", [(2.5, 600, 4109), (2.5, 1100, 3035), (4.5, 600, 3063), (4.5, 1100, 2262)])
def test_resonance(henries, picofarads, hertz):
    # Thomson's formula by hand.
    assert pickup.resonance(Pickup(henries, 6e3, 0), picofarads * 1e-12) == approx(hertz, rel=2e-4)


def test_damped_pickup():
    # ngspice 39 and an independent array computation, both recorded: 6 kilohm and 2.5 H with 600 pF on 250 kilohm
    # beside 1 megohm peak at 3.99 kHz, 7.68 dB above the induced voltage.
    coil, load = Pickup(2.5, 6e3, 0), impedance.parallel(250e3, 1e6)
    top = pickup.peak(coil, 600e-12, load)
    assert top.frequency == approx(3990, rel=2e-3)
    assert 20 * math.log10(abs(pickup.response(top.frequency, coil, 600e-12, load))) == approx(7.68, abs=0.02)
    assert top.level == approx(7.68 - 20 * math.log10(200 / 206), abs=0.02)  # above low frequencies, where 6k is lost


# Response relative to 100 Hz at 5 kHz [dB], cable of 100 pF/m into 1 megohm: worked out apart from this code.
CABLE_TABLE = {3: (2.5, -1.7), 6: (-0.3, -7.5), 9: (-4.1, -11.2), 12: (-7.1, -13.8), 20: (-12.2, -18.4)}


@pytest.mark.parametrize("metres, expected", CABLE_TABLE.items())
def test_a_longer_cable_is_duller(metres, expected):
    loads = impedance.parallel(250e3, 250e3, 1e6), impedance.parallel(500e3, 500e3, 1e6)
    for coil, load, level in zip((SINGLE_COIL, HUMBUCKER), loads, expected, strict=True):
        assert pickup.level(5e3, 100, coil, metres * 100e-12, load) == approx(level, abs=0.06)


pickups = st.builds(Pickup, st.floats(0.05, 10), st.floats(10, 2e4), st.floats(0, 300e-12))
cables = st.floats(50e-12, 3e-9)
some_loads = st.floats(5e3, 1e7)


@given(pickups, cables, some_loads)
@settings(max_examples=100, deadline=None)
def test_peak_against_an_optimiser(coil, cable, load):
    top = pickup.peak(coil, cable, load)
    middle = pickup.resonance(coil, cable)
    found = minimize_scalar(
        lambda octaves: -abs(pickup.response(middle * 2**octaves, coil, cable, load)),
        bounds=(-8, 3),
        method="bounded",
        options={"xatol": 1e-10},
    )
    low = abs(pickup.response(0, coil, cable, load))
    if top is None:
        assert -found.fun <= low * (1 + 1e-9)
    else:
        # A peak lower than this is so flat that the optimiser may settle beside it.
        assert top.level == approx(20 * math.log10(-found.fun / low), abs=1e-6)
        assert top.frequency == approx(middle * 2**found.x, rel=0.05 if top.level < 0.01 else 1e-3)


@given(pickups, cables, some_loads)
@settings(max_examples=100, deadline=None)
def test_quality_from_its_definition(coil, cable, load):
    # For a second-order low-pass, Q is the response at the frequency of a quarter turn against that at 0 Hz.
    turn = pickup.resonance(coil, cable) * math.sqrt(1 + coil.resistance / load)
    ratio = pickup.response(turn, coil, cable, load) / pickup.response(0, coil, cable, load)
    assert ratio.real == approx(0, abs=1e-9 * abs(ratio))
    assert pickup.quality(coil, cable, load) == approx(abs(ratio), rel=1e-9)


@given(pickups, cables, some_loads)
@settings(max_examples=50, deadline=None)
def test_more_cable_lowers_the_resonance(coil, cable, load):
    assert pickup.resonance(coil, cable * 1.1) < pickup.resonance(coil, cable)


@pytest.mark.parametrize(
    "call",
    [
        lambda: pickup.response(-1, SINGLE_COIL, 1e-9, 1e6),
        lambda: pickup.response(1e3, Pickup(0, 6e3, 1e-10), 1e-9, 1e6),
        lambda: pickup.response(1e3, SINGLE_COIL, -1e-9, 1e6),
        lambda: pickup.response(1e3, SINGLE_COIL, 1e-9, 0),
        lambda: pickup.resonance(Pickup(2.5, 6e3, 0), 0),
        lambda: pickup.quality(Pickup(2.5, -6e3, 0), 1e-9, 1e6),
    ],
)
def test_what_cannot_be_is_refused(call):
    with pytest.raises(ValueError):
        call()
