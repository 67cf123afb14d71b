"""Small circuits of resistance, capacitance and inductance that every other subject leans on."""

import math

from ._inputs import SMALLEST, not_negative, positive


def parallel(*resistances: float) -> float:
    """Resistance of several resistances side by side.

    Args:
        resistances: the resistances [ohm], at least one; a zero shorts the others.

    Returns:
        Resistance of all together [ohm].

    Raises:
        ValueError: no resistance given, or one below zero.

    Source:
        Kirchhoff's laws: conductances side by side add.
    """
    if not resistances:
        raise ValueError("give at least one resistance")
    for resistance in resistances:
        not_negative(resistance=resistance)
    if min(resistances) < SMALLEST:
        return 0.0
    return 1 / sum(1 / resistance for resistance in resistances)


def bridging_loss(source: float, load: float) -> float:
    """Level lost where an output meets an input.

    Args:
        source: output impedance [ohm].
        load: input impedance, of all inputs together where there are several [ohm].

    Returns:
        Change of level [dB], zero or below.

    Raises:
        ValueError: a source impedance below zero, or a load not above it.

    Source:
        Voltage divider: 20 log10(Z_in / (Z_in + Z_out)).
    """
    not_negative(source=source)
    positive(load=load)
    return 20 * math.log10(load / (load + source))


def rc_corner(resistance: float, capacitance: float) -> float:
    """Corner frequency of a resistance and a capacitance, where the level has changed by 3 dB.

    It is the upper limit of an output driving a cable's capacitance, and the lower limit of a capacitor or a piezo
    pickup feeding an input.

    Args:
        resistance: resistance [ohm].
        capacitance: capacitance [F].

    Returns:
        Frequency [Hz].

    Raises:
        ValueError: a value not above zero.

    Source:
        First-order filter, f = 1 / (2 pi R C).
    """
    positive(resistance=resistance, capacitance=capacitance)
    return 1 / (2 * math.pi * resistance * capacitance)


def lc_resonance(inductance: float, capacitance: float) -> float:
    """Resonance of an inductance and a capacitance.

    Args:
        inductance: inductance [H].
        capacitance: capacitance [F].

    Returns:
        Frequency [Hz].

    Raises:
        ValueError: a value not above zero.

    Source:
        Thomson's formula, f = 1 / (2 pi sqrt(L C)).
    """
    positive(inductance=inductance, capacitance=capacitance)
    return 1 / (2 * math.pi * math.sqrt(inductance * capacitance))


def rc_time(resistance: float, capacitance: float) -> float:
    """Time in which a capacitance behind a resistance covers 63 % of a step, such as a sag and its recovery.

    Args:
        resistance: resistance [ohm].
        capacitance: capacitance [F].

    Returns:
        Time [s].

    Raises:
        ValueError: a value not above zero.

    Source:
        First-order response, tau = R C.
    """
    positive(resistance=resistance, capacitance=capacitance)
    return resistance * capacitance


def capacitor_energy(capacitance: float, voltage: float) -> float:
    """Energy that a capacitor takes in while it is charged.

    Args:
        capacitance: capacitance [F].
        voltage: voltage it is charged to [V].

    Returns:
        Energy [J].

    Raises:
        ValueError: a value below zero.

    Source:
        Electrostatics, W = C V^2 / 2.
    """
    not_negative(capacitance=capacitance, voltage=voltage)
    return capacitance * voltage**2 / 2
