"""Decibels and the two reference levels of audio."""

import math

from ._inputs import decibels, not_negative, positive

DBU_REFERENCE = math.sqrt(0.6)
"""0 dBu [V]: one milliwatt in 600 ohm."""


def decibels_of(ratio: float) -> float:
    """Ratio of two voltages in decibels.

    Args:
        ratio: voltage against voltage [1].

    Returns:
        Level [dB].

    Raises:
        ValueError: ratio is not above zero.

    Source:
        Definition, 20 log10(ratio).
    """
    positive(ratio=ratio)
    return 20 * math.log10(ratio)


def ratio_of(level: float) -> float:
    """Ratio of two voltages from decibels.

    Args:
        level: level or gain [dB].

    Returns:
        Voltage against voltage [1].

    Raises:
        ValueError: level is not a number from -600 to 600.

    Source:
        Definition, 10^(level / 20).
    """
    decibels(level=level)
    return 10 ** (level / 20)


def dbv(voltage: float) -> float:
    """Level of a voltage against one volt.

    Args:
        voltage: effective voltage [V].

    Returns:
        Level [dBV].

    Raises:
        ValueError: voltage is not above zero.

    Source:
        Definition: 0 dBV is 1 V.
    """
    positive(voltage=voltage)
    return decibels_of(voltage)


def dbu(voltage: float) -> float:
    """Level of a voltage against 0.775 volts.

    Args:
        voltage: effective voltage [V].

    Returns:
        Level [dBu].

    Raises:
        ValueError: voltage is not above zero.

    Source:
        Definition: 0 dBu is the voltage of 1 mW in 600 ohm, sqrt(0.6) V.
    """
    positive(voltage=voltage)
    return decibels_of(voltage) - decibels_of(DBU_REFERENCE)


def volts_from_dbv(level: float) -> float:
    """Voltage of a level against one volt.

    Args:
        level: level [dBV].

    Returns:
        Effective voltage [V].

    Raises:
        ValueError: level is not a number from -600 to 600.

    Source:
        Definition: 0 dBV is 1 V.
    """
    return ratio_of(level)


def volts_from_dbu(level: float) -> float:
    """Voltage of a level against 0.775 volts.

    Args:
        level: level [dBu].

    Returns:
        Effective voltage [V].

    Raises:
        ValueError: level is not a number from -600 to 600.

    Source:
        Definition: 0 dBu is the voltage of 1 mW in 600 ohm, sqrt(0.6) V.
    """
    return DBU_REFERENCE * ratio_of(level)


def effective_from_peak(peak: float) -> float:
    """Effective value of a sine from its peak.

    Args:
        peak: peak voltage [V].

    Returns:
        Effective voltage [V].

    Raises:
        ValueError: peak is below zero.

    Source:
        Root of the mean square of a sine, peak / sqrt(2).
    """
    not_negative(peak=peak)
    return peak / math.sqrt(2)


def peak_ceiling(supply: float, lost: float) -> float:
    """Highest peak that a stage between two supply rails can pass.

    Args:
        supply: voltage between the rails [V].
        lost: voltage that the stage cannot reach, both rails together [V].

    Returns:
        Peak voltage about the middle of the rails [V]; zero if the stage has no room at all.

    Raises:
        ValueError: supply not above zero, or lost below it.

    Source:
        Half the reachable swing; the loss is a property of the stage (common practice: 2 V).
    """
    positive(supply=supply)
    not_negative(lost=lost)
    return max(0.0, (supply - lost) / 2)
