"""Supplies and their outlets, and which outlets share a return."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property

from boardwright import limits
from boardwright.spec.fields import YesNo
from boardwright.spec.figure import Figure, Origin, assumed, figure, unknown, weakest
from boardwright.spec.power_phrase import UNKNOWN_POWER, PowerPhrase
from boardwright.spec.problem import Path
from boardwright.spec.read import Spec
from boardwright.spec.sections.supplies import Outlet as OutletSection
from boardwright.spec.sections.supplies import Supply as SupplySection


@dataclass(eq=False)
class Outlet:
    """One outlet of a supply."""

    supply: Supply
    name: str
    gives: PowerPhrase
    section: OutletSection
    path: Path
    pool: str
    """Outlets of one pool share a return inside the supply."""
    pool_origin: Origin

    @cached_property
    def id(self) -> str:
        return f"{self.supply.name}.{self.name}"

    @property
    def volts(self) -> float | None:
        return self.gives.volts.high

    @property
    def rating(self) -> Figure:
        return self.gives.current

    @cached_property
    def source(self) -> Figure:
        """Its own resistance (ohm)."""
        stated = self.section.source or self.supply.section.source
        if stated is not None and stated.known:
            return stated
        large = self.rating.known and self.rating.value > limits.LARGE_OUTLET.value
        return assumed((limits.SOURCE_LARGE if large else limits.SOURCE_SMALL).value, "Ω")

    @property
    def no_load_volts(self) -> float | None:
        """Volts (V) with nothing connected."""
        if self.volts is None:
            return None
        return self.volts * (limits.NO_LOAD_FACTOR.value if self.section.regulated is YesNo.NO else 1)


@dataclass(eq=False, slots=True)
class Supply:
    """A supply as described. ``declared`` is false for one that a fragment only mentions."""

    name: str
    section: SupplySection
    declared: bool = True
    outlets: dict[str, Outlet] = field(default_factory=dict)

    @property
    def path(self) -> Path:
        return ("supplies", self.name)

    @property
    def is_linear(self) -> bool:
        return (self.section.kind or "").startswith("linear")

    @property
    def efficiency(self) -> Figure:
        stated = self.section.efficiency
        if stated is not None and stated.known and 0 < stated.value <= 1:
            return stated
        if self.section.needs is not None or self.section.feed:
            return assumed(limits.CONVERTER_EFFICIENCY.value, "%")
        return assumed((limits.LINEAR_EFFICIENCY if self.is_linear else limits.SWITCH_MODE_EFFICIENCY).value, "%")

    @property
    def total(self) -> Figure:
        """Power (W) that it gives in all: stated, or what its only outlet gives."""
        if self.section.total is None and len(self.outlets) == 1:
            (only,) = self.outlets.values()
            if only.volts is not None and only.rating.known:
                return figure(only.volts * only.rating.value, "W", weakest([only.gives.volts.origin, only.rating.origin]))
        return self.section.total or unknown("W")


def assemble_supplies(spec: Spec) -> dict[str, Supply]:
    """Every supply that is described."""
    supplies = {}
    for name, section in spec.supplies.items():
        supply = supplies[name] = Supply(name, section)
        pools = dict(_pools(supply))
        for outlet_name, outlet in (section.outlets or {}).items():
            path = (*supply.path, "outlets", outlet_name)
            pool, origin = pools.get(outlet_name, (f"{name}.{outlet_name}", Origin.STATED))
            supply.outlets[outlet_name] = Outlet(supply, outlet_name, outlet.gives or UNKNOWN_POWER, outlet, path, pool, origin)
    return supplies


def _pools(supply: Supply) -> Iterator[tuple[str, tuple[str, Origin]]]:
    """For each outlet the pool whose return it shares. Whether they are isolated and nobody said: taken as shared."""
    section, names = supply.section, list(supply.section.outlets or {})
    if section.isolated == "yes" or len(names) == 1:
        return
    if section.isolated == "groups" and section.groups:
        for number, group in enumerate(section.groups, 1):
            yield from ((name, (f"{supply.name} group {number}", Origin.STATED)) for name in group.outlets)
        return
    origin = Origin.STATED if section.isolated == "no" else Origin.ASSUMED
    yield from ((name, (supply.name, origin)) for name in names)
