"""Sources of direct current as an open-circuit voltage behind a resistance, alone and joined."""

import math
from collections.abc import Sequence
from typing import NamedTuple

from ._inputs import SMALLEST, not_negative, positive, share

RECTIFIER_NO_LOAD = math.sqrt(2)
"""Peak of a sine against its effective value: the capacitor behind a rectifier charges to the peak [1]."""


class Source(NamedTuple):
    """A source of direct current, by Thévenin's theorem.

    Attributes:
        voltage: open-circuit voltage [V].
        resistance: internal resistance [ohm].
    """

    voltage: float
    resistance: float


def in_series(sources: Sequence[Source]) -> Source:
    """One source that stands for several stacked plus to minus.

    Args:
        sources: the sources (voltage [V], resistance [ohm]), at least one.

    Returns:
        The source they amount to (voltage [V], resistance [ohm]).

    Raises:
        ValueError: no source, a voltage not above zero, or a resistance below it.

    Source:
        Kirchhoff's voltage law.
    """
    _check(sources)
    return Source(sum(s.voltage for s in sources), sum(s.resistance for s in sources))


def in_parallel(sources: Sequence[Source]) -> Source:
    """One source that stands for several joined plus to plus, of equal or different voltages.

    Args:
        sources: the sources (voltage [V], resistance [ohm]), at least one.

    Returns:
        The source they amount to (voltage [V], resistance [ohm]).

    Raises:
        ValueError: no source, a voltage not above zero, a resistance below it, or different voltages without any
            resistance to part them: the current between them would have no limit.

    Source:
        Millman's theorem.
    """
    _check(sources)
    stiff = {s.voltage for s in sources if s.resistance < SMALLEST}
    if len(stiff) > 1:
        raise ValueError("sources of different voltage, joined without any resistance, have no common voltage")
    if stiff:
        return Source(stiff.pop(), 0.0)
    conductance = sum(1 / s.resistance for s in sources)
    return Source(sum(s.voltage / s.resistance for s in sources) / conductance, 1 / conductance)


def shares(sources: Sequence[Source], current: float) -> list[float]:
    """Current that each of several sources gives when all are joined plus to plus.

    Args:
        sources: the sources (voltage [V], resistance [ohm]), each with some resistance.
        current: current drawn from all together [A].

    Returns:
        Current of each source, in their order [A]; below zero where a source is pushed backwards by the others.

    Raises:
        ValueError: no source, a voltage or resistance not above zero, or a current below it.

    Source:
        Millman's theorem and Ohm's law.
    """
    not_negative(current=current)
    together = in_parallel(sources)
    for source in sources:
        positive(resistance=source.resistance)
    voltage = together.voltage - current * together.resistance
    return [(source.voltage - voltage) / source.resistance for source in sources]


def sagged_voltage(source: Source, current: float) -> float:
    """Voltage left at the terminals of a source while it gives a current.

    Args:
        source: the source (voltage [V], resistance [ohm]).
        current: current drawn [A].

    Returns:
        Voltage [V]; below zero means that the source cannot give this current.

    Raises:
        ValueError: a voltage not above zero, or a resistance or current below it.

    Source:
        Ohm's law, V = V_0 - I R.
    """
    _check([source])
    not_negative(current=current)
    return source.voltage - current * source.resistance


def maximum_power(source: Source) -> float:
    """Greatest power that a source can give to any load; a converter that wants more cannot start.

    Args:
        source: the source (voltage [V], resistance [ohm]), leads to the load included.

    Returns:
        Power [W], given at half the open-circuit voltage.

    Raises:
        ValueError: a voltage or resistance not above zero.

    Source:
        Maximum power theorem, P = V^2 / (4 R).
    """
    positive(voltage=source.voltage, resistance=source.resistance)
    return source.voltage**2 / (4 * source.resistance)


def converter_input_power(output_power: float, efficiency: float) -> float:
    """Power that a converter draws for what it gives.

    Args:
        output_power: power given [W].
        efficiency: share of the drawn power that it passes on, above 0 and up to 1 [1].

    Returns:
        Power drawn [W].

    Raises:
        ValueError: a power below zero or an efficiency outside its range.

    Source:
        Definition of efficiency.
    """
    not_negative(output_power=output_power)
    share(efficiency=efficiency)
    return output_power / efficiency


def unregulated_no_load(nominal: float) -> float:
    """Voltage of a supply without regulator when nothing is drawn from it.

    Args:
        nominal: voltage on its label [V].

    Returns:
        Voltage [V].

    Raises:
        ValueError: nominal is not above zero.

    Source:
        A rectifier with a capacitor charges to the peak of the sine, sqrt(2) times its effective value; diode drops
        and the transformer's own rise without load roughly cancel (common practice).
    """
    positive(nominal=nominal)
    return RECTIFIER_NO_LOAD * nominal


def _check(sources: Sequence[Source]) -> None:
    if not sources:
        raise ValueError("give at least one source")
    for source in sources:
        positive(voltage=source.voltage)
        not_negative(resistance=source.resistance)
