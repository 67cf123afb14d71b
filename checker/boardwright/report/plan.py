"""The board seen from above, true to scale: what the layout drawing and the full-size print are both made of."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from boardwright.board.assemble import Board
from boardwright.board.layout.balance import balance_of
from boardwright.board.layout.boxes import Box
from boardwright.board.layout.geometry import OUTWARD, Point, Rect
from boardwright.board.layout.leads import DATA, POWER
from boardwright.board.layout.routing import BELOW
from boardwright.board.layout.ways import LeadWay
from boardwright.report import svg
from boardwright.report.tracks import drawn_apart

DASHES = {"sound": "", "power": "7 3", "data": "2 3"}


def use_of(carries: str) -> str:
    return "power" if carries in POWER else "data" if carries in DATA else "sound"


@dataclass
class Plan:
    """A board and the scale it is drawn at: ``scale`` drawing units for each millimetre, the frame's corner at ``left``, ``top``."""

    board: Board
    scale: float
    left: float = 0.0
    top: float = 0.0
    text: float = 11.0
    """Size of the letters, in drawing units."""

    @cached_property
    def extent(self) -> Rect | None:
        """The frame; where none is stated, what its boxes cover."""
        layout = self.board.layout
        if layout.deck.area is not None:
            return layout.deck.area
        rects = [box.footprint for box in layout.boxes.values() if box.footprint is not None]
        points = [point for run in layout.runs for point in run.points]
        xs = [x for rect in rects for x in (rect.left, rect.right)] + [x for x, _ in points]
        ys = [y for rect in rects for y in (rect.front, rect.back)] + [y for _, y in points]
        return Rect(min(xs), min(ys), max(xs), max(ys)) if xs and max(xs) > min(xs) and max(ys) > min(ys) else None

    @property
    def stands_out(self) -> tuple[float, float, float, float]:
        """How far boxes reach beyond the frame to the left, the front, the right and the back (m)."""
        assert self.extent is not None
        rects = [box.footprint for box in self.board.layout.boxes.values() if box.footprint is not None]
        return (
            max([0.0, *(self.extent.left - rect.left for rect in rects)]),
            max([0.0, *(self.extent.front - rect.front for rect in rects)]),
            max([0.0, *(rect.right - self.extent.right for rect in rects)]),
            max([0.0, *(rect.back - self.extent.back for rect in rects)]),
        )

    def at(self, point: Point) -> Point:
        """A place of the board in the drawing; the player's side is below."""
        assert self.extent is not None
        unit = self.scale * 1000
        return self.left + (point[0] - self.extent.left) * unit, self.top + (self.extent.back - point[1]) * unit

    def length(self, metres: float) -> float:
        return metres * 1000 * self.scale

    def rect(self, rect: Rect) -> tuple[float, float, float, float]:
        """x, y, width and height of a footprint in the drawing."""
        x, y = self.at((rect.left, rect.back))
        return x, y, self.length(rect.width), self.length(rect.depth)

    # --- frame ----------------------------------------------------------------------------------------------------

    def frame(self) -> Iterator[str]:
        """The frame's outline, and a line where a row of another height begins."""
        assert self.extent is not None
        yield svg.box(*self.rect(self.extent), opacity=0.9, radius=0)
        rows = self.board.layout.deck.rows
        for row in rows[1:] if len(rows) > 1 else ():
            x, y = self.at((self.extent.left, row.front))
            yield svg.path(f"M{x:.2f} {y:.2f}h{self.length(self.extent.width):.2f}", 0.8, 0.45, dash=True)

    def openings(self) -> Iterator[str]:
        for name, hole in self.board.spec.openings.items():
            if hole.at and all(each.known for each in hole.at):
                x, y = self.at((hole.at[0].value, hole.at[1].value))
                across = self.length(hole.dia.value if hole.dia is not None and hole.dia.known else 0.02) / 2
                yield f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{across:.2f}" fill="none" stroke="currentColor" stroke-opacity="0.7"/>'
                yield svg.path(f"M{x - across:.2f} {y:.2f}h{2 * across:.2f}M{x:.2f} {y - across:.2f}v{2 * across:.2f}", 0.6, 0.7)
                yield svg.label(round(x, 2), round(y - across - 2, 2), name, self.text * 0.8, anchor="middle", opacity=0.8)

    # --- boxes ----------------------------------------------------------------------------------------------------

    def boxes(self, below: bool) -> Iterator[str]:
        """Outlines with names, sockets in use and footswitches; what hangs below the deck is dashed."""
        for box in self.board.layout.boxes.values():
            rect = box.footprint
            if rect is None or box.under is not below:
                continue
            x, y, width, height = self.rect(rect)
            yield svg.box(
                round(x, 2),
                round(y, 2),
                round(width, 2),
                round(height, 2),
                opacity=0.45 if below else 1,
                radius=3 * min(1, self.scale),
                dash=below or box.proposed,
            )
            if not below:
                yield from self._feet(box)
            yield from self._name(box, x, y, width, height, below)
        if not below:
            yield from self._sockets()

    def _name(self, box: Box, x: float, y: float, width: float, height: float, below: bool) -> Iterator[str]:
        """The box's name, upright if it is too long to lie."""
        size = self.text
        lying = width / (0.56 * size)
        middle = y + (0.5 if below else 0.3) * height
        opacity = 0.6 if below else 1.0
        if len(box.name) <= lying or width >= height:
            yield svg.label(round(x + width / 2, 2), round(middle + size / 3, 2), svg.fit(box.name, width - 2, size), size, anchor="middle", opacity=opacity)
            return
        cx, cy = round(x + width / 2 + size / 3, 2), round(middle, 2)
        words = svg.clean(svg.fit(box.name, height * 0.8, size))
        yield (
            f'<text x="{cx:g}" y="{cy:g}" font-size="{size:g}" text-anchor="middle" transform="rotate(-90 {cx:g} {cy:g})" '
            f'opacity="{opacity:g}" fill="currentColor">{words}</text>'
        )

    def _feet(self, box: Box) -> Iterator[str]:
        """Footswitches: two rings where a foot uses it, one where none does. Treadles have none."""
        if box.is_treadle or box.is_supply:
            return
        used = box.stepped[0]
        for foot in box.feet:
            x, y = self.at(foot.point)
            radius = self.length(0.006)
            yield f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{radius:.2f}" fill="none" stroke="currentColor" stroke-opacity="{0.9 if used else 0.35:g}"/>'
            if used:
                yield f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{radius / 2:.2f}" fill="none" stroke="currentColor"/>'

    def _sockets(self) -> Iterator[str]:
        """A small mark on the panel for each socket in use: filled where sound, power or data goes in, open where it comes out."""
        drawn: set[tuple[str, Point]] = set()
        across, deep = self.length(0.008), self.length(0.004)
        for lead in self.board.layout.leads:
            for end in lead.ends:
                socket = end.socket
                if socket is None or end.box is None or end.box.under or (end.name, socket.point) in drawn:
                    continue
                drawn.add((end.name, socket.point))
                x, y = self.at(socket.point)
                ox, _ = OUTWARD[socket.side]
                width, height = (deep, across) if ox else (across, deep)
                fill = "currentColor" if end is lead.end else "none"
                yield (
                    f'<rect x="{x - width / 2:.2f}" y="{y - height / 2:.2f}" width="{width:.2f}" height="{height:.2f}" fill="{fill}" '
                    'stroke="currentColor" stroke-width="0.8"/>'
                )

    # --- leads ----------------------------------------------------------------------------------------------------

    @cached_property
    def tracks(self) -> list[tuple[LeadWay, list[Point]]]:
        """Every lead's way with the corners where it is drawn."""
        ways = self.board.layout.ways
        return list(zip(ways, drawn_apart([each.way.points for each in ways], self.extent or Rect(0.0, 0.0, 0.0, 0.0)), strict=True))

    def leads(self, labels: bool) -> Iterator[str]:
        """Sound solid, power dashed, data dotted; below the deck thinner."""
        for each, corners in self.tracks:
            points = [self.at(point) for point in corners]
            dash = DASHES[use_of(each.lead.carries)]
            dashed = f' stroke-dasharray="{dash}"' if dash else ""
            for layer, d in _strokes(points, each.way.layers):
                width, opacity = (0.9, 0.4) if layer == BELOW else (1.3, 0.7)
                yield f'<path d="{d}" fill="none" stroke="currentColor" stroke-width="{width}" stroke-opacity="{opacity}"{dashed}/>'
            if labels:
                x, y = _middle(points)
                yield svg.label(round(x, 2), round(y - 1.5, 2), each.lead.label, round(self.text * 0.7, 1), anchor="middle", opacity=0.9)

    def runs_alone(self) -> Iterator[str]:
        """Drawn runs that say nothing of what they join."""
        known = {id(lead.run) for lead in self.board.layout.leads if lead.run is not None}
        for run in self.board.layout.runs:
            if id(run) not in known and run.has_way:
                points = [self.at(point) for point in run.points]
                dash = DASHES[use_of(run.carries or "audio")]
                dashed = f' stroke-dasharray="{dash}"' if dash else ""
                d = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points)
                yield f'<path d="{d}" fill="none" stroke="currentColor" stroke-width="1.3" stroke-opacity="0.85"{dashed}/>'
                x, y = _middle(points)
                yield svg.label(round(x, 2), round(y - 2, 2), run.name, round(self.text * 0.75, 1), anchor="middle")

    # --- balance --------------------------------------------------------------------------------------------------

    def balance(self) -> Iterator[str]:
        """The point on which the board balances: a circle with two dark quarters."""
        found = balance_of(self.board.layout)
        if found is None:
            return
        x, y = self.at((found.x, found.y))
        r = max(6.0, self.length(0.006))
        yield f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{r:.2f}" fill="none" stroke="currentColor"/>'
        quarters = (f"M{x:.2f} {y:.2f}v{way * r:.2f}a{r:.2f} {r:.2f} 0 0 1 {-way * r:.2f} {-way * r:.2f}z" for way in (-1, 1))
        yield f'<path d="{"".join(quarters)}" fill="currentColor"/>'


def _strokes(points: list[Point], layers: tuple[int, ...]) -> Iterator[tuple[int, str]]:
    """The parts of a way that lie on one layer, as one stroke each."""
    start = 0
    for number in range(1, len(layers) + 1):
        if number == len(layers) or layers[number] != layers[start]:
            yield layers[start], "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points[start : number + 1])
            start = number


def _middle(points: list[Point]) -> Point:
    """The middle of the longest part."""
    a, b = max(itertools.pairwise(points), key=lambda part: abs(part[1][0] - part[0][0]) + abs(part[1][1] - part[0][1]))
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
