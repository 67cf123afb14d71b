"""Places: shapely's polygons against what the checker says of boxes that were shoved about."""

from __future__ import annotations

from itertools import combinations
from random import Random

from shapely.geometry import Point, box

from boardwright import Report, check
from gauntlet.good_boards import good_board
from gauntlet.rig import Rig

_SLACK = 1.0
"""mm that boxes may reach into each other, by the checker's page; checked no nearer than half of it either way."""
_NEAR = 0.5
_OUT = 10.0
"""mm that an edge may stand out."""
_SHOE = 65.0
"""mm between footswitches below which one shoe meets both, and how far apart in depth they still count as of one row."""
_SAME_ROW = 40.0


def judge(seed: int) -> tuple[int, list[str]]:
    """Boxes of a board with a layout, some of them shoved about at random."""
    r = Random(seed)
    while not (rig := good_board(seed)).rows:
        seed += 1
    names = [name for row in rig.rows for name in row]
    wide, deep = rig.sections["board"]["frame"]["size"]
    for name in r.sample(names, min(len(names), r.randint(1, 4))):
        width, depth, _ = rig.boxes()[name]["size"]
        rig.boxes()[name]["at"] = [r.randint(-40, wide - width + 40), r.randint(-40, deep - depth + 40)]
    pedals = [name for name in names if name in rig.pedals and rig.pedals[name].get("stepped") != "no"]
    for name in pedals:
        width, depth, _ = rig.pedals[name]["size"]
        rig.pedals[name]["switch_at"] = [r.randint(4, width - 4), r.randint(15, depth // 2)]
    report = check(rig.text())
    differs = [f"board {seed}, {said}" for said in [*_overlaps(rig, report, names), *_off(rig, report, names, wide, deep), *_gaps(rig, report, pedals)]]
    count = len(names) * (len(names) + 1) // 2
    return count, differs


def _footprint(rig: Rig, name: str):
    (x, y), (width, depth, _) = rig.boxes()[name]["at"], rig.boxes()[name]["size"]
    return box(x, y, x + width, y + depth)


def _pairs(report: Report, rule: str, *severities: str) -> set[frozenset[str]]:
    return {frozenset(thing.name for thing in found.things) for found in report.findings if found.rule == rule and found.severity in severities}


def _overlaps(rig: Rig, report: Report, names: list[str]):
    told = _pairs(report, "boxes-overlap", "fault")
    for one, other in combinations(names, 2):
        shared = _footprint(rig, one).intersection(_footprint(rig, other))
        left, low, right, high = shared.bounds if not shared.is_empty else (0, 0, 0, 0)
        least = min(right - left, high - low)
        if abs(least - _SLACK) > _NEAR and (least > _SLACK) is not (frozenset((one, other)) in told):
            yield f"`{one}` and `{other}`: shapely finds {least:g} mm of overlap, the checker says the opposite"


def _off(rig: Rig, report: Report, names: list[str], wide: float, deep: float):
    told = {found.things[0].name for found in report.findings if found.rule == "box-off-the-frame" and found.severity == "fault"}
    frame = box(0, 0, wide, deep)
    for name in names:
        footprint = _footprint(rig, name)
        out = max((Point(corner).distance(frame) for corner in footprint.exterior.coords), default=0.0)
        left, low, right, high = footprint.bounds
        edge = max(-left, -low, right - wide, high - deep, 0.0)
        beyond = edge > _OUT or not frame.contains(footprint.centroid)
        if out and abs(edge - _OUT) > _NEAR and beyond is not (name in told):
            yield f"`{name}`: shapely finds an edge {edge:g} mm beyond the frame, the checker says the opposite"
        if not out and name in told:
            yield f"`{name}`: shapely finds it within the frame, the checker beyond it"


def _gaps(rig: Rig, report: Report, pedals: list[str]):
    """Footswitches of boxes that stand apart, in one row of the frame."""
    told = _pairs(report, "footswitches-too-close", "fault", "risk")
    for one, other in combinations(pedals, 2):
        a, b = (Point(x + dx, y + dy) for (x, y), (dx, dy) in ((rig.pedals[name]["at"], rig.pedals[name]["switch_at"]) for name in (one, other)))
        apart, deep = a.distance(b), abs(a.y - b.y)
        if _footprint(rig, one).distance(_footprint(rig, other)) < _NEAR or abs(apart - _SHOE) < _NEAR or abs(deep - _SAME_ROW) < _NEAR:
            continue
        close = apart < _SHOE and deep < _SAME_ROW
        if close is not (frozenset((one, other)) in told):
            yield f"`{one}` and `{other}`: shapely finds their footswitches {apart:.1f} mm apart, the checker says otherwise"
