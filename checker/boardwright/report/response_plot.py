"""How the pickup sounds at the end of its cable: level over frequency, with the least and with the most on it."""

from __future__ import annotations

from collections.abc import Iterator
from math import log10

from boardwright.board.assemble import Board
from boardwright.board.signal.loading import Coil, Segment, coil_of, segments
from boardwright.physics import pickup
from boardwright.report import svg
from boardwright.report.report import Report
from boardwright.spec.figure import tell

WIDTH, HEIGHT = 560.0, 300.0
LEFT, RIGHT, TOP, BOTTOM = 52.0, 548.0, 40.0, 252.0
LOWEST, HIGHEST = 80.0, 10_000.0
FLOOR, CEILING = -24.0, 12.0
REFERENCE = 100.0


def pickup_of(board: Board) -> tuple[str, Coil, list[Segment]] | None:
    """The first passive magnetic pickup that something hangs on: its source, its coil, and what it may drive."""
    for name in board.signal.sources:
        coil = coil_of(board.signal.stages[name])
        found = segments(board.signal, name, board.signal.starts(name)) if coil else []
        if coil and found:
            return name, coil, found
    return None


def response_plot(board: Board, report: Report) -> str:
    """SVG of a passive pickup's response. Without one it says so."""
    found = pickup_of(board)
    if found is None:
        said = "No passive magnetic pickup is described whose sound leaves by a lead."
        return svg.picture(WIDTH, 60, "Response of the pickup", said, [svg.label(16, 36, said, 12)], "pickup-response")
    name, coil, ways = found
    return _plot(name, coil, _extremes(coil, ways))


def _extremes(coil: Coil, found: list[Segment]) -> list[Segment]:
    """The brightest and the dullest, or the only one."""
    ranked = sorted(found, key=coil.treble)
    return [ranked[-1]] if len(ranked) == 1 or coil.treble(ranked[-1]) - coil.treble(ranked[0]) < 0.5 else [ranked[-1], ranked[0]]


def _plot(name: str, coil: Coil, shown: list[Segment]) -> str:
    parts = [*_frame()]
    told = []
    for number, segment in enumerate(shown):
        parts.append(svg.path(_curve(coil, segment), width=2.2, dash=number > 0))
        when = f"first on: {segment.end.name}" if segment.end.role != "amp" else f"nothing on up to {segment.end.name}"
        y = TOP + 20 + 18 * number
        parts.append(svg.path(f"M{LEFT + 14:g} {y - 4:g}h34", width=2.2, dash=number > 0))
        words = f"{when}: {tell(segment.capacitance, 'F')}, {_peak(coil, segment)}"
        parts.append(svg.label(LEFT + 56, y, svg.fit(words, RIGHT - LEFT - 60, 12), 12))
        told.append(f"With {words}, 5 kHz lies {tell(coil.treble(segment), 'dB')} against {tell(REFERENCE, 'Hz')}.")
    title = f"What the cable leaves of the treble of {name}"
    parts.append(svg.label(LEFT, 20, title, 13, "bold"))
    return svg.picture(WIDTH, HEIGHT, title, " ".join(told), parts, "pickup-response")


def _peak(coil: Coil, segment: Segment) -> str:
    top = pickup.peak(coil.pickup, segment.capacitance, coil.load(segment))
    return "no peak left" if top is None else f"peak {tell(top.level, 'dB')} at {tell(top.frequency, 'Hz')}"


def _frame() -> Iterator[str]:
    yield svg.box(LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP, opacity=0.6, radius=0)
    for frequency in (100, 200, 500, 1000, 2000, 5000, 10_000):
        x = _x(frequency)
        yield svg.path(f"M{x:.1f} {TOP:g}V{BOTTOM:g}", width=1, opacity=0.18)
        yield svg.label(x, BOTTOM + 16, tell(float(frequency), "Hz").replace(" Hz", "").replace(" kHz", "k"), 11, anchor="middle")
    for level in range(int(FLOOR), int(CEILING) + 1, 6):
        y = _y(level)
        yield svg.path(f"M{LEFT:g} {y:.1f}H{RIGHT:g}", width=1, opacity=0.5 if level == 0 else 0.18)
        yield svg.label(LEFT - 6, y + 4, tell(float(level), "dB").replace(" dB", ""), 11, anchor="end")
    yield svg.label(RIGHT, BOTTOM + 34, "Hz", 11, anchor="end")
    yield svg.label(LEFT - 6, TOP - 8, "dB", 11, anchor="end")


def _curve(coil: Coil, segment: Segment, points: int = 120) -> str:
    steps = []
    for number in range(points + 1):
        frequency = LOWEST * (HIGHEST / LOWEST) ** (number / points)
        level = pickup.level(frequency, REFERENCE, coil.pickup, segment.capacitance, coil.load(segment))
        steps.append(f"{_x(frequency):.1f} {_y(min(CEILING, max(FLOOR, level))):.1f}")
    return "M" + "L".join(steps)


def _x(frequency: float) -> float:
    return LEFT + (RIGHT - LEFT) * log10(frequency / LOWEST) / log10(HIGHEST / LOWEST)


def _y(level: float) -> float:
    return TOP + (BOTTOM - TOP) * (CEILING - level) / (CEILING - FLOOR)
