"""Mains arithmetic: what a load draws, and whether another country's mains suits its transformer."""

from ._inputs import not_negative, positive, share


def apparent_power(power: float, power_factor: float) -> float:
    """Product of voltage and current that a mains load draws.

    Args:
        power: power [W].
        power_factor: power against apparent power, above 0 and up to 1 [1].

    Returns:
        Apparent power [VA].

    Raises:
        ValueError: a power below zero, or a power factor outside its range.

    Source:
        Definition of the power factor.
    """
    not_negative(power=power)
    share(power_factor=power_factor)
    return power / power_factor


def line_current(apparent: float, voltage: float) -> float:
    """Current that a mains load draws.

    Args:
        apparent: apparent power [VA].
        voltage: mains voltage [V].

    Returns:
        Effective current [A].

    Raises:
        ValueError: an apparent power below zero, or a voltage not above it.

    Source:
        Definition of apparent power, S = V I.
    """
    not_negative(apparent=apparent)
    positive(voltage=voltage)
    return apparent / voltage


def saturation_index(voltage: float, frequency: float, rated_voltage: float, rated_frequency: float) -> float:
    """Magnetic flux in a transformer's core against the flux it was made for; above 1 it runs hot and hums.

    Args:
        voltage: mains voltage on site [V].
        frequency: mains frequency on site [Hz].
        rated_voltage: voltage on its label [V].
        rated_frequency: lowest frequency on its label [Hz].

    Returns:
        Flux against rated flux [1].

    Raises:
        ValueError: a value not above zero.

    Source:
        Transformer equation: flux is proportional to V / f.
    """
    positive(voltage=voltage, frequency=frequency, rated_voltage=rated_voltage, rated_frequency=rated_frequency)
    return voltage / rated_voltage / (frequency / rated_frequency)
