"""Faults by family of rules."""

from gauntlet.faults import bench, earth, layout, mains, power, routing, sound  # noqa: F401
from gauntlet.faults.registry import FAULTS, Fault

__all__ = ["FAULTS", "NOT_INJECTED", "Fault"]

NOT_INJECTED = {
    "wide-loop-near-transformer": "an advice that rests on an estimate of some 10 dB: what is clearly one and what is clearly none cannot be said from outside",
}
"""Rules that no fault is made for, and why."""
