"""The board in its true size, over as many A4 sheets as it takes: an HTML page that prints one to one."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from boardwright.board.assemble import Board
from boardwright.report import svg
from boardwright.report.plan import Plan

PAGE = (210.0, 297.0)
"""A4, portrait (mm)."""
MARGIN = 7.0
"""What printers leave white (mm)."""
FOOT = 12.0
"""Strip below the window for the scale bar and the sheet's name (mm)."""
OVERLAP = 8.0
"""By how much neighbouring windows show the same (mm)."""
MOST_SHEETS = 100
"""A frame that takes more is a slip of the pen."""
FINE = 4.0
"""Drawing units for each millimetre inside the plan, so that its lines are a quarter of a millimetre thick."""


@dataclass(frozen=True, slots=True)
class Sheets:
    """How a board is laid over sheets: page and window sizes, and how many sheets across and down. All in mm."""

    page: tuple[float, float]
    window: tuple[float, float]
    across: int
    down: int

    @property
    def step(self) -> tuple[float, float]:
        return self.window[0] - OVERLAP, self.window[1] - OVERLAP

    @property
    def count(self) -> int:
        return self.across * self.down


def lay_out(width: float, depth: float) -> Sheets:
    """The way round that takes fewer sheets, for a plan of this size (mm)."""
    choices = []
    for page in (PAGE, (PAGE[1], PAGE[0])):
        window = page[0] - 2 * MARGIN, page[1] - 2 * MARGIN - FOOT
        across, down = (max(1, math.ceil((size - OVERLAP) / (span - OVERLAP) - 1e-9)) for size, span in zip((width, depth), window, strict=True))
        choices.append(Sheets(page, window, across, down))
    return min(choices, key=lambda sheets: sheets.count)


def print_sheets(board: Board) -> str | None:
    """The page, or ``None`` where nothing has a place, or the frame is as large as a room. Needs nothing from anywhere else; print it at 100 %."""
    border = 5.0  # round the frame, for what stands out
    plan = Plan(board, FINE, border * FINE, border * FINE, text=3.2 * FINE)
    if plan.extent is None:
        return None
    width, depth = plan.extent.width * 1000 + 2 * border, plan.extent.depth * 1000 + 2 * border
    sheets = lay_out(width, depth)
    if sheets.count > MOST_SHEETS:
        return None
    drawn = "\n".join(
        [
            *plan.frame(),
            *plan.boxes(below=True),
            *plan.leads(labels=True),
            *plan.runs_alone(),
            *plan.openings(),
            *plan.boxes(below=False),
            *plan.balance(),
        ]
    )
    name = (board.spec.board.name if board.spec.board else None) or "board"
    body = "\n".join(_sheet(sheets, row, column, name, width, depth) for row in range(sheets.down) for column in range(sheets.across))
    return _PAGE.format(
        name=svg.clean(name),
        width=f"{sheets.page[0]:g}",
        height=f"{sheets.page[1]:g}",
        count=sheets.count,
        drawn=drawn,
        fine=f"{1 / FINE:g}",
        body=body,
    )


def _sheet(sheets: Sheets, row: int, column: int, name: str, width: float, depth: float) -> str:
    x0, y0 = column * sheets.step[0], row * sheets.step[1]
    wide, high = sheets.window
    page_wide, page_high = sheets.page
    number = row * sheets.across + column + 1
    where = f"sheet {number} of {sheets.count} (row {row + 1}, column {column + 1})"
    room = page_wide - 2 * MARGIN - 108
    parts = [
        f'<svg x="{MARGIN:g}" y="{MARGIN:g}" width="{wide:g}" height="{high:g}" viewBox="{x0:g} {y0:g} {wide:g} {high:g}" overflow="hidden">',
        '<use href="#plan"/>',
        *_crosses(sheets, row, column, width, depth),
        "</svg>",
        *_bar(MARGIN, page_high - MARGIN - 4),
        f'<text x="{MARGIN + 108:g}" y="{page_high - MARGIN - 6.6:g}" font-size="3">{svg.clean(svg.fit(name, room, 3))}</text>',
        f'<text x="{MARGIN + 108:g}" y="{page_high - MARGIN - 2.8:g}" font-size="2.8">{where}</text>',
        f'<text x="{MARGIN + 108:g}" y="{page_high - MARGIN + 0.6:g}" font-size="2.4">The bar must measure 100 mm: print at 100 %, unfitted.</text>',
    ]
    return (
        f'<section class="sheet"><svg xmlns="http://www.w3.org/2000/svg" width="{page_wide:g}mm" height="{page_high:g}mm" '
        f'viewBox="0 0 {page_wide:g} {page_high:g}" role="img" aria-label="{svg.clean(name)}: {where}">\n' + "\n".join(parts) + "\n</svg></section>"
    )


def _crosses(sheets: Sheets, row: int, column: int, width: float, depth: float) -> Iterator[str]:
    """Marks in the middle of each overlap, at the same places of the board on both sheets; laid on one another, they fit."""
    half = OVERLAP / 2
    for down in (row, row + 1):
        for across in (column, column + 1):
            x, y = across * sheets.step[0] + half, down * sheets.step[1] + half
            cross = f'<path d="M{x - 4:g} {y:g}h8M{x:g} {y - 4:g}v8"/><circle cx="{x:g}" cy="{y:g}" r="2"/>'
            yield f'<g stroke="#000" stroke-width="0.15" fill="none" class="register">{cross}</g>'
            beside = f'x="{x - 2.6:g}" text-anchor="end"' if across > column else f'x="{x + 2.6:g}"'
            yield f'<text {beside} y="{y - 1.2:g}" font-size="2.4">{chr(65 + down % 26)}{across + 1}</text>'


def _bar(x: float, y: float) -> Iterator[str]:
    """100 mm, a tick every 10."""
    ticks = "".join(f"M{x + 10 * number:g} {y:g}v{-3 if number % 5 == 0 else -1.6:g}" for number in range(11))
    yield f'<path d="M{x:g} {y:g}h100{ticks}" stroke="#000" stroke-width="0.2" fill="none" class="scale-bar"/>'
    yield f'<text x="{x:g}" y="{y + 3.4:g}" font-size="2.6">0</text>'
    yield f'<text x="{x + 100:g}" y="{y + 3.4:g}" font-size="2.6" text-anchor="middle">100 mm</text>'


_PAGE = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<title>{name}, full size</title>
<style>
@page {{ size: {width}mm {height}mm; margin: 0; }}
html, body {{ margin: 0; padding: 0; color: #000; background: #fff; font-family: system-ui, sans-serif; }}
.sheet {{ width: {width}mm; height: {height}mm; overflow: hidden; break-after: page; break-inside: avoid; }}
.sheet:last-child {{ break-after: auto; }}
.sheet > svg {{ display: block; }}
@media screen {{
  body {{ background: #777; }}
  .how {{ max-width: 60ch; margin: 1rem auto; padding: 1rem; background: #fff; }}
  .sheet {{ margin: 1rem auto; background: #fff; }}
}}
@media print {{ .how {{ display: none; }} }}
</style>
</head>
<body>
<div class="how">
<h1>{name}, full size</h1>
<p>{count} sheets of A4. Print them at 100 %, without fitting to the page, and measure the bar at the foot of each: it must
be 100 mm. Lay the sheets over one another so that the crosses of the same name meet, and tape them.</p>
</div>
<svg width="0" height="0" style="position:absolute" aria-hidden="true"><defs><g id="plan" transform="scale({fine})">
{drawn}
</g></defs></svg>
{body}
</body>
</html>
"""
