"""The direct-current network of one outlet: a tree of leads with loads on it, and where its voltages settle.

A load of constant power (a pedal with a switching converter inside) draws more current when its voltage falls, so the
network is not linear: it can have two points of balance, of which only the upper one lasts, or none at all.
"""

import math
from collections.abc import Hashable, Sequence
from typing import NamedTuple

from ._inputs import LARGEST, SMALLEST, not_negative, positive
from .sources import Source

_SETTLED = 1e-11  # agreement asked of the voltages, as a share of the source's
_DEAD = 1e-12  # a node below this share of the source's voltage has none
_MOST_STEPS = 100  # usual: 5; at the very edge each step halves the way, and 30 exhaust double precision


class Load(NamedTuple):
    """What one device draws; a device may draw in several ways at once.

    Attributes:
        current: part of the draw that does not depend on the voltage [A]; most analogue pedals.
        power: part that keeps its power, and so draws more current when the voltage falls [W]; converters.
        resistance: part that is a plain resistor, such as a heater [ohm], or None.
    """

    current: float = 0.0
    power: float = 0.0
    resistance: float | None = None

    def current_at(self, voltage: float) -> float:
        """Current drawn.

        Args:
            voltage: voltage at the load, above zero [V].

        Returns:
            Current [A].

        Raises:
            ValueError: voltage is not above zero.

        Source:
            Ohm's law and P = V I.
        """
        positive(voltage=voltage)
        resistive = 0.0 if self.resistance is None else voltage / self.resistance
        return self.current + self.power / voltage + resistive


class Lead(NamedTuple):
    """One lead of the tree, and what hangs at its far end.

    Attributes:
        end: name of the place where the lead ends; no two leads of one network end at the same place.
        resistance: resistance there and back, contacts included [ohm].
        loads: the loads at its end.
        start: name of the place where it starts, which is the end of another lead, or None for the source itself.
    """

    end: Hashable
    resistance: float
    loads: Sequence[Load] = ()
    start: Hashable | None = None


class OperatingPoint(NamedTuple):
    """Where the network settles.

    Attributes:
        source_voltage: voltage at the terminals of the source [V].
        source_current: current that the source gives [A].
        source_loss: power lost inside the source [W].
        voltages: voltage at the end of each lead [V].
        currents: current in each lead, by its end [A].
        losses: power lost in each lead, by its end [W].
    """

    source_voltage: float
    source_current: float
    source_loss: float
    voltages: dict[Hashable, float]
    currents: dict[Hashable, float]
    losses: dict[Hashable, float]


def operating_point(source: Source, leads: Sequence[Lead]) -> OperatingPoint | None:
    """Voltages and currents of a tree of leads, at the point where they settle.

    Newton's method, started from the open-circuit voltage. The current that a constant-power load draws is a convex
    function of its voltage, so no step goes too far: the voltages only fall, and the first balance that they meet is
    the upper, lasting one. Each step solves the straightened network by walking the tree from its tips to the source
    and back, so its cost grows with the number of leads and no faster.

    Args:
        source: the source (voltage [V], resistance [ohm]).
        leads: the leads (resistance [ohm], loads [A], [W], [ohm]), in any order.

    Returns:
        The operating point ([V], [A], [W]), or None if there is none: the loads want more than the leads can bring.

    Raises:
        ValueError: a quantity that cannot be, two leads ending at one place, or a lead that the source does not reach.

    Source:
        Kirchhoff's laws. That Newton's steps fall onto the greatest solution: Ortega and Rheinboldt, Iterative
        Solution of Nonlinear Equations in Several Variables (1970), section 13.3, monotone convergence for convex
        functions whose derivative has a non-negative inverse (named from memory); here it has while all pivots are
        above zero.
    """
    positive(voltage=source.voltage)
    not_negative(resistance=source.resistance)
    tree = _Tree(source, leads)
    voltages = before = [float(source.voltage)] * len(tree.parent)
    for _ in range(_MOST_STEPS):
        lower = tree.newton_step(voltages)
        if lower is None:
            break
        falls = [high - low for high, low in zip(voltages, lower, strict=True)]
        if min(falls) < -tree.slack:
            break  # only rounding can turn a falling voltage round: this is the edge
        before, voltages = voltages, lower
        if max(falls) <= tree.slack:
            break
    # At the very edge the last step divides by what rounding left of a pivot, and may leap away: the one before stands.
    return next((tree.report(settled) for settled in (voltages, before) if tree.balances(settled)), None)


def constant_power_voltage(source: Source, power: float) -> float | None:
    """Voltage at a single constant-power load, in closed form.

    Args:
        source: the source (voltage [V], resistance [ohm]), lead to the load included.
        power: power drawn [W].

    Returns:
        Voltage at the load [V], or None if the source cannot give this power.

    Raises:
        ValueError: a voltage not above zero, or a resistance or power below it.

    Source:
        Upper root of V^2 - V_s V + R P = 0, which is Kirchhoff's voltage law for this circuit.
    """
    positive(voltage=source.voltage)
    not_negative(resistance=source.resistance, power=power)
    under_root = source.voltage**2 - 4 * source.resistance * power
    if under_root < 0:
        return None
    return (source.voltage + math.sqrt(under_root)) / 2


class _Tree:
    """The leads as plain lists, parents before children; place 0 is the terminals of the source."""

    def __init__(self, source: Source, leads: Sequence[Lead]) -> None:
        self.source = source
        self.slack = _SETTLED * source.voltage
        self.ends: list[Hashable] = [None]
        self.parent: list[int] = [0]
        self.resistance: list[float] = [source.resistance]
        self.loads: list[tuple[float, float, float]] = [(0.0, 0.0, 0.0)]
        self._lay_out(leads)

    def _lay_out(self, leads: Sequence[Lead]) -> None:
        behind: dict[Hashable | None, list[Lead]] = {}
        for lead in leads:
            behind.setdefault(lead.start, []).append(lead)
        place = 0
        while place < len(self.ends):
            for end, resistance, loads, _ in behind.pop(self.ends[place], ()):
                self.ends.append(end)
                self.parent.append(place)
                self.resistance.append(_checked(resistance, "resistance of a lead"))
                self.loads.append(_summed(loads))
            place += 1
        if len(set(self.ends)) < len(self.ends):
            raise ValueError("two leads end at the same place: give each end a name of its own")
        if behind:
            raise ValueError(f"no lead joins {next(iter(behind))!r} to the source")

    def newton_step(self, voltages: list[float]) -> list[float] | None:
        """Voltages of the network straightened about the given ones, or None where that has no lasting balance."""
        # What lies behind each lead is straightened to a current at zero volts and a conductance, tips first.
        parent, resistance = self.parent, self.resistance
        current = [amperes + 2 * watts / v for (amperes, watts, _), v in zip(self.loads, voltages, strict=True)]
        conductance = [siemens - watts / (v * v) for (_, watts, siemens), v in zip(self.loads, voltages, strict=True)]
        pivots = [1.0] * len(voltages)
        for place in range(len(voltages) - 1, -1, -1):
            pivots[place] = pivot = 1 + resistance[place] * conductance[place]
            if pivot <= 0:
                return None
            if place:
                current[parent[place]] += current[place] / pivot
                conductance[parent[place]] += conductance[place] / pivot
        dead = _DEAD * self.source.voltage
        settled: list[float] = []
        for place, pivot in enumerate(pivots):
            above = settled[parent[place]] if place else self.source.voltage
            voltage = (above - resistance[place] * current[place]) / pivot
            if voltage <= dead:
                return None
            settled.append(voltage)
        return settled

    def currents(self, voltages: list[float]) -> list[float]:
        """Current in each lead that the loads draw at the given voltages."""
        drawn = [a + w / v + s * v for (a, w, s), v in zip(self.loads, voltages, strict=True)]
        for place in range(len(drawn) - 1, 0, -1):
            drawn[self.parent[place]] += drawn[place]
        return drawn

    def balances(self, voltages: list[float]) -> bool:
        """Whether the drops along the leads account for the given voltages."""
        for place, current in enumerate(self.currents(voltages)):
            above = voltages[self.parent[place]] if place else self.source.voltage
            if abs(above - self.resistance[place] * current - voltages[place]) > self.slack:
                return False
        return True

    def report(self, voltages: list[float]) -> OperatingPoint:
        currents = self.currents(voltages)
        losses = [resistance * current**2 for resistance, current in zip(self.resistance, currents, strict=True)]
        at_ends = self.ends[1:]
        return OperatingPoint(
            source_voltage=voltages[0],
            source_current=currents[0],
            source_loss=losses[0],
            voltages=dict(zip(at_ends, voltages[1:], strict=True)),
            currents=dict(zip(at_ends, currents[1:], strict=True)),
            losses=dict(zip(at_ends, losses[1:], strict=True)),
        )


def _summed(loads: Sequence[Load]) -> tuple[float, float, float]:
    """Constant current [A], constant power [W] and conductance [S] of all loads at one place."""
    current = power = conductance = 0.0
    for amperes, watts, ohms in loads:
        current += _checked(amperes, "current of a load")
        power += _checked(watts, "power of a load")
        if ohms is not None:
            if _checked(ohms, "resistance of a load") < SMALLEST:
                raise ValueError("the resistance of a load must be above zero: this one is a short circuit")
            conductance += 1 / ohms
    return current, power, conductance


def _checked(value: float, name: str) -> float:
    # Said here and not through not_negative(): thousands of leads pass through, and this is five times quicker.
    if isinstance(value, (int, float)) and 0 <= value <= LARGEST:
        return float(value)
    raise ValueError(f"the {name} must be zero or a number above zero, but it is {value!r}")
