"""Coupling against handbook examples and a circuit simulator."""

import math

import pytest
import scipy.constants
from pytest import approx

import spice
from boardwright.physics import coupling
from published import MEMORY, published


def test_unscreened_lead_beside_the_mains():
    # By hand, 2 pi f C R V: 230 V at 50 Hz through 10 pF on 125 kilohm is 90 mV; through 5 fF of braid 45 microvolt.
    assert coupling.capacitive_voltage(50, 10e-12, 125e3, 230) == approx(90e-3, rel=0.01)
    assert coupling.capacitive_voltage(50, 5e-15, 125e3, 230) == approx(45e-6, rel=0.01)


@pytest.mark.parametrize("hertz", [50, 1e3, 50e3, 5e6])
def test_capacitive_divider_against_ngspice(hertz):
    netlist = ["V1 in 0 AC 1", "C1 in out 10p", "R1 out 0 125k"]
    own = 20 * math.log10(coupling.capacitive_voltage(hertz, 10e-12, 125e3, 1))
    assert own == approx(spice.magnitudes(netlist, "out", [hertz])[0], abs=1e-6)


def test_leakage_of_a_mains_transformer():
    # The figure fits 240 V; 230 V gives 61.2.
    source = "Self, in Audio Engineering: Know It All, p. 401"
    assert coupling.capacitive_current(50, 847e-12, 240) * 1e6 == published(63, "µA", "leaking through 847 pF at 240 V, 50 Hz", source, rel=0.02)
    assert coupling.capacitive_current(50, 847e-12, 230) == approx(61.2e-6, rel=1e-3)


@pytest.mark.parametrize("hertz, ohms", [(50, 63.7e6), (60, 53.1e6)])
def test_audio_transformers_common_mode_impedance(hertz, ohms):
    source = "Handbook for Sound Engineers, chapter 11, p. 291"
    own = 1 / coupling.capacitive_current(hertz, 50e-12, 1)
    assert own / 1e6 == published(ohms / 1e6, "MΩ", f"audio transformer's 50 pF to common mode at {hertz} Hz", source, rel=1e-3)


def test_two_wires_in_air():
    what, source = "wires of 1 mm radius, 10 mm apart", "MIL-HDBK-419A vol. 1, p. 6-11, formula from memory"
    assert coupling.wire_capacitance(0.010, 0.001) * 1e12 == published(12.13, "pF/m", what, source, rel=1e-3, kind=MEMORY)
    electric = scipy.constants.epsilon_0 * 1e12
    assert published(electric, "pF/m", "electric constant", "CODATA, as the library scipy holds it", rel=1e-9) == coupling.EPSILON_0 * 1e12


def test_two_wires_in_air_against_images():
    # Two line charges that make both surfaces equipotential: potential difference per charge, by hand.
    distance, radius = 0.02, 0.003
    half = math.sqrt((distance / 2) ** 2 - radius**2)  # from the middle to each line charge
    surface = distance / 2 - radius
    volts_per_charge = 2 / (2 * math.pi * scipy.constants.epsilon_0) * math.log((half + surface) / (half - surface))
    assert coupling.wire_capacitance(distance, radius) == approx(1 / volts_per_charge, rel=1e-9)


def test_earth_loop_example():
    # By hand and by ngspice: 0.314 mV round 0.2 + 0.2 ohm of protective conductor and 0.1 ohm of screen leave
    # 62.8 microvolt along the screen.
    own = coupling.earth_loop_voltage(0.314e-3, 0, 0.1, 0.4)
    assert own == approx(62.8e-6, rel=1e-6)
    loop = ["V1 a 0 0.314m", "R1 a b 0.2", "R2 b c 0.1", "R3 c 0 0.2"]
    volts = spice.node_voltages(loop, ["b", "c"])
    assert own == approx(volts["b"] - volts["c"], rel=1e-8)


def test_earths_that_differ():
    # By hand: 20 mV over 0.17 ohm of screen and 0.3 ohm of earth: 7.2 mV, -23 dB against 100 mV of guitar.
    volts = coupling.earth_loop_voltage(0, 0.020, 0.17, 0.3)
    assert volts == approx(7.2e-3, abs=0.05e-3)
    assert 20 * math.log10(volts / 0.1) == approx(-23, abs=0.2)


@pytest.mark.parametrize(
    "call",
    [
        lambda: coupling.capacitive_voltage(-50, 1e-12, 1e5, 230),
        lambda: coupling.capacitive_current(50, 1e-12, -230),
        lambda: coupling.wire_capacitance(0.002, 0.001),
        lambda: coupling.earth_loop_voltage(1e-3, 0, 0, 0),
        lambda: coupling.earth_loop_voltage(1e-3, -1, 1, 1),
    ],
)
def test_what_cannot_be_is_refused(call):
    with pytest.raises(ValueError):
        call()
