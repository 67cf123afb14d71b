"""``{{ plan FILE }}``: the build plan of a board, each step folded away with the readings to expect at it."""

from __future__ import annotations

from collections.abc import Iterator

from markupsafe import Markup

from boardwright.report.build_plan import HEADS, NOTHING, StepRow, build_plan
from boardwright.site.boards import ShownBoard
from boardwright.site.markup import fold, prose, rows, table, tag, text


def plan(shown: ShownBoard) -> Markup:
    steps = build_plan(shown.board)
    if not steps:
        return tag("p", {}, NOTHING)
    return text(_step(step) for step in steps)


def _step(step: StepRow) -> Markup:
    said = f"{step.number}. {step.title}" + (" (done)" if step.done else "")
    names = ", ".join(f"`{name}`" for name in step.things)
    leads = tag("ul", {}, [tag("li", {}, lead) for lead in step.leads]) if step.leads and step.do != "label" else None
    return fold(said, tag("p", {}, prose(names)) if names else None, leads, tag("p", {}, prose(step.note)) if step.note else None, list(_readings(step)))


def _readings(step: StepRow) -> Iterator[Markup]:
    for how in dict.fromkeys(row.how for row in step.readings):
        each = [(row.where, row.what, row.due, row.got or "") for row in step.readings if row.how == how]
        yield text([tag("p", {}, how), table(f"Readings of step {step.number}", HEADS, rows(each))])
