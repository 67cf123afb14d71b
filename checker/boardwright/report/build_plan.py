"""The build plan with what to read at each step: for a terminal, for programs, and as a sheet to take to the bench."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from textwrap import wrap

from boardwright.board.assemble import Board
from boardwright.board.bench.expected import Expected
from boardwright.board.bench.plan import MAINS_FIRST, PlanStep
from boardwright.board.bench.taken import Taken, taken
from boardwright.report import svg

WIDTH = 80
HEADS = ("where", "what", "good reading", "read")
NOTHING = "Nothing is described that could be built yet."
_CONDITIONS = {"no-load": "nothing connected", "loaded": "everything on", "unplugged": "mains plugs out"}


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """A reading to take, in words."""

    where: str
    what: str
    due: str
    how: str
    got: str | None
    """What was read, if it stands in ``readings``."""
    agrees: bool | None


@dataclass(frozen=True, slots=True)
class StepRow:
    """A step of the plan, in words."""

    number: int
    do: str
    row: int | None
    of: str | None
    title: str
    things: list[str]
    leads: list[str]
    readings: list[ReadingRow]
    note: str
    done: bool


def build_plan(board: Board) -> list[StepRow]:
    """The plan of a board, for pages and programs."""
    read = list(taken(board))
    return [
        StepRow(step.number, step.do, step.row, step.of, step.title, list(step.things), list(step.leads), list(_readings(step, read)), step.note, step.done)
        for step in board.plan
    ]


def _readings(step: PlanStep, read: list[Taken]) -> Iterator[ReadingRow]:
    for expected in step.readings:
        found = next((each for each in read if _answers(each, expected)), None)
        got = None if found is None else str(found.got)
        agrees = None if found is None else expected.agrees(found.got)
        yield ReadingRow(" to ".join(expected.where), said(expected), expected.window, expected.how, got, agrees)


def _answers(each: Taken, expected: Expected) -> bool:
    """Whether a reading was taken of just this."""
    if len(expected.where) == 2:
        return set(each.where) == set(expected.where) and each.reading.what == expected.what
    if expected not in each.expected:
        return False
    return each.reading.condition == expected.condition or expected.condition != "loaded" or expected.what == "current"


def said(expected: Expected) -> str:
    """What is looked at, in words."""
    parts = [expected.what, *([expected.of.replace("-", " ")] if expected.of else [])]
    parts += [_CONDITIONS.get(expected.condition, expected.condition)] if expected.condition else []
    parts += [f"preset {expected.preset}"] if expected.preset else []
    return ", ".join(parts)


# --- text ---------------------------------------------------------------------------------------------------------


def to_text(board: Board) -> str:
    """The plan for a terminal, at 80 columns."""
    return "\n".join(_lines(build_plan(board))).rstrip() + "\n"


def _lines(steps: list[StepRow]) -> Iterator[str]:
    if not steps:
        yield NOTHING
        return
    for step in steps:
        done = " (done)" if step.done else ""
        yield f"{step.number}. {step.title}{done}"
        if step.things:
            yield from _folded(", ".join(step.things))
        for lead in step.leads if step.do != "label" else ():
            yield from _folded(lead, "    - ")
        yield from _folded(step.note)
        how = ""
        width = min(22, max((len(row.where) for row in step.readings), default=0))
        for row in step.readings:
            if row.how != how:
                how = row.how
                yield from _folded(how, "    How: ")
            got = "" if row.got is None else f"; read {row.got}{'' if row.agrees is not False else ', which is not as it should be'}"
            yield from _folded(f"{row.where:<{width}}  {row.what}: {row.due}{got}", "    [ ] " if row.got is None else "    [x] ")
        yield ""


def _folded(text: str, first: str = "    ") -> Iterator[str]:
    if text:
        yield from wrap(text, WIDTH, initial_indent=first, subsequent_indent=" " * len(first) if first.endswith("] ") else "      ", break_on_hyphens=False)


# --- printable sheet ----------------------------------------------------------------------------------------------


def to_sheet(board: Board) -> str:
    """The plan as a page to print: a box to tick for each step, a blank to write in for each reading."""
    name = svg.clean((board.spec.board.name if board.spec.board else None) or "board")
    return _SHEET.format(name=name, caution=svg.clean(MAINS_FIRST), body="\n".join(sheet_body(board)))


def sheet_body(board: Board) -> Iterator[str]:
    """The steps as HTML, without the page around them."""
    steps = build_plan(board)
    if not steps:
        yield f"<p>{NOTHING}</p>"
    for step in steps:
        box = "☒" if step.done else "☐"
        yield f"<section class='step'><h2><span class='tick'>{box}</span> {step.number}. {svg.clean(step.title)}</h2>"
        if step.things:
            yield f"<p>{svg.clean(', '.join(step.things))}</p>"
        if step.leads and step.do != "label":
            yield "<ul>" + "".join(f"<li>{svg.clean(lead)}</li>" for lead in step.leads) + "</ul>"
        if step.note and step.note != MAINS_FIRST:
            yield f"<p>{svg.clean(step.note)}</p>"
        yield from _table(step)
        yield "</section>"


def _table(step: StepRow) -> Iterator[str]:
    how = None
    for row in step.readings:
        if row.how != how:
            if how is not None:
                yield "</tbody></table>"
            how = row.how
            heads = "".join(f"<th>{head}</th>" for head in HEADS)
            yield f"<p class='how'>{svg.clean(how)}</p><table><thead><tr>{heads}</tr></thead><tbody>"
        cells = "".join(f"<td>{svg.clean(cell)}</td>" for cell in (row.where, row.what, row.due))
        yield f"<tr>{cells}<td class='read'>{svg.clean(row.got or '')}</td></tr>"
    if how is not None:
        yield "</tbody></table>"


_SHEET = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>{name}: build plan and readings</title>
<style>
@page {{ size: A4; margin: 12mm; }}
body {{ font: 10pt/1.35 system-ui, sans-serif; color: #000; background: #fff; max-width: 186mm; margin: 0 auto; padding: 0 2mm; }}
h1 {{ font-size: 14pt; }} h2 {{ font-size: 11pt; margin: 4mm 0 1mm; break-after: avoid; }}
p, ul {{ margin: 1mm 0; }} ul {{ columns: 60mm; padding-left: 5mm; font-size: 9pt; }}
.how {{ font-size: 9pt; break-after: avoid; }}
.caution {{ border: 0.5mm solid #000; padding: 2mm; font-weight: bold; }}
table {{ border-collapse: collapse; width: 100%; font-size: 9pt; }}
th, td {{ border: 0.3mm solid #888; padding: 0.8mm 1.4mm; text-align: left; overflow-wrap: anywhere; }}
tr {{ break-inside: avoid; }} thead {{ display: table-header-group; }}
.read {{ min-width: 26mm; }}
</style>
</head>
<body>
<h1>{name}: build plan and readings</h1>
<p class="caution">{caution}</p>
{body}
<p>When the meter and this sheet disagree, believe the meter, and find out why before you go on.</p>
</body>
</html>
"""
