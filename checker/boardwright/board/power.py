"""The power side of a board, worked out: what each outlet gives, what arrives at each device, what each supply loses."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection
from dataclasses import dataclass, field
from functools import cached_property
from typing import NamedTuple

from boardwright import limits
from boardwright.board.feeding import Device, Line, assemble_feeding, total
from boardwright.board.supply import Outlet, Supply
from boardwright.physics import sources
from boardwright.physics.dc import Lead, OperatingPoint, operating_point
from boardwright.physics.sources import Source
from boardwright.spec.figure import Figure, Origin, assumed, figure, unknown, weakest
from boardwright.spec.read import Spec


class Arrival(NamedTuple):
    """What arrives at a device. ``volts`` is ``None`` when the network cannot settle."""

    volts: float | None
    no_load: float
    current: float
    resistance: float
    """There and back from the outlet to the device (ohm), without the outlet's own."""
    origin: Origin

    @property
    def drop(self) -> float | None:
        """Volts (V) lost on the way, in the outlet and in the lead."""
        return None if self.volts is None else self.no_load - self.volts

    @property
    def drop_share(self) -> float | None:
        return None if self.drop is None else self.drop / self.no_load


@dataclass(eq=False)
class Circuit:
    """The devices that hang on one outlet, or on several joined in series or parallel, and where that settles."""

    outlets: tuple[Outlet, ...]
    mode: str | None
    hung: list[tuple[Device, Line]] = field(default_factory=list)
    point: OperatingPoint | None = None
    source: Source | None = None
    ringed: set[str] = field(default_factory=set)
    """Devices that are chained behind themselves, and hang nowhere."""
    _arrivals: dict[str, Arrival | None] = field(default_factory=dict)
    _demand: tuple[Figure, list[Device]] | None = None
    """Kept from the moment when everything that hangs here is worked out."""

    @property
    def devices(self) -> list[Device]:
        return [device for device, _ in self.hung]

    @cached_property
    def lines(self) -> dict[str, Line]:
        """The lead of each device. To be asked for only once everything hangs."""
        return {device.name: line for device, line in self.hung}

    @cached_property
    def volts(self) -> float | None:
        """Nominal volts (V), regulated, with nothing lost."""
        volts = [outlet.volts for outlet in self.outlets]
        if not volts or any(v is None for v in volts):
            return None
        return sum(volts) if self.mode == "series" else volts[0]  # type: ignore[arg-type]

    @cached_property
    def no_load_volts(self) -> float | None:
        volts = [outlet.no_load_volts for outlet in self.outlets]
        if not volts or any(v is None for v in volts):
            return None
        return sum(volts) if self.mode == "series" else volts[0]  # type: ignore[arg-type]

    @cached_property
    def rating(self) -> Figure:
        """Current (A) that the outlets allow together: in series the smallest, in parallel nearly the sum."""
        ratings = [outlet.rating for outlet in self.outlets]
        if any(not rating.known for rating in ratings):
            return unknown("A")
        origin = weakest(rating.origin for rating in ratings)
        if self.mode == "parallel":
            return figure(sum(r.value for r in ratings) * limits.PARALLEL_SHARE.value, "A", origin)
        return figure(min(r.value for r in ratings), "A", origin)

    @property
    def demand(self) -> tuple[Figure, list[Device]]:
        """The labelled currents (A) added up, and the devices whose draw is unknown."""
        return self._demand or self._asked()

    def _asked(self) -> tuple[Figure, list[Device]]:
        drawing = [device for device in self.devices if not device.takes_nothing]
        draws = [(device, device.draw(self.volts)) for device in drawing]
        added, _ = total((draw for _, draw in draws), "A")
        return added, [device for device, draw in draws if not draw.known]

    @property
    def current(self) -> float:
        """Current (A) that flows, or that the labels ask for where the network cannot settle."""
        return self.point.source_current if self.point else self.demand[0].value

    def solve(self) -> None:
        """Let the network settle. Leaves ``point`` empty where there is no operating point or nothing to work with."""
        self._demand = self._asked()
        if not self.no_load_volts:
            return
        self.source = self._source()
        leads = []
        names = {device.name for device in self.devices}
        for device, line in self._in_order():
            load = device.load(self.volts)
            start = line.after if line.after in names and line.after != device.name else None
            leads.append(Lead(device.name, line.resistance.value, [load] if load else [], start))
        self.point = operating_point(self.source, leads)

    def _in_order(self) -> list[tuple[Device, Line]]:
        """Each device once, without those that are chained behind each other in a ring."""
        after = {device.name: line.after for device, line in self.hung}
        self.ringed = {name for name in after if _comes_back(name, after)}
        kept = {device.name: (device, line) for device, line in reversed(self.hung) if device.name not in self.ringed}
        return list(reversed(kept.values()))

    def _source(self) -> Source:
        each = [Source(outlet.no_load_volts or 0.0, outlet.source.value) for outlet in self.outlets]
        if self.mode == "series":
            return sources.in_series(each)
        if self.mode == "parallel" and len(each) > 1:
            return sources.in_parallel([Source(s.voltage, max(s.resistance, 1e-3)) for s in each])
        return each[0]

    def arrival(self, device: Device) -> Arrival | None:
        """What arrives at ``device``; ``None`` where the outlet's volts are unknown. To be asked for only once all is worked out."""
        if device.name not in self._arrivals:
            self._arrivals[device.name] = self._arrival(device)
        return self._arrivals[device.name]

    def _arrival(self, device: Device) -> Arrival | None:
        if self.no_load_volts is None or self.source is None:
            return None
        way = self._resistance[device.name]
        resistance, draw = way.value, device.draw(self.volts)
        origin = weakest([way.origin, draw.origin, *(outlet.source.origin for outlet in self.outlets)])
        if self.point is None or device.name not in self.point.voltages:
            return Arrival(None, self.no_load_volts, draw.value if draw.known else 0.0, resistance, origin)
        volts = self.point.voltages[device.name]
        load = device.load(self.volts)
        return Arrival(volts, self.no_load_volts, load.current_at(volts) if load else 0.0, resistance, origin)

    @cached_property
    def _resistance(self) -> dict[str, Figure]:
        """All leads from the outlet to each device (ohm): its own, and those that it is chained behind."""
        found: dict[str, Figure] = {}
        for name in self.lines:
            for each in reversed(self._up(name, found)):
                lead, above = self.lines[each].resistance, found.get(self.lines[each].after or "")
                found[each] = figure(lead.value + above.value, "Ω", weakest([lead.origin, above.origin])) if above else lead
        return found

    def _up(self, name: str, known: Collection[str] = ()) -> list[str]:
        """A device and those that it is chained behind, up to the outlet or to what is ``known``."""
        way: dict[str, None] = {}
        here: str | None = name
        while here in self.lines and here not in way and here not in known:
            way[here] = None
            here = self.lines[here].after
        return list(way)

    def way(self, device: Device) -> list[Line]:
        """The leads from a device up to the outlet, its own first."""
        return [self.lines[each] for each in self._up(device.name)]


def _comes_back(name: str, after: dict[str, str | None]) -> bool:
    """Whether the way up from ``name`` never reaches the outlet."""
    seen: set[str] = set()
    here: str | None = name
    while here is not None and here in after:
        if here in seen:
            return True
        seen.add(here)
        here = after[here]
    return False


@dataclass(eq=False, slots=True)
class Power:
    """Everything about power on one board."""

    supplies: dict[str, Supply]
    devices: dict[str, Device]
    circuits: list[Circuit]
    ring: list[Device]
    """Supplies that feed each other in a circle, or that such a circle feeds."""
    _pool_of: dict[str, str]

    @property
    def outlets(self) -> list[Outlet]:
        return [outlet for supply in self.supplies.values() for outlet in supply.outlets.values()]

    def circuits_of(self, outlet: Outlet) -> list[Circuit]:
        return self._by_outlet.get(outlet.id, [])

    _by_outlet: dict[str, list[Circuit]] = field(default_factory=dict)
    _outputs: dict[str, tuple[Figure, list[Device], list[Outlet]]] = field(default_factory=dict)

    def demand(self, outlet: Outlet) -> tuple[Figure, list[Device]]:
        """Labelled current (A) that is asked of one outlet, and the devices whose draw is unknown."""
        circuits = self.circuits_of(outlet)
        if len(circuits) == 1 and circuits[0].mode != "parallel":
            return circuits[0].demand
        figures, missing = [], []
        for circuit in circuits:
            asked, unsaid = circuit.demand
            share = len(circuit.outlets) if circuit.mode == "parallel" else 1
            figures.append(figure(asked.value / share, "A", asked.origin))
            missing += unsaid
        return total(figures, "A")[0], missing

    def current(self, outlet: Outlet) -> float:
        """Current (A) that flows out of one outlet."""
        return sum(
            circuit.current / (len(circuit.outlets) if circuit.mode == "parallel" else 1) for circuit in self.circuits_of(outlet)
        )

    def output(self, supply: Supply) -> tuple[Figure, list[Device], list[Outlet]]:
        """Power (W) that a supply gives: its outlets' volts times amps. With what could not be counted.

        To be asked for only once what hangs on the supply is worked out.
        """
        if supply.name not in self._outputs:
            self._outputs[supply.name] = self._output(supply)
        return self._outputs[supply.name]

    def _output(self, supply: Supply) -> tuple[Figure, list[Device], list[Outlet]]:
        watts, devices, outlets = [], [], []
        for outlet in supply.outlets.values():
            asked, missing = self.demand(outlet)
            devices += missing
            if outlet.volts is None:
                outlets += [outlet] if self.circuits_of(outlet) else []
                continue
            watts.append(figure(outlet.volts * asked.value, "W", weakest([asked.origin, outlet.gives.volts.origin])))
        return total(watts, "W")[0], devices, outlets

    def pool(self, outlet: Outlet) -> str:
        """The return that an outlet is on; a converter that does not isolate hands its own on."""
        pool = outlet.pool
        while pool in self._pool_of:
            pool = self._pool_of[pool]
        return pool

    def pools(self) -> dict[str, list[Device]]:
        """Boxes by the return that they share, in the order of the board.

        Converters are left out: what hangs on them is on returns of its own or, not isolated, on this one.
        """
        pools: dict[str, list[Device]] = defaultdict(list)
        for device in self.devices.values():
            if device.supply is not None:
                continue
            for pool in dict.fromkeys(self.pool(outlet) for outlet in device.outlets):
                pools[pool].append(device)
        return dict(pools)

    def shared_return(self, one: Device, other: Device) -> Figure:
        """The return (ohm) that two devices share: half of the leads they have in common, where those are described."""
        for circuit in dict.fromkeys(circuit for outlet in one.outlets for circuit in self.circuits_of(outlet)):
            if one.name not in circuit.lines or other.name not in circuit.lines:
                continue
            ways = [circuit.way(one), circuit.way(other)]
            if all(line.resistance.origin > Origin.ASSUMED for line in ways[0] + ways[1]):
                common = [line.resistance.value for line in ways[0] if line in ways[1]]
                if common:
                    return figure(max(sum(common) / 2, limits.SHARED_RETURN.value), "Ω")
        return assumed(limits.SHARED_RETURN.value, "Ω")

    def pool_origin(self, devices: list[Device]) -> Origin:
        """Whether it was said that these devices share a return, or only taken for granted."""
        origins = [outlet.pool_origin for device in devices for outlet in device.outlets]
        same_outlet = len({outlet.id for device in devices for outlet in device.outlets}) == 1
        return Origin.STATED if same_outlet else weakest(origins)


def assemble_power(spec: Spec) -> Power:
    """Work the power side out. Downstream supplies first, since what they give decides what they take."""
    supplies, devices = assemble_feeding(spec)
    circuits: dict[tuple[tuple[str, ...], str | None], Circuit] = {}
    by_outlet: dict[str, list[Circuit]] = defaultdict(list)
    for device in devices.values():
        for line in device.lines:
            if not line.outlets:
                continue
            key = (tuple(outlet.id for outlet in line.outlets), line.feed.mode if len(line.outlets) > 1 else None)
            if key not in circuits:
                circuits[key] = Circuit(tuple(line.outlets), key[1])
                for outlet in line.outlets:
                    by_outlet[outlet.id].append(circuits[key])
            circuits[key].hung.append((device, line))
    upstream = {
        outlet.pool: line.outlets[0].pool
        for device in devices.values()
        if device.supply is not None and device.supply.section.isolated not in ("yes", "groups")
        for line in device.lines[:1]
        if line.outlets
        for outlet in device.supply.outlets.values()
        if outlet.pool != line.outlets[0].pool
    }
    power = Power(supplies, devices, list(circuits.values()), [], {})
    power._by_outlet = dict(by_outlet)
    order, power.ring = _downstream_first(devices, supplies)
    if not power.ring:
        power._pool_of = upstream
    solved: set[int] = set()
    for supply in order:
        for outlet in supply.outlets.values():
            for circuit in power.circuits_of(outlet):
                if id(circuit) not in solved:
                    circuit.solve()
                    solved.add(id(circuit))
        device = devices.get(supply.name)
        if device is not None:
            given, missing, unclear = power.output(supply)
            efficiency = supply.efficiency
            known = not missing and not unclear and device not in power.ring
            origin = weakest([given.origin, efficiency.origin])
            device.reflected = figure(given.value / efficiency.value, "W", origin) if known else unknown("W")
    return power


def _downstream_first(devices: dict[str, Device], supplies: dict[str, Supply]) -> tuple[list[Supply], list[Device]]:
    """The supplies, each after those that it feeds; and those that power never reaches, since they feed each other."""
    feeds = {name: [] for name in supplies}
    sources = dict.fromkeys(supplies, 0)
    for device in devices.values():
        if device.supply is not None:
            for name in {outlet.supply.name for outlet in device.outlets}:
                feeds[name].append(device.name)
                sources[device.name] += 1
    order = [name for name, count in sources.items() if not count]
    for name in order:  # grows as it goes
        for fed in feeds[name]:
            sources[fed] -= 1
            if not sources[fed]:
                order.append(fed)
    ring = [name for name, count in sources.items() if count]
    return [supplies[name] for name in [*ring, *reversed(order)]], [devices[name] for name in ring]
