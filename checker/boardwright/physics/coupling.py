"""Voltages that reach a signal lead by capacitance or through earth connections."""

import math

from ._inputs import not_negative, positive

EPSILON_0 = 8.8541878128e-12
"""Electric constant [F/m]. Source: CODATA 2018."""


def capacitive_voltage(frequency: float, capacitance: float, impedance: float, voltage: float) -> float:
    """Voltage that a neighbouring voltage leaves on a lead through the capacitance between them.

    Args:
        frequency: frequency of the neighbouring voltage [Hz].
        capacitance: capacitance between the two [F].
        impedance: resistance from the lead to ground [ohm].
        voltage: the neighbouring voltage [V].

    Returns:
        Voltage [V].

    Raises:
        ValueError: a value below zero.

    Source:
        Divider of a capacitance and a resistance; 2 pi f C R V while that is small against V.
    """
    not_negative(frequency=frequency, capacitance=capacitance, impedance=impedance, voltage=voltage)
    ratio = 2 * math.pi * frequency * capacitance * impedance
    return voltage * ratio / math.hypot(1, ratio)


def capacitive_current(frequency: float, capacitance: float, voltage: float) -> float:
    """Current through a capacitance, such as the leakage between the windings of a mains transformer.

    Args:
        frequency: frequency [Hz].
        capacitance: capacitance [F].
        voltage: voltage across it [V].

    Returns:
        Current [A].

    Raises:
        ValueError: a value below zero.

    Source:
        Reactance of a capacitor, 2 pi f C V.
    """
    not_negative(frequency=frequency, capacitance=capacitance, voltage=voltage)
    return 2 * math.pi * frequency * capacitance * voltage


def wire_capacitance(distance: float, radius: float) -> float:
    """Capacitance between two equal parallel round wires in air, per metre of run.

    Args:
        distance: distance between their axes [m].
        radius: radius of each [m].

    Returns:
        Capacitance per length [F/m].

    Raises:
        ValueError: a value not above zero, or wires that touch.

    Source:
        Electrostatics, pi epsilon_0 / arcosh(D / 2a).
    """
    positive(distance=distance, radius=radius)
    if distance <= 2 * radius:
        raise ValueError("the wires touch: the distance between their axes must exceed their diameter")
    return math.pi * EPSILON_0 / math.acosh(distance / (2 * radius))


def earth_loop_voltage(induced: float, earth_difference: float, screen_resistance: float, earth_resistance: float) -> float:
    """Hum voltage along the screen of a signal lead whose two ends are both earthed, worst case.

    Args:
        induced: voltage that stray fields induce in the loop [V].
        earth_difference: voltage between the two earths while no lead joins them [V].
        screen_resistance: resistance of the screen with its contacts [ohm].
        earth_resistance: resistance of the rest of the loop [ohm].

    Returns:
        Voltage in series with the signal [V], the two causes taken as in step.

    Raises:
        ValueError: a value below zero, or a loop without any resistance.

    Source:
        Voltage divider round the loop, (E + V_PE) R_s / (R_s + R_e).
    """
    not_negative(induced=induced, earth_difference=earth_difference)
    not_negative(screen_resistance=screen_resistance, earth_resistance=earth_resistance)
    positive(resistance_of_the_loop=screen_resistance + earth_resistance)
    return (induced + earth_difference) * screen_resistance / (screen_resistance + earth_resistance)
