"""Batteries: internal resistance from two readings, and how long they last."""

from ._inputs import SMALLEST, not_negative, positive


def two_pulse_resistance(low_current: float, low_voltage: float, high_current: float, high_voltage: float) -> float:
    """Internal resistance of a battery from its voltage at two currents.

    Args:
        low_current: the smaller current [A].
        low_voltage: voltage read at it [V].
        high_current: the larger current [A].
        high_voltage: voltage read at it [V].

    Returns:
        Internal resistance [ohm].

    Raises:
        ValueError: a value below zero, currents not in rising order, or a voltage that rose with the current.

    Source:
        Dual-pulse method of battery makers, r = dV / dI.
    """
    not_negative(low_current=low_current, low_voltage=low_voltage)
    not_negative(high_current=high_current, high_voltage=high_voltage)
    if high_current - low_current < SMALLEST:
        raise ValueError("the second current must be larger than the first")
    if high_voltage > low_voltage:
        raise ValueError("a battery's voltage does not rise when more is drawn: check the two readings")
    return (low_voltage - high_voltage) / (high_current - low_current)


def voltage_drop_resistance(open_voltage: float, loaded_voltage: float, load: float) -> float:
    """Internal resistance of a battery from its voltage without and with a known resistor across it.

    Args:
        open_voltage: voltage without load [V].
        loaded_voltage: voltage with the resistor connected [V].
        load: the resistor [ohm].

    Returns:
        Internal resistance [ohm].

    Raises:
        ValueError: a value not above zero, or a voltage that rose under load.

    Source:
        Voltage-drop method, (V1 - V2) R_L / V2; Linden, Handbook of Batteries, p. 9.27.
    """
    positive(open_voltage=open_voltage, loaded_voltage=loaded_voltage, load=load)
    if loaded_voltage > open_voltage:
        raise ValueError("a battery's voltage does not rise under load: check the two readings")
    return (open_voltage - loaded_voltage) * load / loaded_voltage


def terminal_voltage(emf: float, internal_resistance: float, load: float) -> float:
    """Voltage of a battery with a resistor across it.

    Args:
        emf: open-circuit voltage [V].
        internal_resistance: internal resistance [ohm].
        load: the resistor [ohm].

    Returns:
        Voltage [V].

    Raises:
        ValueError: an emf or load not above zero, or an internal resistance below it.

    Source:
        Voltage divider, V = emf R_L / (R_L + r).
    """
    positive(emf=emf, load=load)
    not_negative(internal_resistance=internal_resistance)
    return emf * load / (load + internal_resistance)


def running_time(charge: float, current: float) -> float:
    """Time until a battery is empty at a steady current.

    Args:
        charge: usable capacity at that current [C]; 1 mAh is 3.6 C.
        current: current drawn [A].

    Returns:
        Time [s].

    Raises:
        ValueError: a value not above zero.

    Source:
        Definition of current, t = Q / I.
    """
    positive(charge=charge, current=current)
    return charge / current
