"""How findings name what they are about."""

from __future__ import annotations

from collections.abc import Iterable

from boardwright.board.feeding import Device
from boardwright.board.supply import Outlet, Supply
from boardwright.rules.verdict import Thing


def of_device(device: Device) -> Thing:
    return Thing(device.name, device.path)


def of_outlet(outlet: Outlet) -> Thing:
    return Thing(outlet.id, outlet.path)


def of_supply(supply: Supply) -> Thing:
    return Thing(supply.name, supply.path)


def series(words: Iterable[str], joint: str = "and") -> str:
    """``a, b and c``."""
    parts = list(words)
    return parts[0] if len(parts) == 1 else ", ".join(parts[:-1]) + f" {joint} {parts[-1]}"


_MOST_LISTED = 12


def listed(names: list[str]) -> str:
    """``a, b and c``, each name once, in code marks; of a great many, the first."""
    quoted = [f"`{name}`" for name in dict.fromkeys(names)]
    if (more := len(quoted) - _MOST_LISTED) > 0:
        quoted = [*quoted[:_MOST_LISTED], f"{more} more"]
    return series(quoted)
