"""Small circuits against textbook examples and a circuit simulator."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

import spice
from boardwright.physics import impedance
from published import published


@pytest.mark.parametrize("ratio, loss", [(1, -6.02), (2, -3.52), (5, -1.58), (10, -0.828), (20, -0.424), (100, -0.086)])
def test_bridging_loss(ratio, loss):
    # 20 log10(k / (k + 1)).
    what = f"loss into {ratio} times the source"
    assert impedance.bridging_loss(1e3, ratio * 1e3) == published(loss, "dB", what, "tables of bridging ratios, any textbook", abs=0.005)


@pytest.mark.parametrize(
    "ohms, farads, hertz, source",
    [
        (500, 7e-6, 45.473, "Kuphaldt, Lessons in Electric Circuits, AC, chapter 8, “Low-pass filters”"),
        (1e3, 1e-6, 159.15, "any textbook"),
    ],
)
def test_rc_corner(ohms, farads, hertz, source):
    what = f"corner of {ohms:g} Ω and {farads * 1e6:g} µF"
    assert impedance.rc_corner(ohms, farads) == published(hertz, "Hz", what, source, rel=1e-4)


def test_corner_of_a_piezo():
    # By hand: 1 nF into 220 kilohm.
    assert impedance.rc_corner(220e3, 1e-9) == approx(723, rel=1e-3)


def test_handbook_cable():
    # Printed rounded.
    source, what = "Handbook for Sound Engineers, p. 1217", "−3 dB of 200 ft of cable of 17 pF/ft on 1 kΩ"
    assert impedance.rc_corner(1e3, 200 * 17e-12) / 1e3 == published(50, "kHz", what, source, rel=0.1)


def test_corner_against_ngspice():
    corner = impedance.rc_corner(500, 7e-6)
    netlist = ["V1 in 0 AC 1", "R1 in out 500", "C1 out 0 7u"]
    assert spice.magnitudes(netlist, "out", [corner]) == [approx(-3.0103, abs=1e-4)]


@pytest.mark.parametrize("henries, farads", [(0.1, 10e-6), (1, 1e-6)])
def test_kuphaldts_resonance(henries, farads):
    source = "Kuphaldt, Lessons in Electric Circuits, AC, chapter 8, resonant filters"
    what = f"resonance of {henries:g} H and {farads * 1e6:g} µF"
    assert impedance.lc_resonance(henries, farads) == published(159.15, "Hz", what, source, rel=1e-4)


def test_parallel_resistances():
    # By hand: 50 milliohm of lead beside 40 milliohm of screen make 22 milliohm.
    assert impedance.parallel(0.05, 0.04) == approx(0.0222, abs=5e-5)
    assert impedance.parallel(7.0) == 7
    assert impedance.parallel(1e3, 0, 5) == 0


@given(st.lists(st.floats(1e-3, 1e7), min_size=2, max_size=6))
@settings(max_examples=100, deadline=None)
def test_side_by_side_is_less_than_the_least(ohms):
    together = impedance.parallel(*ohms)
    assert together < min(ohms)
    assert together >= min(ohms) / len(ohms) * (1 - 1e-12)


def test_charging_a_capacitor():
    # By hand: 100 ohm and 100 microfarad make 10 ms; 1000 microfarad at 9 V hold 40.5 mJ. The exponential law: after
    # one such time 63.2 % is reached.
    assert impedance.rc_time(100, 100e-6) == approx(0.01)
    assert impedance.capacitor_energy(1000e-6, 9) == approx(0.0405)
    charge, step = 0.0, 1e-6
    for _ in range(10_000):
        charge += step * (1 - charge) / impedance.rc_time(100, 100e-6)
    assert charge == approx(1 - math.exp(-1), rel=1e-4)


@pytest.mark.parametrize(
    "call",
    [
        lambda: impedance.parallel(),
        lambda: impedance.parallel(10, -1),
        lambda: impedance.bridging_loss(-1, 10),
        lambda: impedance.bridging_loss(1, 0),
        lambda: impedance.rc_corner(0, 1e-9),
        lambda: impedance.lc_resonance(1, 0),
        lambda: impedance.rc_time(1, math.inf),
        lambda: impedance.capacitor_energy(1e-6, -9),
    ],
)
def test_what_cannot_be_is_refused(call):
    with pytest.raises(ValueError):
        call()
