"""The report as Markdown: the same words as the plain text, for a message, a forum or a notebook.

CommonMark with the tables of GitHub Flavored Markdown. Whatever stands in the board is text here too: no name of a pedal
becomes a link, a picture, a heading or HTML.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from boardwright.report.hunt import HuntPlan
from boardwright.report.report import Finding, Promise, Question, Report
from boardwright.report.text import (
    ACCEPTED,
    CHECK_FIRST,
    COVERAGE,
    COVERAGE_HEAD,
    HEADINGS,
    HUNTING,
    PROMISES,
    READINGS,
    READINGS_HEAD,
    UNDECIDED,
    UNREAD,
    asked,
    coverage_rows,
    figure_tables,
    hunt_length,
    line_of,
    reading_rows,
    readings_told,
    seen,
    tell_number,
)
from boardwright.rules.verdict import Severity

_CODE = re.compile(r"`([^`\n]+)`")
_MARKUP = re.compile(r"[\\`*_\[\]|]|(?<=:)/(?=/)")
_BEGINS = re.compile(r"^(\s*\d{0,9})([-+=.)])(?=[-=\s]|$)")
"""What makes a list or a heading of a line, where it stands first."""
_ENTITIES = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", "~": "&#126;", "@": "&#64;", "#": "&#35;"})


def to_markdown(report: Report, base: str = "") -> str:
    """The whole report, ending with the coverage table.

    Args:
        base: address of a site with the lessons, ending in a slash; without one, lessons are named and not linked.
    """
    return "\n".join(_lines(report, base)).rstrip() + "\n"


def _lines(report: Report, base: str) -> Iterator[str]:
    yield from (f"# {_text(report.board.name or 'A board')}", "", _prose(report.headline), "")
    if report.problems:
        yield from _heading(UNREAD)
        for problem in report.problems:
            yield f"- **{line_of(problem.at)}:** {_prose(problem.message)}"
            if problem.expected:
                yield f"  - May stand here: {_prose(problem.expected)}"
        if report.skipped:
            yield from ("", f"Not judged because of this: {', '.join(map(_code, report.skipped))}.")
        yield ""
    for severity in Severity:
        findings = [finding for finding in report.findings if finding.severity == severity]
        if findings:
            yield from _heading(HEADINGS[severity])
            for finding in findings:
                yield from _finding(finding, base)
            yield ""
        if severity is Severity.DANGER and report.check_first:
            yield from _questions(CHECK_FIRST, report.check_first)
    if report.hunt:
        yield from _hunt(report.hunt)
    if report.undecided:
        yield from _questions(UNDECIDED, report.undecided)
    if report.accepted or report.unused_accepts:
        yield from _heading(ACCEPTED)
        for accepted in report.accepted:
            yield f"- **{line_of(accepted.at)}:** {_prose(accepted.sentence)} Accepted: {_prose(accepted.because)}. ({_code(accepted.rule)})"
        for unused in report.unused_accepts:
            yield f"- **{line_of(unused.at)}:** {_code(unused.rule)} is accepted for nothing. {_prose(unused.why)}"
        yield ""
    if report.promises:
        yield from _heading(PROMISES)
        for promise in report.promises:
            yield from _promise(promise)
        yield ""
    if report.readings:
        yield from (*_heading(READINGS), readings_told(report), "")
        if rows := reading_rows(report):
            yield from (*_table(READINGS_HEAD, rows), "")
    for title, head, rows in figure_tables(report):
        yield from _heading(title)
        yield from _table(head, rows)
        yield ""
    yield from _heading(COVERAGE)
    if rows := coverage_rows(report.coverage):
        yield from _table(COVERAGE_HEAD, [(_Written(_code(rule)), *counts) for rule, *counts in rows])
        yield ""
    if rest := [each.rule for each in report.coverage if each.not_applicable]:
        yield f"Nothing described that these look at: {', '.join(map(_code, rest))}."


def _heading(words: str) -> tuple[str, str]:
    return f"## {words}", ""


def _finding(finding: Finding, base: str) -> Iterator[str]:
    yield f"- **{finding.severity}, {line_of(finding.at)}:** {_prose(finding.sentence)}"
    if finding.witness:
        yield f"  - Seen {_prose(finding.witness)}."
    yield f"  - Mend: {_prose(finding.remedy)}"
    if finding.numbers:
        yield f"  - {_prose('; '.join(map(tell_number, finding.numbers)))}"
    for folded in finding.folded:
        yield f"  - Also: {_prose(folded.sentence)} ({_code(folded.rule)})"
    lesson = f"[{finding.rule}](<{base}{finding.lesson}>)" if base else f"{_code(finding.rule)}, {_code(finding.lesson)}"
    yield f"  - Why: {lesson}"


def _questions(heading: str, questions: list[Question]) -> Iterator[str]:
    yield from _heading(heading)
    for question in questions:
        yield f"- **{line_of(question.at)}:** {_prose(asked(question))} ({_code(question.rule)})"
    yield ""


def _promise(promise: Promise) -> Iterator[str]:
    yield f"- **{line_of(promise.at)}:** {_prose(promise.promise)} {promise.kept[:1].upper()}{promise.kept[1:]}."
    for line in [*promise.proof, *([promise.question] if promise.question else [])]:
        yield f"  - {_prose(line)}"


def _hunt(plan: HuntPlan) -> Iterator[str]:
    yield from _heading(HUNTING)
    if plan.reason:
        yield from (_prose(plan.reason), "")
        return
    yield from (f"Heard: {_prose(plan.heard)}, {_prose(plan.where)}.", "")
    for head, all_said in (("Stop", plan.stops), ("Your own board says so", plan.found_already)):
        yield from (f"- **{head}:** {_prose(said)}" for said in all_said)
    for test in plan.tests:
        yield f"- **Test {test.number}:** {_prose(test.do)} {_prose(test.ask)}"
        yield f"  - good: {_prose(test.good)}; bad: {_prose(test.bad)}"
    yield from ("", hunt_length(plan), "")


class _Written(str):
    """Markdown already."""


def _table(head: Iterable[str], rows: Iterable[tuple[str, ...]]) -> Iterator[str]:
    heads = list(head)
    yield f"| {' | '.join(heads)} |"
    yield f"|{' --- |' * len(heads)}"
    for row in rows:
        yield f"| {' | '.join(cell if isinstance(cell, _Written) else _text(cell) for cell in row)} |"


def _prose(sentence: str) -> str:
    """A sentence in which backticks stand around what the board says."""
    parts = _CODE.split(" ".join(seen(sentence).split()))
    return "".join(_code(part) if place % 2 else _text(part) for place, part in enumerate(parts))


def _text(words: str) -> str:
    """Words of which nothing is markup."""
    return _BEGINS.sub(r"\1\\\2", _MARKUP.sub(r"\\\g<0>", seen(words).translate(_ENTITIES)))


def _code(words: str) -> str:
    """A code span, in a fence that is longer than any within."""
    kept = seen(words)
    fence = "`" * (1 + max(map(len, re.findall("`+", kept)), default=0))
    space = " " if "`" in kept else ""
    return f"{fence}{space}{kept}{space}{fence}"
