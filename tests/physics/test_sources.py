"""Sources alone and joined, against a circuit simulator and the theorems they rest on."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx
from scipy.optimize import minimize_scalar

import spice
from boardwright.physics import sources
from boardwright.physics.sources import Source
from published import published

some_sources = st.lists(st.builds(Source, st.floats(1, 30), st.floats(0.01, 100)), min_size=1, max_size=5)


@given(some_sources, st.floats(1, 1e4))
@settings(max_examples=100, deadline=None)
def test_series_and_parallel_meet_kirchhoff(group, load):
    # Kirchhoff's laws on the pieces: the same current through a stack, the same voltage across a bank.
    stack = sources.in_series(group)
    current = stack.voltage / (stack.resistance + load)
    assert current * load == approx(sum(s.voltage - current * s.resistance for s in group))
    bank = sources.in_parallel(group)
    voltage = bank.voltage * load / (bank.resistance + load)
    assert voltage / load == approx(sum((s.voltage - voltage) / s.resistance for s in group), rel=1e-6, abs=1e-9)


def test_unequal_bank_against_ngspice():
    group = [Source(9.6, 1.7), Source(8.1, 30), Source(9.0, 4)]
    emfs = [f"V{n} p{n} 0 {s.voltage}" for n, s in enumerate(group)]
    resistances = [f"R{n} p{n} out {s.resistance}" for n, s in enumerate(group)]
    second = spice.node_voltages([*emfs, *resistances, "I1 out 0 0.05"], ["out"])
    bank = sources.in_parallel(group)
    assert sources.sagged_voltage(bank, 0.05) == approx(second["out"], rel=1e-8)
    assert sources.shares(group, 0.05)[0] == approx((9.6 - second["out"]) / 1.7, rel=1e-8)


@given(some_sources, st.floats(0, 1))
@settings(max_examples=100, deadline=None)
def test_shares_add_up_to_the_current_drawn(group, current):
    assert sum(sources.shares(group, current)) == approx(current, rel=1e-6, abs=1e-9)


def test_unequal_sources_drive_current_through_each_other():
    # Ohm's law by hand: 10 V and 9 V, half an ohm each: 1 A round the ring, 9.5 V at the joint.
    pair = [Source(10, 0.5), Source(9, 0.5)]
    assert sources.in_parallel(pair) == (approx(9.5), approx(0.25))
    assert sources.shares(pair, 0) == [approx(1), approx(-1)]


def test_a_stiff_source_rules_a_bank():
    assert sources.in_parallel([Source(9, 0), Source(8, 3), Source(9, 0)]) == (9, 0)
    with pytest.raises(ValueError, match="no common voltage"):
        sources.in_parallel([Source(9, 0), Source(8, 0)])


@given(st.floats(1, 50), st.floats(0.01, 1e3))
@settings(max_examples=50, deadline=None)
def test_maximum_power_theorem_against_an_optimiser(volts, ohms):
    def wasted(log_load):
        load = ohms * math.exp(log_load)
        return -((volts / (ohms + load)) ** 2) * load

    best = minimize_scalar(wasted, bounds=(-5, 5), method="bounded", options={"xatol": 1e-9})
    assert sources.maximum_power(Source(volts, ohms)) == approx(-best.fun, rel=1e-9)


def test_battery_sag_from_its_datasheet():
    # 1.7 ohm at 1 kHz, so 100 mA costs 0.17 V.
    what, source = "9 V alkaline block (6LR61) at 100 mA", "a maker's datasheet: 1.7 Ω at 1 kHz"
    assert sources.sagged_voltage(Source(9, 1.7), 0.1) == published(8.83, "V", what, source)


def test_rectifier_charges_to_the_peak():
    # Peak of a sine of effective value 12 V, from its definition, by sampling one turn.
    samples = [12 * math.sqrt(2) * math.sin(2 * math.pi * k / 1000) for k in range(1000)]
    assert math.sqrt(sum(s * s for s in samples) / 1000) == approx(12)
    assert sources.unregulated_no_load(12) == approx(max(samples))


def test_converter_from_usb():
    # Definition of efficiency: 9 V, 500 mA at 85 % draws 5.29 W, more than a 5 V, 900 mA port (USB 3.x) gives.
    assert sources.converter_input_power(9 * 0.5, 0.85) == approx(5.294, abs=5e-4)
    assert sources.converter_input_power(4.5, 1) == 4.5


@pytest.mark.parametrize(
    "call",
    [
        lambda: sources.in_series([]),
        lambda: sources.in_parallel([]),
        lambda: sources.in_series([Source(-9, 1)]),
        lambda: sources.in_parallel([Source(9, -1)]),
        lambda: sources.shares([Source(9, 0)], 0.1),
        lambda: sources.sagged_voltage(Source(9, 1), -1),
        lambda: sources.maximum_power(Source(9, 0)),
        lambda: sources.converter_input_power(1, 0),
        lambda: sources.converter_input_power(1, 1.1),
        lambda: sources.unregulated_no_load(0),
    ],
)
def test_what_cannot_be_is_refused(call):
    with pytest.raises(ValueError):
        call()
