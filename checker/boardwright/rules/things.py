"""How findings name what they are about."""

from __future__ import annotations

from boardwright.board.feeding import Device
from boardwright.board.supply import Outlet, Supply
from boardwright.rules.verdict import Thing
from boardwright.spec.wording import series


def of_device(device: Device) -> Thing:
    return Thing(device.name, device.path)


def of_outlet(outlet: Outlet) -> Thing:
    return Thing(outlet.id, outlet.path)


def of_supply(supply: Supply) -> Thing:
    return Thing(supply.name, supply.path)


_MOST_LISTED = 12


def listed(names: list[str]) -> str:
    """``a, b and c``, each name once, in code marks; of a great many, the first."""
    quoted = [f"`{name}`" for name in dict.fromkeys(names)]
    if (more := len(quoted) - _MOST_LISTED) > 0:
        quoted = [*quoted[:_MOST_LISTED], f"{more} more"]
    return series(quoted)


def does(names: list[str]) -> str:
    """For questions: ``does a``, or ``do a and b``."""
    return f"{'do' if len(set(names)) > 1 else 'does'} {listed(names)}"
