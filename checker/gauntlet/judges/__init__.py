"""Second opinions that share no code with the checker, over generated boards."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from gauntlet.judges import circuits, earths, fields, plane, states


@dataclass(frozen=True)
class Judge:
    name: str
    what: str
    judge: Callable[[int], tuple[int, list[str]]]
    """Takes a seed; gives how many things were compared, and each that differs."""


JUDGES = (
    Judge("ngspice", "volts that arrive at every device", circuits.judge),
    Judge("every state", "who hears what, state by state", states.judge),
    Judge("every set of amplifiers", "how many earths each set has", earths.judge),
    Judge("shapely", "overlaps, what stands off the frame, gaps between footswitches", plane.judge),
    Judge("scipy", "Neumann's double integral over pairs of leads", fields.judge),
)
