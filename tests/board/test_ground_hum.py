"""Estimates of hum against worked figures."""

from __future__ import annotations

import math

from pytest import approx
from shapely.geometry import Polygon

from boardwright import limits
from boardwright.board.assemble import assemble
from boardwright.board.ground_hum import lead_length, loop_hum, mains_frequency, ring_area, screen_resistance
from boardwright.physics.coupling import earth_loop_voltage
from boardwright.physics.fields import dipole_field, loop_emf
from boardwright.spec.figure import Origin
from boardwright.spec.read import read

TWO = """
place: {country: "GB"}
pedals: {split: {kind: splitter}}
amps: {one: {kind: valve, class: I, circuit: left}, two: {kind: valve, class: I, circuit: CIRCUIT}}
audio: [guitar > split, {path: split > one, lead: 6 m}, {path: split > two, lead: 6 m}]
"""


def _hum(circuit: str = "left", text: str = TWO):
    board = assemble(read(text.replace("CIRCUIT", circuit)))
    return board, loop_hum(board, board.ground.loops[0])


def test_a_loop_of_two_leads():
    # By hand: 2 x (6 m x 25 mohm + 20 mohm) = 0.34 ohm of screen; 12 m x 0.3 m = 3.6 m2 in 0.1 uT at 50 Hz give 113 uV;
    # with 20 mV between the earths and 0.3 ohm through the wall, 20.1 mV x 0.34 / 0.64 = 10.7 mV.
    _, hum = _hum()
    assert hum.screen == approx(0.34)
    assert hum.area == approx(3.6)
    assert hum.induced == approx(2 * math.pi * 50 * 3.6 * 0.1e-6, rel=1e-12)
    assert hum.volts == approx((0.02 + hum.induced) * 0.34 / 0.64, rel=1e-12)
    assert hum.against_guitar == approx(20 * math.log10(hum.volts / 0.1), rel=1e-12)
    assert hum.length.origin is Origin.STATED


def test_the_worked_example_of_one_lead():
    # Worked by hand: a 6 m lead with its contacts is 0.17 ohm; earths that differ by 20 mV and 0.3 ohm leave 7.2 mV, 23 dB
    # below 100 mV of guitar. Induction (3 m x 0.3 m in 0.1 uT at 50 Hz: 28 uV) is nothing beside it.
    assert screen_resistance(6) == approx(0.17)
    induced = loop_emf(50, 3 * 0.3, 0.1e-6)
    assert induced == approx(28e-6, rel=0.02)
    volts = earth_loop_voltage(0, limits.EARTH_DIFFERENCE.value, screen_resistance(6), limits.EARTH_WAY.value)
    assert volts == approx(7.2e-3, rel=0.01)
    assert 20 * math.log10(volts / limits.GUITAR_SIGNAL.value) == approx(-23, abs=0.2)
    assert limits.EARTH_DIFFERENCE.value > 100 * induced


def test_two_circuits_hum_more():
    _, same = _hum("left")
    _, apart = _hum("right")
    assert apart.difference is limits.EARTH_DIFFERENCE_CIRCUITS and same.difference is limits.EARTH_DIFFERENCE
    assert apart.volts == approx((0.1 + apart.induced) * 0.34 / 0.64, rel=1e-12)  # 0.1 V between the earths of two circuits
    assert apart.volts > 4 * same.volts


def test_the_places_frequency():
    board, _ = _hum()
    assert mains_frequency(board) == 50
    board, _ = _hum(text=TWO.replace('"GB"', '"US"'))
    assert mains_frequency(board) == 60
    board, _ = _hum(text=TWO.replace('"GB"', '"JP"'))
    assert mains_frequency(board) == 60
    board, _ = _hum(text=TWO.replace('place: {country: "GB"}\n', ""))
    assert mains_frequency(board) == 50


def test_lengths_that_nobody_states():
    board = assemble(read("pedals: {a: {kind: delay}, b: {kind: reverb}}\namps: {combo: {kind: valve, class: I}}\naudio: [guitar > a > b > combo]\n"))
    usual = {(bond.a[1], bond.b[1]): lead_length(board, bond.hop).value for bond in board.ground.screens}
    assert usual == {("guitar", "a"): 5.0, ("a", "b"): 0.3, ("b", "combo"): 5.0}


def test_areas_against_shapely():
    corners = [(0.0, 0.0), (0.5, 0.1), (0.6, 0.4), (0.2, 0.5), (-0.1, 0.2)]
    assert ring_area(corners) == approx(Polygon(corners).area)
    assert ring_area(list(reversed(corners))) == approx(Polygon(corners).area)
    assert ring_area([]) == 0 and ring_area([(1, 1), (2, 2)]) == 0


def test_stray_field_at_some_distances():
    # A dipole falls with the cube of distance: 20 uT at 0.1 m are 2.5 uT at 0.2 m and 0.74 uT at 0.3 m.
    near = limits.FIELD_OF_LAMINATED.value
    assert dipole_field(0.2, near, limits.FIELD_AT.value) == approx(2.5e-6)
    assert dipole_field(0.3, near, limits.FIELD_AT.value) == approx(0.74e-6, rel=0.01)
