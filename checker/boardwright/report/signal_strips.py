"""The signal map cut between its columns, for paper: strips that are read like the lines of a text."""

from __future__ import annotations

from boardwright.board.assemble import Board
from boardwright.report import svg
from boardwright.report.report import Report
from boardwright.report.signal_map import MARGIN, Lead, Sketch, arrow, bend, block_drawn, in_words, lead_drawn, sketched

STUB, STUB_LINE = 112, 22
"""Room beside a strip for leads that go on elsewhere: with their words, and of the line alone."""


def signal_strips(board: Board, report: Report, widest: float) -> list[str]:
    """The signal map cut between its columns into strips, to be read like lines of a text.

    A lead that goes on in another strip ends in an arrow that says where to, and begins again with where from.

    Args:
        widest: how broad a strip may be, in drawing units. A single column that is broader stays whole.
    """
    sketch = sketched(board, report)
    columns = sketch.columns
    strips: list[list[int]] = []
    for layer, (_, right) in sorted(columns.items()):
        stubs = STUB * ((len(strips) > 1) + (layer < max(columns)))
        if strips and right - columns[strips[-1][0]][0] + stubs + 2 * MARGIN <= widest:
            strips[-1].append(layer)
        else:
            strips.append([layer])
    return [_strip(sketch, layers, number, len(strips)) for number, layers in enumerate(strips, 1)]


def _strip(sketch: Sketch, layers: list[int], number: int, count: int) -> str:
    """Some columns as a drawing of their own."""
    columns = sketch.columns
    left, right = columns[layers[0]][0], max(columns[layer][1] for layer in layers)
    blocks = [block for block in sketch.blocks if block.layer in layers]
    parts, shown = [], []
    coming: dict[float, list[str]] = {}
    going: dict[float, list[str]] = {}
    heights = [y for block in blocks for y in (block.y, block.y + block.height)]
    for lead in sketch.leads:
        inside = [layer in layers for layer in (lead.start.layer, lead.end.layer)]
        if all(inside):
            parts.append(lead_drawn(lead, sketch.now))
            shown.append(lead)
        elif any(inside) or (lead.has_lanes and lead.start.layer < layers[0] <= layers[-1] < lead.end.layer):
            way = _piece(lead, layers, left - STUB_LINE, right + STUB_LINE)
            heights += [y for _, y in way]
            shown.append(lead)
            parts.append(sketch.now.group(id(lead.hops[0]), _way_drawn(way)))
            if not inside[0]:
                coming.setdefault(round(way[0][1]), []).append(lead.begins)
            if not inside[1]:
                going.setdefault(round(way[-1][1]), []).append(lead.end.stage.name)
    parts += [part for block in blocks for part in block_drawn(block, sketch.now, sketch.worst)]
    parts += _stub_labels(coming, left - STUB_LINE - 4, "from", "end") + _stub_labels(going, right + STUB_LINE + 4, "to", "start")
    stubs = [y + 12 * max(0, len(set(names)) - 1) for group in (coming, going) for y, names in group.items()]
    x, y = left - (STUB if coming else MARGIN), min(heights) - MARGIN - 8
    size = right + (STUB if going else MARGIN) - x, max([*heights, *stubs]) + MARGIN + 8 - y
    title = sketch.title if count == 1 else f"{sketch.title}, strip {number} of {count}"
    return svg.picture(*size, title, in_words(shown, blocks), parts, f"signal-map-{number}", at=(x, y))


def _piece(lead: Lead, layers: list[int], left: float, right: float) -> list[tuple[float, float]]:
    """The corners of a lead within a strip: level between each pair, bent from pair to pair."""
    way = lead.way
    if not lead.has_lanes:
        return [way[0], (right, way[0][1])] if lead.start.layer in layers else [(left, way[-1][1]), way[-1]]
    pairs = [[way[0], way[0]], *([way[2 * n + 1], way[2 * n + 2]] for n in range(len(lead.lanes))), [way[-1], way[-1]]]
    kept = [pair for layer, pair in enumerate(pairs, lead.start.layer) if layer in layers]
    if lead.start.layer < layers[0]:
        kept[0] = [(left, kept[0][0][1]), kept[0][1]]
    if lead.end.layer > layers[-1]:
        kept[-1] = [kept[-1][0], (right, kept[-1][1][1])]
    return [corner for pair in kept for corner in pair]


def _way_drawn(way: list[tuple[float, float]]) -> list[str]:
    d, here = f"M{way[0][0]:g} {way[0][1]:g}", way[0]
    for x, y in way[1:]:
        d += f"H{x:g}" if y == here[1] else bend(*here, x, y)
        here = x, y
    return [svg.path(d), arrow(*here, 1.5)]


def _stub_labels(groups: dict[float, list[str]], x: float, word: str, anchor: str) -> list[str]:
    """What the leads that leave or enter at one height lead to, one below the other."""
    lines = [(y + 4 + 12 * place, f"{word} {name}") for y, names in groups.items() for place, name in enumerate(dict.fromkeys(names))]
    return [svg.label(x, y, svg.fit(words, STUB - STUB_LINE - 8, 10), 10, anchor=anchor) for y, words in lines]
