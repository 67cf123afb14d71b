"""The earth map: what is one piece of ground, what joins it to amplifiers and computers, and how each of them meets the earth.

Left the pieces of ground on the board, right everything that may bring an earth, and at the far right the earth itself. Loops
are drawn thick and numbered; where there is one earth and no loop, its way is drawn thick.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from textwrap import wrap

from boardwright.board.assemble import Board
from boardwright.board.ground import Ground, OneEarth, loop_in_words
from boardwright.board.ground_bonds import EARTH, Bond, Node, is_far_side, name_of, screen_of
from boardwright.board.ground_paths import Join, Loop
from boardwright.report import svg
from boardwright.report.report import Report
from boardwright.rules.verdict import Severity
from boardwright.spec.figure import Origin

WIDTH = 760
LEFT, ISLAND_WIDTH = 8, 300
END_X, END_WIDTH = 492, 168
RAIL_X = 728
TEXT_X, GAP_X = 372, 478
ROW, GAP = 58, 16
LINE = 16
LOOP_COLOUR = svg.COLOURS[Severity.RISK]


@dataclass(eq=False)
class Island:
    """One piece of ground, without what may bring an earth."""

    names: list[str] = field(default_factory=list)
    y: float = 0
    height: float = 0

    @property
    def middle(self) -> float:
        return self.y + self.height / 2


@dataclass(eq=False)
class End:
    """Something that may bring an earth."""

    name: str
    node: Node
    bond: Bond | None
    y: float = 0

    @property
    def middle(self) -> float:
        return self.y + (ROW - 12) / 2


@dataclass(eq=False)
class Link:
    """What lies between two places of the map: bonds that join them, or an isolator that keeps them apart."""

    start: Island | End
    end: Island | End
    label: str
    state: str
    """``joined``, ``apart`` or ``unsure``."""
    bonds: list[Bond]
    isolator: str | None = None


def earth_map(board: Board, report: Report) -> str:
    """SVG of the grounds of a rig, with its loops or its one earth."""
    ground, answer = board.ground, board.one_earth
    sketch = _Sketch(board, ground)
    height = sketch.place()
    loops = [*ground.loops, *ground.possible_loops]
    parts: list[str] = [
        *sketch.islands_drawn(),
        *sketch.links_drawn(loops, answer),
        *sketch.ends_drawn(loops, answer, report),
        *sketch.rail_drawn(loops, height),
    ]
    words = _words(ground, answer)
    y = height + 22
    for line in words:
        parts.append(svg.label(LEFT + 4, y, line, 12))
        y += LINE
    name = report.board.name or "the board"
    return svg.picture(WIDTH, max(y, 60), f"Earth map of {name}", _description(sketch, words), parts, "earth-map")


class _Sketch:
    """The map before it is drawn: places, and what lies between them."""

    def __init__(self, board: Board, ground: Ground) -> None:
        self.board, self.ground = board, ground
        self.ends = self._ends()
        self._end_of = {end.node: end for end in self.ends}
        self.islands: list[Island] = []
        self._join = Join()
        self._island_of: dict[object, Island] = {}
        self._find_islands()
        self.links = self._links()

    # --- what there is ----------------------------------------------------------------------------------------------

    def _ends(self) -> list[End]:
        earthed: dict[Node, Bond] = {}
        for bond in self.ground.bonds:
            if bond.to_earth:
                earthed.setdefault(bond.other(EARTH), bond)
        nodes: dict[Node, None] = {("ground", name): None for name in [*self.ground.amps, *self._joined_computers()]}
        nodes |= dict.fromkeys(earthed)
        return [End(self._end_name(node, earthed.get(node)), node, earthed.get(node)) for node in nodes if self._is_used(node)]

    def _joined_computers(self) -> list[str]:
        joined = {end[1] for bond in self.ground.signal_bonds for end in (bond.a, bond.b) if len(end) > 1}
        return [name for name in self.board.spec.computers if name in joined]

    def _is_used(self, node: Node) -> bool:
        return any(node in (bond.a, bond.b) for bond in self.ground.signal_bonds)

    @staticmethod
    def _end_name(node: Node, bond: Bond | None) -> str:
        return bond.owner if bond is not None and node[0] == "pole" else name_of(node)

    def _find_islands(self) -> None:
        nodes: dict[Node, None] = {}
        for bond in self.ground.signal_bonds:
            nodes |= {bond.a: None, bond.b: None}
            if bond.sure and bond.a not in self._end_of and bond.b not in self._end_of and not self._passes(bond):
                self._join.join(bond.a, bond.b)
        for node in nodes:
            if node in self._end_of:
                continue
            root = self._join.find(node)
            island = self._island_of.setdefault(root, Island())
            if node[0] in ("ground", "metal") and len(node) == 2 and node[1] not in island.names:
                island.names.append(node[1])
        self.islands = [island for island in self._island_of.values() if island.names]

    @staticmethod
    def _passes(bond: Bond) -> bool:
        """Whether it is the inside of an isolator, which is drawn as a link of its own."""
        return bond.hop is None and (is_far_side(bond.a) or is_far_side(bond.b))

    def _place_of(self, node: Node) -> Island | End:
        """The box that a node is drawn in; the far side of an isolator belongs to what it leads to. A side with nothing on it has none."""
        if node in self._end_of:
            return self._end_of[node]
        island = self._island_of.get(self._join.find(node), Island())
        if island.names:
            return island
        for bond in self.ground.screens:
            if node in (bond.a, bond.b) and bond.hop is not None:
                other = bond.other(node)
                if other in self._end_of:
                    return self._end_of[other]
        return island

    def _links(self) -> list[Link]:
        found: dict[tuple[int, int, str, str | None], Link] = {}

        def add(start: Island | End, end: Island | End, label: str, state: str, bonds: list[Bond], isolator: str | None = None) -> None:
            if start is end or not getattr(start, "names", True) or not getattr(end, "names", True):
                return
            if isinstance(start, End) and isinstance(end, Island):
                start, end = end, start
            key = (id(start), id(end), state, isolator)
            if key in found:
                found[key].bonds += bonds
                found[key].label = f"{len(found[key].bonds)} leads" if isolator is None else label
            else:
                found[key] = Link(start, end, label, state, list(bonds), isolator)

        for name, far in self.ground.isolated:
            near = ("ground", name)
            inside = [bond for bond in self.ground.signal_bonds if {bond.a, bond.b} == {near, far}]
            state = "apart" if screen_of(self.board.spec, name, far[2]) == "lifted" or not inside else "joined" if inside[0].sure else "unsure"
            leads = [bond for bond in self.ground.screens if far in (bond.a, bond.b) and bond.hop is not None]
            add(self._place_of(near), self._place_of(far), name, state, [*inside, *leads], name)
        for bond in self.ground.signal_bonds:
            if is_far_side(bond.a) or is_far_side(bond.b):
                continue
            add(self._place_of(bond.a), self._place_of(bond.b), _short(bond), "joined" if bond.sure else "unsure", [bond])
        return list(found.values())

    # --- where it goes ------------------------------------------------------------------------------------------------

    def place(self) -> float:
        """Give everything its height, and say where the map ends."""
        y = 12.0
        for island in self.islands:
            lines = len(self._lines(island))
            island.y, island.height = y, 30 + lines * LINE
            y += island.height + GAP
        left, y = y, 12.0
        for end in self.ends:
            end.y = y
            y += ROW + GAP
        return max(left, y, 60)

    @staticmethod
    def _lines(island: Island) -> list[str]:
        return wrap(", ".join(island.names), 42, break_on_hyphens=False)[:7]

    # --- how it looks -------------------------------------------------------------------------------------------------

    def islands_drawn(self) -> Iterator[str]:
        for number, island in enumerate(self.islands, 1):
            yield svg.box(LEFT, island.y, ISLAND_WIDTH, island.height, opacity=0.8, radius=8)
            count = len(island.names)
            title = f"ground {number}: {count} things, one piece" if count > 1 else f"ground {number}"
            yield svg.label(LEFT + 10, island.y + 18, title, 13, "bold")
            for place, line in enumerate(self._lines(island)):
                yield svg.label(LEFT + 10, island.y + 36 + place * LINE, line, 12, opacity=0.85)

    def links_drawn(self, loops: list[Loop], answer: OneEarth) -> Iterator[str]:
        used = {bond for loop in loops for bond in loop.way}
        one = {bond for way in answer.ways.values() for bond in way} if answer.holds else set()
        slots: dict[int, int] = {}
        for link in self.links:
            place = slots.setdefault(id(link.start), 0)
            slots[id(link.start)] += 1
            y0 = self._out(link.start, place)
            y1 = self._out(link.end, slots.setdefault(id(link.end), 0))
            slots[id(link.end)] += 1
            in_loop, on_the_way = bool(used & set(link.bonds)), bool(one & set(link.bonds))
            yield from _line(link, y0, y1, in_loop or on_the_way, LOOP_COLOUR if in_loop else "currentColor", place)

    @staticmethod
    def _out(box: Island | End, place: int) -> float:
        height = ROW - 12 if isinstance(box, End) else box.height
        return min(box.y + 14 + 15 * place, box.y + height - 6)

    def ends_drawn(self, loops: list[Loop], answer: OneEarth, report: Report) -> Iterator[str]:
        worst = _worst(report)
        in_loop = {bond.owner for loop in loops for bond in (loop.out, loop.back)}
        one = {bond.owner for way in answer.ways.values() for bond in way if bond.to_earth} if answer.holds else set()
        for end in self.ends:
            yield svg.box(END_X, end.y, END_WIDTH, ROW - 12, opacity=0.8)
            yield svg.label(END_X + 8, end.y + 18, svg.fit(end.name, END_WIDTH - 92 if end.name in worst else END_WIDTH - 16, 13), 13, "bold")
            yield svg.label(END_X + 8, end.y + 36, svg.fit(_earth_words(end.bond), END_WIDTH - 16, 11), 11, opacity=0.85)
            if end.name in worst:
                yield svg.mark(END_X + END_WIDTH - 66, end.y + 14, worst[end.name])
            if end.bond is not None:
                d = f"M{END_X + END_WIDTH} {end.middle:g}H{RAIL_X}"
                if end.bond.owner in in_loop:
                    yield svg.path(d, 4, colour=LOOP_COLOUR, dash=not end.bond.sure)
                else:
                    yield svg.path(d, 4 if end.bond.owner in one else 1.5, dash=not end.bond.sure)
                if end.bond.owner in one:
                    yield svg.label(RAIL_X - 6, end.middle - 7, "one earth", 11, "bold", anchor="end")

    def rail_drawn(self, loops: list[Loop], height: float) -> Iterator[str]:
        if not any(end.bond for end in self.ends):
            return
        bottom = height - 26
        yield svg.path(f"M{RAIL_X} 8V{bottom:g}", 2)
        at = {end.bond.owner: end.middle for end in self.ends if end.bond is not None}
        for number, loop in enumerate(loops, 1):
            if loop.out.owner in at and loop.back.owner in at:
                y0, y1 = sorted((at[loop.out.owner], at[loop.back.owner]))
                yield svg.path(f"M{RAIL_X} {y0:g}V{y1:g}", 4, colour=LOOP_COLOUR, dash=bool(loop.doubts))
                yield from _tag(RAIL_X + 16, (y0 + y1) / 2, number)
        yield from _earth_symbol(RAIL_X, bottom)


def _short(bond: Bond) -> str:
    return str(bond.via.value)


def _earth_words(bond: Bond | None) -> str:
    if bond is None:
        return "brings no earth"
    if not bond.sure:
        return "may bring an earth"
    said = "earth through some ohms" if bond.soft else "earth inside"
    return f"{said}, assumed" if bond.origin is Origin.ASSUMED else said


def _line(link: Link, y0: float, y1: float, thick: bool, colour: str, place: int) -> Iterator[str]:
    """One link, with its name above it. A lifted isolator is a gap between two bars."""
    x0 = LEFT + ISLAND_WIDTH if isinstance(link.start, Island) else END_X
    x1 = LEFT + ISLAND_WIDTH if isinstance(link.end, Island) else END_X
    turn = END_X - 16 if isinstance(link.start, End) else LEFT + ISLAND_WIDTH + 12 + 8 * (place % 5)
    across = x0 < x1
    text_x, text_y = (TEXT_X, y1 - 5) if across else (turn + 6, (y0 + y1) / 2 + 4)
    if link.state == "apart" and across:
        yield svg.path(f"M{x0} {y0:g}H{turn}V{y1:g}H{GAP_X - 4}M{GAP_X + 4} {y1:g}H{x1}")
        yield svg.path(f"M{GAP_X - 4} {y1 - 6:g}v12M{GAP_X + 4} {y1 - 6:g}v12", 2)
    elif link.state == "apart":
        yield svg.path(f"M{x0} {y0:g}H{turn}V{(y0 + y1) / 2 - 4:g}M{turn} {(y0 + y1) / 2 + 4:g}V{y1:g}H{x1}")
        yield svg.path(f"M{turn - 6} {(y0 + y1) / 2 - 4:g}h12M{turn - 6} {(y0 + y1) / 2 + 4:g}h12", 2)
        text_x = turn + 12
    else:
        yield svg.path(f"M{x0} {y0:g}H{turn}V{y1:g}H{x1}", 4 if thick else 1.5, colour=colour, dash=link.state == "unsure")
    words = {"apart": "lifted", "joined": "through", "unsure": "lifted?"}[link.state]
    label = f"{link.isolator}: {words}" if link.isolator else f"{link.label}?" if link.state == "unsure" else link.label
    yield svg.label(text_x, text_y, svg.fit(label, GAP_X - TEXT_X - 8, 11), 11, opacity=0.9)


def _tag(x: float, y: float, number: int) -> Iterator[str]:
    yield f'<circle cx="{x:g}" cy="{y:g}" r="9" fill="none" stroke="{LOOP_COLOUR}" stroke-width="2.5"/>'
    yield svg.label(x, y + 4, str(number), 11, "bold", anchor="middle")


def _earth_symbol(x: float, y: float) -> Iterator[str]:
    """Protective earth: three bars in a ring (after IEC 60417, 5019)."""
    yield f'<circle cx="{x:g}" cy="{y + 10:g}" r="12" fill="none" stroke="currentColor" stroke-width="1.5"/>'
    yield svg.path(f"M{x:g} {y:g}v9M{x - 7:g} {y + 9:g}h14M{x - 4.5:g} {y + 13:g}h9M{x - 2:g} {y + 17:g}h4", 1.5)


def _worst(report: Report) -> dict[str, Severity]:
    """The worst finding on earth and mains that is mainly about each thing."""
    families = {each.rule: each.family for each in report.coverage}
    found: dict[str, Severity] = {}
    for finding in report.findings:
        if families[finding.rule] in ("earth", "mains"):
            found.setdefault(finding.things[0].name, Severity(finding.severity))
    return found


def _words(ground: Ground, answer: OneEarth) -> list[str]:
    """What the map comes to, in lines that fit below it."""
    said = [f"Loop {number}: {loop_in_words(loop)}." for number, loop in enumerate(ground.loops, 1)]
    said += [f"Loop {number}, if it is one: {loop_in_words(loop)}." for number, loop in enumerate(ground.possible_loops, len(ground.loops) + 1)]
    said += [line for line in answer.proof if line.startswith("No earth")]
    if answer.holds:
        said.append("One earth, whichever amplifiers are connected.")
        said += [line for line in answer.proof if line.startswith("Never none")]
    elif not said and ground.screens:
        said.append("No loop through the wall.")
    elif not said:
        said.append("No leads are described.")
    return [line for words in said for line in wrap(words.replace("`", ""), 112, break_on_hyphens=False)]


def _description(sketch: _Sketch, words: list[str]) -> str:
    """The drawing in words."""
    told = [f"Ground {number}: {', '.join(island.names)}." for number, island in enumerate(sketch.islands, 1)]
    for end in sketch.ends:
        told.append(f"{end.name}: {_earth_words(end.bond)}.")
    for link in sketch.links:
        if link.isolator:
            told.append(f"Isolator {link.isolator}: {link.state}.")
    return " ".join([*told, *words])
