"""Mains arithmetic against examples worked by hand and the transformer equation."""

import math

import pytest
from pytest import approx

from boardwright.physics import mains


def test_a_simple_supply():
    # By hand: 60 W at a power factor of 0.6 (common practice for simple supplies) draw 100 VA, 0.435 A at 230 V.
    assert mains.apparent_power(60, 0.6) == approx(100)
    assert mains.line_current(100, 230) == approx(0.4348, abs=5e-5)


def test_saturation_from_the_transformer_equation():
    # E = 4.44 f N A B: the peak flux density of one and the same winding in two countries.
    def peak_flux_density(volts, hertz, turns=900, area=6e-4):
        return volts / (math.sqrt(2) * math.pi * hertz * turns * area)

    index = mains.saturation_index(120, 50, 120, 60)
    assert index == approx(peak_flux_density(120, 50) / peak_flux_density(120, 60))
    assert index == approx(1.2)


@pytest.mark.parametrize(
    "call",
    [
        lambda: mains.apparent_power(60, 0),
        lambda: mains.apparent_power(60, 1.1),
        lambda: mains.apparent_power(-60, 0.6),
        lambda: mains.line_current(100, 0),
        lambda: mains.saturation_index(120, 0, 120, 60),
    ],
)
def test_what_cannot_be_is_refused(call):
    with pytest.raises(ValueError):
        call()
