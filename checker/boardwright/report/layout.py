"""The layout: the board from above, to scale, with its leads, and what is wrong marked where it is."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap

from boardwright.board.assemble import Board
from boardwright.board.layout.balance import balance_of, loads_of
from boardwright.board.layout.geometry import Rect
from boardwright.report import svg
from boardwright.report.plan import DASHES, Plan, use_of
from boardwright.report.report import Report
from boardwright.rules.registry import RULES
from boardwright.rules.verdict import Severity
from boardwright.spec.figure import tell

FAMILIES = ("layout", "routing")
LEFT, TOP, RIGHT, BOTTOM = 84, 30, 44, 92
LEAST_WIDTH, NARROWEST, WIDEST = 560, 1.0, 2.0
"""Small boards are drawn larger, in drawing units for each millimetre; the page scrolls sideways for big ones."""
LARGEST, MOST_OUT = 1600, 160
"""In drawing units: a frame is drawn no larger, and what stands beyond it is cut off there."""
LABELLED = 24
"""With more leads than this, their labels are left to the full-size print and the cut list."""


def layout(board: Board, report: Report, text: float = 11.0) -> str:
    """SVG of the layout, with letters of the size ``text`` (drawing units). Without places it says so."""
    name = report.board.name or "the board"
    plan = Plan(board, 1.0, LEFT, TOP, text)
    extent = plan.extent
    if extent is None or (not any(box.footprint for box in board.layout.boxes.values()) and not board.layout.runs):
        said = "No places are described: write `size` and `at` for the boxes, or the `row` that each stands in."
        return svg.picture(LEAST_WIDTH, 60, f"Layout of {name}", said, [svg.label(16, 36, said.replace("`", ""), 12)], "layout")
    plan.scale = min(WIDEST, max(NARROWEST, (740 - LEFT - RIGHT) / (extent.width * 1000)))
    plan.scale = min(plan.scale, LARGEST / (max(extent.width, extent.depth) * 1000))
    left, front, right, back = (min(plan.length(out), MOST_OUT) for out in plan.stands_out)
    plan.left, plan.top = LEFT + left, TOP + back
    width = max(LEAST_WIDTH, plan.left + plan.length(extent.width) + right + RIGHT)
    notes = wrap("; ".join(_notes(board)), int((width - LEFT) / (0.56 * text)), break_on_hyphens=False)
    height = plan.top + plan.length(extent.depth) + front + BOTTOM + 1.4 * text * max(0, len(notes) - 1)
    leads = board.layout.ways
    parts = [
        *plan.frame(),
        *plan.boxes(below=True),
        *plan.leads(labels=len(leads) <= LABELLED),
        *plan.runs_alone(),
        *plan.openings(),
        *plan.boxes(below=False),
        *plan.balance(),
        *_heights(plan, extent),
        *_marks(plan, report),
        *_foot(plan, board, extent, plan.top + plan.length(extent.depth) + front, notes),
    ]
    proposed = " (proposed places)" if board.layout.is_proposed else ""
    return svg.picture(round(width), round(height), f"Layout of {name}{proposed}", _description(board), parts, "layout")


def _heights(plan: Plan, extent: Rect) -> Iterator[str]:
    """The rise of each row, beside the frame."""
    rows = plan.board.layout.deck.rows
    for row in rows if plan.board.layout.deck.frame.rows else ():
        x, y = plan.at((extent.left, (max(row.front, extent.front) + min(row.back, extent.back)) / 2))
        yield svg.label(x - 8, round(y), f"row {row.number}", plan.text, anchor="end", opacity=0.8)
        yield svg.label(x - 8, round(y + 1.2 * plan.text), f"+{row.rise * 1000:.0f} mm" if row.rise else "deck", plan.text, anchor="end", opacity=0.8)


def _marks(plan: Plan, report: Report) -> Iterator[str]:
    """Findings of layout and routing, on the box or run that each is mainly about."""
    worst: dict[str, Severity] = {}
    for finding in report.findings:
        if RULES[finding.rule].family in FAMILIES:
            worst.setdefault(finding.things[0].name, Severity(finding.severity))
    boxes = plan.board.layout.boxes
    for name, severity in worst.items():
        rect = boxes[name].footprint if name in boxes else None
        if rect is not None:
            x, y, _, height = plan.rect(rect)
            below = boxes[name].under  # its mark stays clear of those of boxes above it
            yield svg.mark(round(x + 10, 1), round(y + (height - 10 if below else 11), 1), severity)
            continue
        points = next((run.points for run in plan.board.layout.runs if run.name == name and run.has_way), None)
        points = points or next((way.way.points for way in plan.board.layout.ways if name in (way.lead.joins, way.lead.label)), None)
        if points:
            x, y = plan.at(points[len(points) // 2])
            yield svg.mark(round(x, 1), round(y, 1), severity)


def _foot(plan: Plan, board: Board, extent: Rect, below: float, notes: list[str]) -> Iterator[str]:
    """Which side is the player's, the scale, what lines mean, and the notes."""
    y, size = below + 18, plan.text
    yield svg.label(plan.left + plan.length(extent.width) / 2, y - 3, "player's side", size, anchor="middle", opacity=0.8)
    bar = plan.length(0.1)
    yield svg.path(f"M{LEFT} {y:g}v6m0 -3h{bar:g}m0 -3v6", 1.2)
    yield svg.label(LEFT + bar + 8, y + 7, "100 mm", size)
    x = float(LEFT)
    used = {use_of(each.lead.carries) for each in board.layout.ways} | {use_of(run.carries or "audio") for run in board.layout.runs}
    y += 26
    for use, dash in DASHES.items():
        if use in used:
            dashed = f' stroke-dasharray="{dash}"' if dash else ""
            yield f'<path d="M{x:g} {y:g}h28" fill="none" stroke="currentColor" stroke-width="1.3"{dashed}/>'
            yield svg.label(x + 34, y + 4, use, size)
            x += 40 + 0.73 * size * len(use)
    if any(1 in each.way.layers for each in board.layout.ways):
        yield svg.path(f"M{x:g} {y:g}h28", 0.9, 0.4)
        yield svg.label(x + 34, y + 4, "below the deck", size)
    for number, line in enumerate(notes):
        yield svg.label(LEFT, y + 24 + round(1.4 * size * number, 1), line, size, opacity=0.8)


def _notes(board: Board) -> list[str]:
    """What is proposed, what found no way, what marks mean, and the weight."""
    notes = []
    notes += _proposals(board)
    forced = [each.lead.label for each in board.layout.ways if each.way.forced]
    if forced:
        notes.append(f"no free way for {', '.join(forced[:6])}{' and more' if len(forced) > 6 else ''}")
    if balance_of(board.layout) is not None:
        notes.append("quartered circle: balance point")
    loads = loads_of(board.layout)
    if loads:
        weight = sum(load.weight.value for load in loads)
        notes.append(f"boxes weigh about {tell(weight, 'g')}")
    return notes


def _proposals(board: Board) -> Iterator[str]:
    """How many of the drawn ways and places are ours and not the text's."""
    ways, boxes = board.layout.ways, [box for box in board.layout.boxes.values() if box.footprint is not None]
    for what, ours, all_ in (
        ("ways", sum(each.proposed for each in ways), len(ways)),
        ("places (dashed)", sum(box.proposed for box in boxes), len(boxes)),
    ):
        if ours:
            yield f"{'all' if ours == all_ else f'{ours} of {all_}'} {what} are proposals"


def _description(board: Board) -> str:
    """The layout in words: what stands in each row, from left to right, and what hangs below."""
    found = board.layout
    told = []
    standing = [box for box in found.boxes.values() if box.footprint is not None and not box.under]
    for row in found.deck.rows or ():
        boxes = sorted((box for box in standing if box.row is row), key=lambda box: box.corner or (0, 0))
        if boxes:
            rise = f", raised {row.rise * 1000:.0f} mm" if row.rise else ""
            told.append(f"Row {row.number}{rise}, from the left: {', '.join(box.name for box in boxes)}.")
    if not found.deck.rows and standing:
        told.append(f"On the deck: {', '.join(box.name for box in standing)}.")
    hanging = [box.name for box in found.hanging if box.footprint is not None]
    if hanging:
        told.append(f"Below the deck: {', '.join(hanging)}.")
    told.append(f"{len(found.ways)} leads are drawn.")
    return " ".join(told)
