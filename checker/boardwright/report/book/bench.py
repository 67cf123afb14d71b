"""How it is built and tested, row by row, with every reading to expect and room for what was read."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from boardwright.board.bench.plan import MAINS_FIRST
from boardwright.report.book.chapter import Absent, Book
from boardwright.report.book.markup import BLANK, TICK, Child, Html, paragraph, prose, table, tag
from boardwright.report.build_plan import ReadingRow, StepRow, build_plan

MOST_COLUMNS = 3
"""Readings of one thing that stand side by side."""


def pieces(book: Book) -> list[Html] | Absent:
    steps = build_plan(book.board)
    if not steps:
        return Absent("nothing is described that could be built.")
    parts = [tag("div", paragraph(MAINS_FIRST), class_="boxed"), *_how(steps)]
    for do, group in groupby(steps, key=lambda step: step.do):
        same = list(group)
        parts += [_loops(same)] if do == "loop" and len(same) > 1 else [_step(step) for step in same]
    return [*parts, paragraph("When the meter and this book disagree, believe the meter, and find out why before you go on.")]


def _how(steps: list[StepRow]) -> Iterator[Html]:
    """How each kind of reading is taken, said once."""
    ways: dict[str, list[str]] = {}
    for step in steps:
        for row in step.readings:
            ways.setdefault(row.how, [])
            what = "sound" if row.what.startswith("sound") else row.what
            if what not in ways[row.how]:
                ways[row.how].append(what)
    if ways:
        yield tag("h3", "How each reading is taken")
        yield tag("ul", [tag("li", tag("strong", ", ".join(whats)), ": ", prose(how)) for how, whats in ways.items()])


def _step(step: StepRow) -> Html:
    return tag(
        "div",
        tag("h3", _tick(step), f" {step.number}. {step.title}"),
        tag("p", ", ".join(step.things), class_="lead-in") if step.things else None,
        tag("p", "; ".join(step.leads), class_="lead-in small") if step.leads and step.do != "label" else None,
        paragraph(step.note) if step.note and step.note != MAINS_FIRST else None,
        _readings(step.readings),
    )


def _loops(steps: list[StepRow]) -> Html:
    """Loops are laid one after the other, all in the same way."""
    rows = [(_tick(step), step.of or step.title, "; ".join(step.leads), [_due(row) for row in step.readings]) for step in steps]
    return tag(
        "div",
        tag("h3", f"{steps[0].number} to {steps[-1].number}. The loops, one by one"),
        tag("p", prose(steps[0].note), class_="lead-in"),
        table(("done", "loop", "leads", "good reading"), rows, "ticked"),
    )


def _tick(step: StepRow) -> Child:
    return tag("span", "✓", class_="tick") if step.done else TICK


def _readings(readings: Sequence[ReadingRow]) -> list[Html]:
    """A table for all things that are looked at in the same ways, side by side; of many ways, one below the other."""
    ways: dict[str, dict[str, ReadingRow]] = {}
    for row in readings:
        ways.setdefault(row.where, {})[row.what] = row
    alike: dict[tuple[str, ...], list[str]] = {}
    for thing, found in ways.items():
        alike.setdefault(tuple(found), []).append(thing)
    tables = []
    for whats, things in alike.items():
        if len(whats) > MOST_COLUMNS:
            rows = [(thing, what, _due(ways[thing][what])) for thing in things for what in whats]
            tables.append(table(("where", "what", "good reading and what was read"), rows))
        else:
            tables.append(table(("where", *whats), [(thing, *(_due(ways[thing][what]) for what in whats)) for thing in things]))
    return tables


def _due(row: ReadingRow) -> Html:
    """The good reading, and beside it what was read, or a line for it."""
    if row.got is None:
        return tag("div", tag("span", row.due), BLANK, class_="due")
    wrong = ", which is not as it should be" if row.agrees is False else ""
    return tag("div", tag("span", row.due), tag("strong", f" read {row.got}{wrong}"), class_="due")
