"""How long a lead must be for its way, and how long its cable is cut."""

from __future__ import annotations

from boardwright import limits
from boardwright.physics import lengths

STRIPS = {"soldered": limits.STRIP_SOLDERED, "crimped": limits.STRIP_CRIMPED}
"""Cable used up at each end, by how plugs are fixed; clamped and moulded ends take none."""


def least_length(way: float) -> float:
    """The shortest lead that reaches: its way and the entry of both plugs (m)."""
    return way + 2 * limits.PLUG_ENTRY.value


def wanted_length(way: float, ends: int = 2) -> float:
    """The lead that lies easily and lets ``ends`` of its boxes be lifted (m)."""
    return lengths.wanted_length(way, limits.LEAD_SLACK.value, limits.SERVICE_SLACK.value, ends)


def longest_length(wanted: float) -> float:
    """The longest lead that is not in the way (m)."""
    return limits.LEAD_TOO_LONG.value * wanted + limits.LEAD_TOO_LONG_BY.value


def strip_of(made: str | None, stated: float | None = None) -> float:
    """Cable used up at each end (m): stated, or by how the plugs are fixed. Soldered if nobody says."""
    if stated is not None:
        return stated
    if made in ("clamped", "moulded"):
        return 0.0
    return STRIPS.get(made or "soldered", limits.STRIP_SOLDERED).value


def cut_length(wanted: float, strip: float) -> float:
    """The length to cut for a finished length (m); the cable is taken to run through the whole plug."""
    return lengths.cut_length(wanted, 0.0, strip, limits.CUT_STEP.value)
