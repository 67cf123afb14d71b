"""Batteries against handbook and textbook examples."""

import pytest
from pytest import approx

from boardwright.physics import battery
from published import published


def test_two_pulse_method():
    source = "a maker's bulletin “Battery internal resistance”, December 2005"
    own = battery.two_pulse_resistance(0.005, 1.485, 0.505, 1.378)
    assert own == published(0.214, "Ω", "cell at 5 mA, 1.485 V and 505 mA, 1.378 V", source, abs=5e-4)


def test_voltage_drop_method():
    # Linden, Handbook of Batteries, p. 9.27: (V1 - V2) R_L / V2. Taken back from the terminal voltage of a known cell.
    loaded = battery.terminal_voltage(9.5, 2.5, 100)
    assert battery.voltage_drop_resistance(9.5, loaded, 100) == approx(2.5)
    assert battery.voltage_drop_resistance(1.5, 1.0, 4) == approx(2)  # by hand: 0.5 V over 0.25 A


@pytest.mark.parametrize("internal, load, volts", [(0.100, 10.0, 11.88), (0.100, 0.500, 10.00), (0.500, 0.500, 6.00)])
def test_openstax_terminal_voltage(internal, load, volts):
    # The book prints 11.90 for the first.
    source, what = "OpenStax, University Physics 2, “Electromotive Force”", f"12.00 V battery with {internal} Ω on {load} Ω"
    assert battery.terminal_voltage(12, internal, load) == published(volts, "V", what, source, abs=0.02)


def test_a_battery_without_resistance():
    assert battery.two_pulse_resistance(0, 9, 0.1, 9) == battery.voltage_drop_resistance(9, 9, 100) == 0


def test_running_time():
    # Arithmetic: 550 mAh (IEC 6LR61, typical) at 4 mA last 137.5 h, so less than the 168 h of a week left plugged in.
    assert battery.running_time(0.550 * 3600, 0.004) / 3600 == approx(137.5)


@pytest.mark.parametrize(
    "call, words",
    [
        (lambda: battery.two_pulse_resistance(0.5, 1.4, 0.5, 1.3), "larger than the first"),
        (lambda: battery.two_pulse_resistance(0.1, 1.3, 0.5, 1.4), "does not rise"),
        (lambda: battery.voltage_drop_resistance(9, 9.5, 100), "does not rise"),
        (lambda: battery.voltage_drop_resistance(9, 8, 0), "above zero"),
        (lambda: battery.terminal_voltage(9, -1, 100), "zero or"),
        (lambda: battery.running_time(100, 0), "above zero"),
    ],
)
def test_what_cannot_be_is_refused(call, words):
    with pytest.raises(ValueError, match=words):
        call()
