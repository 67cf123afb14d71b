"""The signal map: sources on the left, amplifiers on the right, switchers as boxes with their loops in order.

Each lead and each loop carries the names of the presets in which it is live (``data-live``) and the numbers of the
promises whose proof it belongs to (``data-promises``), so that a page can show one after the other; drawn for one of them,
it stands out by itself.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise

from boardwright.board.assemble import Board
from boardwright.board.audio import Hop
from boardwright.board.signal import Edge, Role, Stage, State
from boardwright.board.signal.jacks import is_return, is_send
from boardwright.board.signal.promises import Answer
from boardwright.board.signal.wiring import loop_switch, send_switch
from boardwright.report import svg
from boardwright.report.report import Report
from boardwright.rules.verdict import Severity
from boardwright.spec.sections.switchers import Switcher

BOX_WIDTH, BOX_HEIGHT = 112, 46
CELL_WIDTH, CELL_HEIGHT, CELLS_IN_ROW = 92, 44, 6
COLUMN_GAP, PLAIN_GAP, ROW_GAP = 74, 34, 22
HEAD = 28
MARGIN = 14


@dataclass(slots=True)
class _Cell:
    """A loop or an insert inside a switcher."""

    label: str
    boxes: list[str]
    switch: str | None
    ends: tuple[str, str] | None = None
    """What its send leads to and what its return comes from, where these are two things."""


@dataclass(slots=True)
class Block:
    """A thing with a place of its own in the drawing."""

    stage: Stage
    cells: list[_Cell] = field(default_factory=list)
    outs: list[str] = field(default_factory=list)
    layer: int = 0
    x: float = 0.0
    y: float = 0.0

    @property
    def width(self) -> float:
        if not self.cells:
            return BOX_WIDTH
        return max(2, min(CELLS_IN_ROW, len(self.cells))) * CELL_WIDTH + 12 + (70 if self.outs else 0)

    @property
    def height(self) -> float:
        rows = -(-len(self.cells) // CELLS_IN_ROW)
        return max(BOX_HEIGHT, HEAD + rows * CELL_HEIGHT + 6 if rows else 0, HEAD + 18 * len(self.outs) if self.cells else 0)

    def leaves_at(self, jack: str | None) -> tuple[float, float]:
        """Where a lead from a jack starts."""
        if self.cells and jack in self.outs:
            return self.x + self.width, self.y + HEAD + 18 * self.outs.index(jack or "") + 8
        return self.x + self.width, self.y + self.height / 2


@dataclass(slots=True)
class Lead:
    """One lead, or the leads of a stereo pair, from block to block."""

    start: Block
    end: Block
    hops: list[Hop] = field(default_factory=list)
    lanes: list[Lane] = field(default_factory=list)
    """Where it passes the columns between."""

    @property
    def tap(self) -> str | None:
        return self.hops[0].start.jack

    @property
    def jacks(self) -> str:
        """The jacks that it starts from, where the block does not show them itself."""
        named = dict.fromkeys(hop.start.jack for hop in self.hops if hop.start.jack and hop.start.jack not in self.start.outs)
        return " + ".join(named)

    @property
    def has_lanes(self) -> bool:
        """Whether it goes on from column to column, and not back, or over others at once."""
        return len(self.lanes) == self.end.layer - self.start.layer - 1

    @property
    def begins(self) -> str:
        """The box, and its output where it has several, that it starts from."""
        return f"{self.start.stage.name}.{self.tap}" if self.tap in self.start.outs else self.start.stage.name

    @property
    def way(self) -> list[tuple[float, float]]:
        """Its corners: where it leaves, both ends of each lane, and where it arrives."""
        lanes = [(x, lane.y + lane.height / 2) for lane in self.lanes for x in (lane.x, lane.x + lane.width)]
        return [self.start.leaves_at(self.tap), *lanes, (self.end.x, self.end.y + self.end.height / 2)]


@dataclass(slots=True)
class Lane:
    """The room that a long lead takes in a column that it passes."""

    lead: Lead
    x: float = 0.0
    y: float = 0.0
    width: float = BOX_WIDTH
    height: float = 8.0


def signal_map(board: Board, report: Report, preset: str | None = None, promise: int | None = None) -> str:
    """SVG of the sound's ways.

    Args:
        preset: a preset whose live way is to stand out.
        promise: a promise (counted from 0) whose proof is to stand out: the way on which it breaks, or everything that
            can be heard where it holds.
    """
    drawing = sketched(board, report, preset, promise)
    width = max((block.x + block.width for block in drawing.blocks), default=200) + MARGIN
    height = max((block.y + block.height for block in drawing.blocks), default=40) + MARGIN + 18
    shown = f", preset {preset}" if preset else f", promise {promise + 1}" if promise is not None else ""
    return svg.picture(width, height, f"{drawing.title}{shown}", in_words(drawing.leads, drawing.blocks), drawing.parts(), "signal-map")


@dataclass(frozen=True, slots=True)
class Sketch:
    """Everything with its place."""

    title: str
    blocks: list[Block]
    leads: list[Lead]
    now: Shown
    worst: dict[str, Severity]

    def parts(self) -> list[str]:
        parts = [lead_drawn(lead, self.now) for lead in self.leads]
        return parts + [part for block in self.blocks for part in block_drawn(block, self.now, self.worst)]

    @property
    def columns(self) -> dict[int, tuple[float, float]]:
        """Where each column begins and ends."""
        found: dict[int, tuple[float, float]] = {}
        for block in self.blocks:
            left, right = found.get(block.layer, (block.x, block.x))
            found[block.layer] = min(left, block.x), max(right, block.x + block.width)
        for lead in self.leads:
            for layer, lane in enumerate(lead.lanes, lead.start.layer + 1):
                found.setdefault(layer, (lane.x, lane.x + lane.width))
        return found


def sketched(board: Board, report: Report, preset: str | None = None, promise: int | None = None) -> Sketch:
    """The map before it is drawn; see ``signal_map``."""
    blocks = _blocks(board)
    leads = _leads(board, blocks)
    _place(board, blocks, leads)
    live = _live(board)
    shown = Shown(live, _proved(board), _lit(board, live, preset, promise))
    return Sketch(f"Signal map of {report.board.name or 'the board'}", list(blocks.values()), leads, shown, _worst(report))


# --- what is drawn ------------------------------------------------------------------------------------------------


def _blocks(board: Board) -> dict[str, Block]:
    cells = {name: _cells(board, stage) for name, stage in board.signal.stages.items()}
    inside = _inside(board, cells)
    plugged = {jack.thing for hop in board.audio.hops for jack in (hop.start, hop.end)}
    blocks = {}
    for name, stage in board.signal.stages.items():
        if name in inside or name not in plugged:
            continue
        jacks = dict.fromkeys(hop.start.jack for hop in board.audio.leaving.get(name, ()))
        outs = [jack for jack in jacks if jack and not is_send(jack)] if cells[name] and stage.role is not Role.AMP else []
        blocks[name] = Block(stage, cells[name], outs)
    return blocks


def _cells(board: Board, stage: Stage) -> list[_Cell]:
    """The loops, inserts and sends of a box, in the order of the sound, with what stands in each."""
    name = stage.name
    if isinstance(stage.section, Switcher):
        return _loops(name, stage.section)
    sends: dict[str, list[str]] = {}
    for hop in board.audio.leaving.get(name, ()):
        if hop.start.jack and is_send(hop.start.jack):
            sends.setdefault(hop.start.jack, []).extend(_until_back(board, name, hop.end.thing))
    cells = []
    for jack, boxes in sends.items():
        send = jack.replace("send", "").strip("_")
        known = send in (getattr(stage.section, "sends", None) or ())
        cells.append(_Cell(f"send {send}".strip(), list(dict.fromkeys(boxes)), send_switch(name, send) if known else None))
    return cells


def _until_back(board: Board, name: str, first: str) -> list[str]:
    """What the sound goes through from a send until it comes back to the same box; nothing if it does not."""
    way, here = [first], first
    while True:
        onward = {hop.end.thing for hop in board.audio.leaving.get(here, ())}
        if onward == {name}:
            return way
        if len(onward) != 1 or (here := onward.pop()) in way:
            return []
        way.append(here)


def _loops(name: str, switcher: Switcher) -> list[_Cell]:
    cells = []
    for key, loop in switcher.in_order():
        if key is None:
            cells.append(_Cell("always in", [jack.thing for jack in loop.unit or ()], None))
            continue
        members = [*(loop.unit or ()), *(end for end in (loop.send_to, loop.return_from) if end)]
        boxes = list(dict.fromkeys(jack.thing for jack in members))
        ends = (loop.send_to.thing, loop.return_from.thing) if loop.send_to and loop.return_from and not loop.unit else None
        cells.append(_Cell(f"loop {key}", boxes, loop_switch(name, key), ends if len(boxes) == 2 else None))
    return cells


def _inside(board: Board, cells: dict[str, list[_Cell]]) -> set[str]:
    """What is drawn inside another box, since all of its leads go there."""
    found = set()
    for name, own in cells.items():
        members = {box for cell in own for box in cell.boxes}
        for box in members:
            hops = [*board.audio.leaving.get(box, ()), *board.audio.arriving.get(box, ())]
            if all({hop.start.thing, hop.end.thing} <= members | {name} for hop in hops):
                found.add(box)
    return found


def _leads(board: Board, blocks: dict[str, Block]) -> list[Lead]:
    """The leads between blocks; those of a stereo pair are drawn as one."""
    pairs: dict[tuple[str, str, str | None], Lead] = {}
    for hop in board.audio.hops:
        start, end = blocks.get(hop.start.thing), blocks.get(hop.end.thing)
        if start is None or end is None or (is_send(hop.start.jack) and is_return(hop.end.jack) and start is end):
            continue
        tapped = hop.start.jack if hop.start.jack in start.outs else None
        lead = pairs.setdefault((hop.start.thing, hop.end.thing, tapped), Lead(start, end))
        lead.hops.append(hop)
    return list(pairs.values())


# --- where it is drawn --------------------------------------------------------------------------------------------


def _place(board: Board, blocks: dict[str, Block], leads: list[Lead]) -> None:
    """Columns by how far the sound has come; in each column, near what feeds it. Long leads get a lane of their own."""
    order = dict.fromkeys(blocks, 0)
    for node, place in reversed(board.signal.graph.order.items()):
        order[node.thing] = place  # the first of a thing's nodes has the last word
    onward = [lead for lead in leads if order[lead.start.stage.name] < order[lead.end.stage.name]]
    arriving: dict[int, list[Lead]] = defaultdict(list)
    for lead in onward:
        arriving[id(lead.end)].append(lead)
    for name in sorted(blocks, key=order.__getitem__):
        blocks[name].layer = max((lead.start.layer + 1 for lead in arriving[id(blocks[name])]), default=0)
    last = max((block.layer for block in blocks.values()), default=0)
    starting = {id(lead.start) for lead in onward}
    for block in blocks.values():
        if block.stage.role is Role.AMP and id(block) not in starting:
            block.layer = last
    columns: dict[int, list[Block | Lane]] = defaultdict(list)
    for block in blocks.values():
        columns[block.layer].append(block)
    for lead in onward:
        lead.lanes = [Lane(lead) for _ in range(lead.start.layer + 1, lead.end.layer)]
        for number, lane in enumerate(lead.lanes):
            columns[lead.start.layer + 1 + number].append(lane)
    labelled = {lead.start.layer for lead in leads if lead.jacks}
    leaving = Counter(lead.start.layer for lead in onward)
    x = float(MARGIN)
    for layer in sorted(columns):
        wide = max(each.width for each in columns[layer])
        for each in columns[layer]:
            each.x = x
            feeds = [_leaves(lead, layer) for lead in ([each.lead] if isinstance(each, Lane) else arriving[id(each)])]
            each.y = sum(feeds) / len(feeds) - each.height / 2 if feeds else float(MARGIN)
        _spread(columns[layer])
        x += wide + (COLUMN_GAP if layer in labelled or leaving[layer] > 1 else PLAIN_GAP)
    lowest = min((each.y for column in columns.values() for each in column), default=0.0)
    for column in columns.values():
        for each in column:
            each.y += MARGIN + 8 - lowest


def _leaves(lead: Lead, layer: int) -> float:
    """How high a lead is when it comes to a column."""
    before = layer - lead.start.layer - 2
    if lead.lanes and before >= 0:
        lane = lead.lanes[min(before, len(lead.lanes) - 1)]
        return lane.y + lane.height / 2
    return lead.start.leaves_at(lead.tap)[1]


def _spread(column: list[Block | Lane]) -> None:
    """Push apart what would overlap, and keep the column where its middle was."""
    column.sort(key=lambda each: each.y + each.height / 2)
    before = sum(each.y for each in column)
    for above, below in pairwise(column):
        below.y = max(below.y, above.y + above.height + ROW_GAP)
    shift = (sum(each.y for each in column) - before) / len(column)
    for each in column:
        each.y -= shift


# --- what is live -------------------------------------------------------------------------------------------------


def _live(board: Board) -> dict[object, list[str]]:
    """For each lead, box and switch, the presets in which it is live."""
    found: dict[object, list[str]] = defaultdict(list)
    for name, preset in board.signal.switches.presets.items():
        for mark in _marks(board.signal.live(State({}, name, ""))):
            found[mark].append(name)
        for id_, on in preset.positions.items():
            if on:
                found[id_].append(name)
    return found


def _marks(edges: list[Edge] | tuple[Edge, ...]) -> set[object]:
    """Leads, and what they join, on a way."""
    marks: set[object] = {id(edge.hop) for edge in edges if edge.hop is not None}
    return marks | {node.thing for edge in edges for node in (edge.start, edge.end) if edge.hop is not None}


def _lit(board: Board, live: dict[object, list[str]], preset: str | None, promise: int | None) -> set[object] | None:
    """What stands out; ``None`` if everything is drawn alike."""
    if preset is not None:
        return {mark for mark, presets in live.items() if preset in presets}
    if promise is not None and promise < len(board.promises):
        return _proof(board.promises[promise])
    return None


def _proof(answer: Answer) -> set[object]:
    """What shows a promise: the way on which it breaks, else the things that it rests on."""
    return _marks(answer.way) if answer.way else {*answer.behind, *answer.things}


def _proved(board: Board) -> dict[object, list[str]]:
    """For each lead and box, the numbers of the promises whose proof it belongs to."""
    found: dict[object, list[str]] = defaultdict(list)
    for number, answer in enumerate(board.promises, 1):
        for mark in _proof(answer):
            found[mark].append(str(number))
    return found


def _worst(report: Report) -> dict[str, Severity]:
    found: dict[str, Severity] = {}
    signal_rules = {each.rule for each in report.coverage if each.family == "signal"}
    for finding in report.findings:
        if finding.rule in signal_rules:
            found.setdefault(finding.things[0].name, Severity(finding.severity))
    return found


# --- drawing ------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Shown:
    """When each part of the drawing is live, and what stands out now (``None``: everything alike)."""

    live: dict[object, list[str]]
    proved: dict[object, list[str]]
    lit: set[object] | None

    def is_lit(self, mark: object) -> bool:
        return self.lit is not None and mark in self.lit

    def group(self, mark: object, parts: list[str]) -> str:
        presets = svg.clean(" ".join(self.live.get(mark, ())))
        promises = " ".join(self.proved.get(mark, ()))
        fade = "" if self.lit is None or mark in self.lit else ' opacity="0.35"'
        return f'<g data-live="{presets}" data-promises="{promises}"{fade}>{"".join(parts)}</g>'


def lead_drawn(lead: Lead, now: Shown) -> str:
    way = lead.way
    (x0, y0), (x1, y1) = way[0], way[-1]
    mark = next((id(hop) for hop in lead.hops if now.is_lit(id(hop))), id(lead.hops[0]))
    thick = 3.0 if now.is_lit(mark) else 1.5
    if x1 > x0:
        d, here = f"M{x0:g} {y0:g}", (x0, y0)
        for number in range(1, len(way) - 1, 2):
            d += bend(*here, *way[number]) + f"H{way[number + 1][0]:g}"
            here = way[number + 1]
        d += bend(*here, x1, y1)
    else:  # back to the left: below both
        low = max(lead.start.y + lead.start.height, lead.end.y + lead.end.height) + 16
        d = f"M{x0:g} {y0:g}C{x0 + 50:g} {low:g} {x1 - 50:g} {low:g} {x1:g} {y1:g}"
    parts = [svg.path(d, width=thick), arrow(x1, y1, thick)]
    if lead.jacks:
        first = way[1][1]
        beside = 13 if first > y0 and x1 > x0 else -5  # on its own side of the lead, clear of one that goes the other way
        parts.append(svg.label(x0 + 3, y0 + beside, svg.fit(lead.jacks, COLUMN_GAP, 9.5), 9.5, opacity=0.75))
    return now.group(mark, parts)


def arrow(x: float, y: float, width: float) -> str:
    return svg.path(f"M{x - 7:g} {y - 4:g}L{x:g} {y:g}L{x - 7:g} {y + 4:g}", width=width)


def bend(x0: float, y0: float, x1: float, y1: float) -> str:
    reach = min(60.0, (x1 - x0) / 2)
    return f"C{x0 + reach:g} {y0:g} {x1 - reach:g} {y1:g} {x1:g} {y1:g}"


def block_drawn(block: Block, now: Shown, worst: dict[str, Severity]) -> Iterator[str]:
    stage = block.stage
    about = stage.kind_name or ("guitar" if stage.role is Role.SOURCE else "")
    role = getattr(stage.section, "role", None)
    if stage.role is Role.AMP:
        about = " ".join(word for word in (role if role != "full" else None, stage.kind_name or "amplifier") if word)
    size = block.width - 12
    parts = [
        svg.box(block.x, block.y, block.width, block.height, opacity=0.9, radius=22 if stage.role is Role.SOURCE else 4),
        svg.label(block.x + (14 if stage.role is Role.SOURCE else 8), block.y + 19, svg.fit(stage.name, size, 13), 13, "bold"),
    ]
    if block.cells:
        parts += _inner(block, now, worst)
    else:
        parts.append(svg.label(block.x + (14 if stage.role is Role.SOURCE else 8), block.y + 35, svg.fit(about, size, 11), 11, opacity=0.8))
    if stage.name in worst:
        parts.append(svg.mark(block.x + block.width - 58, block.y - 2, worst[stage.name]))
    yield now.group(stage.name, parts)


def _inside_cell(cell: _Cell) -> list[tuple[str, float, float]]:
    """The words in a cell, each with how far down it stands and its size: on one line, or on two small ones."""
    if cell.ends:
        return [(f"to {cell.ends[0]}", 25, 10), (f"from {cell.ends[1]}", 36, 10)]
    names = " + ".join(cell.boxes) or "empty"
    if len(cell.boxes) < 2 or svg.fit(names, CELL_WIDTH - 12, 12) == names:
        return [(names, 31, 12)]
    return [(f"{cell.boxes[0]} +", 25, 10), (" + ".join(cell.boxes[1:]), 36, 10)]


def _inner(block: Block, now: Shown, worst: dict[str, Severity]) -> Iterator[str]:
    """A switcher's loops in the order of the sound, and its outputs."""
    for number, cell in enumerate(block.cells):
        row, column = divmod(number, CELLS_IN_ROW)
        x, y = block.x + 6 + column * CELL_WIDTH, block.y + HEAD + row * CELL_HEIGHT
        names = " + ".join(cell.boxes) or "empty"
        parts = [
            f"<title>{svg.clean(f'{cell.label}: {names}')}</title>",
            svg.box(x + 1, y + 1, CELL_WIDTH - 4, CELL_HEIGHT - 6, opacity=0.55, dash=not cell.boxes),
            svg.label(x + 7, y + 15, cell.label, 10, opacity=0.75),
            *(svg.label(x + 7, y + down, svg.fit(words, CELL_WIDTH - 12, size), size) for words, down, size in _inside_cell(cell)),
        ]
        mark = cell.switch or block.stage.name
        if now.is_lit(mark):
            inside = f'x="{x + 1:g}" y="{y + 1:g}" width="{CELL_WIDTH - 4:g}" height="{CELL_HEIGHT - 6:g}"'
            parts.append(f'<rect {inside} rx="4" fill="currentColor" opacity="0.14"/>')
        bad = next((worst[box] for box in cell.boxes if box in worst), worst.get(f"{block.stage.name} {cell.label}"))
        if bad is not None:
            parts.append(svg.mark(x + CELL_WIDTH - 44, y + 10, bad))
        yield now.group(mark, parts)
    described = block.stage.section.outs if isinstance(block.stage.section, Switcher) else None
    for jack in block.outs:
        x, y = block.leaves_at(jack)
        out = (described or {}).get(jack)
        tap = f" ({out.tap})" if out is not None and out.tap is not None else ""
        yield svg.label(x - 5, y + 4, svg.fit(f"{jack}{tap}", 110, 10), 10, anchor="end", opacity=0.85)


def in_words(leads: list[Lead], blocks: list[Block]) -> str:
    """The drawing in words: what stands in each loop, and every lead."""
    told = []
    for block in blocks:
        inner = "; ".join(f"{cell.label}: {' and '.join(cell.boxes) or 'empty'}" for cell in block.cells)
        if inner:
            told.append(f"{block.stage.name} has {inner}.")
    arrows = [f"{hop.start} to {hop.end}" for lead in leads for hop in lead.hops]
    return " ".join([*told, f"Leads: {', '.join(arrows)}." if arrows else "No sound is described."])
