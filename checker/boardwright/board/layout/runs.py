"""The runs of a board's text: leads whose way over the board is drawn or measured."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, cached_property

from boardwright import limits
from boardwright.board.layout.geometry import Point, Rect, bounds, path_length
from boardwright.spec.figure import Figure, assumed
from boardwright.spec.problem import Path
from boardwright.spec.read import Spec
from boardwright.spec.sections.runs import Run as RunSection
from boardwright.spec.sections.stock import Stock

_DIAMETERS = {"audio": limits.OD_AUDIO, "dc": limits.OD_DC, "ac-low": limits.OD_DC, "mains": limits.OD_MAINS}


@cache
def usual_od(carries: str | None) -> Figure:
    """Outer diameter (m) of a cable that does not state it."""
    return assumed(_DIAMETERS.get(carries or "audio", limits.OD_DATA).value, "m")


@dataclass(eq=False)
class Run:
    """A run as described. ``points`` are the corners of its way (m); empty where none is given."""

    name: str
    path: Path
    section: RunSection
    points: tuple[Point, ...]
    stock: Stock | None = None
    """The cable that it is cut from, if it says so."""

    @property
    def carries(self) -> str | None:
        return self.section.carries if self.section.carries != "unknown" else None

    @property
    def has_way(self) -> bool:
        return len(self.points) > 1

    @cached_property
    def way_length(self) -> float:
        """Length of its way over the board (m)."""
        return path_length(self.points)

    @cached_property
    def bounds(self) -> Rect:
        """The rectangle that its way stays in."""
        return bounds(self.points)

    @cached_property
    def od(self) -> Figure:
        """Its outer diameter (m)."""
        for stated in (self.section.od, self.stock.od if self.stock else None):
            if stated is not None and stated.known and stated.value > 0:
                return stated
        return usual_od(self.carries)


def assemble_runs(spec: Spec) -> list[Run]:
    runs = []
    for number, section in spec.runs.items():
        points = [(point[0].value, point[1].value) for point in section.path or () if point[0].known and point[1].known]
        kept = tuple(point for place, point in enumerate(points) if place == 0 or point != points[place - 1])
        name = section.id or (" > ".join(map(str, section.joins)) if section.joins else f"run {number + 1}")
        runs.append(Run(name, ("runs", number), section, kept, spec.stock.get(section.stock or "")))
    return runs
