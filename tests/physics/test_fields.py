"""Fields and induced voltages against textbook examples and Biot and Savart's law."""

import math

import pytest
import scipy.constants
from pytest import approx
from scipy.integrate import quad

from boardwright.physics import fields
from published import published


def test_openstax_step_of_field():
    source, what = "OpenStax, College Physics, “Faraday's Law of Induction”", "turn of 6.00 cm radius, 0.0500 T to 0.250 T in 0.100 s"
    assert 1e3 * fields.step_emf(math.pi * 0.06**2, 0.25 - 0.05, 0.1) == published(22.6, "mV", what, source, rel=5e-3)


def test_openstax_sixty_hertz():
    # Solenoid of 500 turns, 75.0 cm long, radius 3.10 cm, with 5.0 A sin(120 pi t) in it; a coil of 10 turns round it.
    source, what = "OpenStax, University Physics 2, “Mutual Inductance”", "most in 10 turns round a solenoid"
    inside = scipy.constants.mu_0 * 500 / 0.75 * 5.0
    assert 1e3 * fields.loop_emf(60, math.pi * 0.031**2, inside, turns=10) == published(47.7, "mV", what, source, rel=3e-3)


@pytest.mark.parametrize("hertz, area, volts", [(50, 1, 0.314e-3), (60, 1, 0.377e-3), (50, 0.1, 31.4e-6)])
def test_one_microtesla(hertz, area, volts):
    # V = j w B A cos(theta).
    source, what = "formula of the automotive EMC design guide ES-3U5T-1B257-AA, eq. 3-16", f"loop of {area} m² in 1 µT at {hertz} Hz"
    assert 1e3 * fields.loop_emf(hertz, area, 1e-6) == published(1e3 * volts, "mV", what, source, rel=1e-3)


def test_a_loop_on_edge_hears_nothing():
    # cos 60 degrees is a half, cos 90 degrees nothing; a loop may be turned over without change.
    whole = fields.loop_emf(50, 1, 1e-6)
    assert fields.loop_emf(50, 1, 1e-6, angle=math.radians(60)) == approx(whole / 2)
    assert fields.loop_emf(50, 1, 1e-6, angle=math.pi / 2) == approx(0, abs=1e-15)
    assert fields.loop_emf(50, 1, 1e-6, angle=math.pi) == approx(whole)


def test_loop_beside_a_room_field():
    # By hand: 3 m by 0.3 m in 0.1 microtesla (mean room field, WHO) at 50 Hz: 28 microvolt.
    assert fields.loop_emf(50, 3 * 0.3, 0.1e-6) == approx(28e-6, rel=0.01)


@pytest.mark.parametrize("distance", [0.2, 0.3, 0.5, 1.0])
def test_far_field_of_a_small_coil(distance):
    # OpenStax, University Physics 2, field on the axis of a current loop: mu_0 I R^2 / (2 (R^2 + z^2)^(3/2)). From ten
    # times its radius on it is a dipole's to 2 %.
    def on_axis(z, radius=0.01):
        return scipy.constants.mu_0 * radius**2 / (2 * (radius**2 + z**2) ** 1.5)

    assert fields.dipole_field(distance, on_axis(0.1), 0.1) == approx(on_axis(distance), rel=0.02)


@pytest.mark.parametrize("distance, laminated, toroid", [(0.2, 2.5, 0.38), (0.3, 0.74, 0.11)])
def test_transformers_stray_field(distance, laminated, toroid):
    # Cube law by hand from 20 and 3 microtesla at 0.1 m; the starting values are orders of magnitude, without source.
    assert fields.dipole_field(distance, 20e-6, 0.1) == approx(laminated * 1e-6, rel=0.02)
    assert fields.dipole_field(distance, 3e-6, 0.1) == approx(toroid * 1e-6, rel=0.02)


def biot_savart(current, distance, half_length):
    """Field beside the middle of a straight wire, integrated numerically."""
    integral, _ = quad(lambda x: distance / (x * x + distance * distance) ** 1.5, -half_length, half_length, limit=500)
    return scipy.constants.mu_0 * current / (4 * math.pi) * integral


def test_long_wire():
    # mu_0 I / (2 pi r), as any textbook: 1 A at 0.1 m makes 2.00 microtesla.
    assert fields.long_wire_field(1, 0.1) == approx(2.00e-6, rel=1e-6)
    assert fields.long_wire_field(0.7, 0.03) == approx(biot_savart(0.7, 0.03, 10), rel=1e-5)


def test_mains_pair():
    # By hand from far away, mu_0 I s / (2 pi d^2): 0.5 A, 5 mm, 5 cm: 0.2 microtesla.
    assert fields.pair_field(0.5, 0.005, 0.05) == approx(0.2e-6, rel=0.01)
    near, far = biot_savart(0.5, 0.0475, 10), biot_savart(0.5, 0.0525, 10)
    assert fields.pair_field(0.5, 0.005, 0.05) == approx(near - far, rel=1e-4)


def test_magnetic_constant():
    magnetic = scipy.constants.mu_0 * 1e6
    assert published(magnetic, "µH/m", "magnetic constant", "CODATA, as the library scipy holds it", rel=1e-9) == fields.MU_0 * 1e6


@pytest.mark.parametrize(
    "call",
    [
        lambda: fields.loop_emf(-50, 1, 1e-6),
        lambda: fields.loop_emf(50, -1, 1e-6),
        lambda: fields.loop_emf(50, 1, 1e-6, angle=math.inf),
        lambda: fields.step_emf(1, 1, 0),
        lambda: fields.dipole_field(0, 1e-6, 0.1),
        lambda: fields.long_wire_field(1, 0),
        lambda: fields.pair_field(1, 0.01, 0.005),
    ],
)
def test_what_cannot_be_is_refused(call):
    with pytest.raises(ValueError):
        call()
