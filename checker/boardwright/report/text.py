"""The report as plain text, readable at 80 columns; the same at the command line and in the page's text copy."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from textwrap import wrap

from boardwright.report.hunt import HuntPlan
from boardwright.report.report import Coverage, Finding, Promise, Question, Report
from boardwright.rules.verdict import Number, Severity
from boardwright.spec.figure import tell
from boardwright.spec.problem import Span

WIDTH = 80

HEADINGS = {
    Severity.DANGER: "Do not switch this on",
    Severity.FAULT: "This will not work, or will break something",
    Severity.RISK: "This may let you down",
    Severity.ADVICE: "Worth considering",
}
CHECK_FIRST = "Check before you switch on"
UNREAD = "The text cannot be read here"
UNDECIDED = "Could not decide"
ACCEPTED = "Accepted"
PROMISES = "Promises"
COVERAGE = "What was looked at"
HUNTING = "Hunting the fault"
READINGS = "Readings"
READINGS_HEAD = ("where", "what", "read", "due")
MARKS = {Severity.DANGER: "[!!]", Severity.FAULT: "[x]", Severity.RISK: "[~]", Severity.ADVICE: "[i]"}
"""Severity without colour: the mark stands beside the words."""

Style = Callable[[str, str], str]
"""Dress a piece of text up for a terminal: the text, and what it is (``heading``, or a severity)."""


def plain(text: str, what: str) -> str:
    return text


_UNSEEN = dict.fromkeys([*range(32), *range(127, 160), *range(0x202A, 0x202F), *range(0x2066, 0x206A), *range(0xD800, 0xE000)])


def seen(text: str) -> str:
    """``text`` without characters that steer a terminal or turn the direction of reading."""
    return text.replace("\n", " ").translate(_UNSEEN)


def to_text(report: Report, style: Style = plain) -> str:
    """The whole report, one line for each finding's parts, ending with the coverage table."""
    return "\n".join(_lines(report, style)).rstrip() + "\n"


def _lines(report: Report, style: Style) -> Iterator[str]:
    name = report.board.name
    yield from _paragraph(f"{name}: {report.headline[0].lower()}{report.headline[1:]}" if name else report.headline)
    yield ""
    if report.problems:
        yield style(UNREAD, "heading")
        for problem in report.problems:
            yield from _entry(f"[?] {line_of(problem.at)}", problem.message)
            if problem.expected:
                yield from _paragraph(f"May stand here: {problem.expected}", indent=4)
        if report.skipped:
            yield from _paragraph(f"Not judged because of this: {', '.join(report.skipped)}.", indent=4)
        yield ""
    for severity in Severity:
        findings = [finding for finding in report.findings if finding.severity == severity]
        if findings:
            yield style(HEADINGS[severity], severity.value)
            for finding in findings:
                yield from _finding(finding, severity)
            yield ""
        if severity is Severity.DANGER and report.check_first:
            yield style(CHECK_FIRST, severity.value)
            for question in report.check_first:
                yield from _question(question)
            yield ""
    if report.hunt:
        yield from _hunt(report.hunt, style)
    if report.undecided:
        yield style(UNDECIDED, "heading")
        for question in report.undecided:
            yield from _question(question)
        yield ""
    if report.accepted or report.unused_accepts:
        yield style(ACCEPTED, "heading")
        for accepted in report.accepted:
            yield from _entry(f"[ok] {line_of(accepted.at)}", f"{accepted.sentence} Accepted: {accepted.because}. [{accepted.rule}]")
        for unused in report.unused_accepts:
            yield from _entry(f"[ok] {line_of(unused.at)}", f"`{unused.rule}` is accepted for nothing. {unused.why}")
        yield ""
    if report.promises:
        yield style(PROMISES, "heading")
        for promise in report.promises:
            yield from _promise(promise)
        yield ""
    if report.readings:
        yield style(READINGS, "heading")
        yield f"  {readings_told(report)}"
        if rows := reading_rows(report):
            yield from _table(READINGS_HEAD, rows)
        yield ""
    yield from _figures(report, style)
    yield from _coverage(report.coverage, style)


def line_of(span: Span | None) -> str:
    return f"line {span.line}" if span else "the board"


def _paragraph(text: str, indent: int = 0, first: str = "") -> Iterator[str]:
    text = seen(text)
    head = first or " " * indent
    if len(head) + len(text) <= WIDTH and text == text.strip() and text.isprintable() and text:
        yield head + text
        return
    yield from wrap(
        text,
        WIDTH,
        initial_indent=head,
        subsequent_indent=" " * indent,
        break_long_words=True,
        break_on_hyphens=False,
    ) or [""]


def _entry(head: str, text: str) -> Iterator[str]:
    yield from _paragraph(text, indent=4, first=f"{head}: ")


def _finding(finding: Finding, severity: Severity) -> Iterator[str]:
    yield from _entry(f"{MARKS[severity]} {line_of(finding.at)}", finding.sentence)
    if finding.witness:
        yield from _paragraph(f"Seen {finding.witness}.", indent=4)
    yield from _paragraph(f"Mend: {finding.remedy}", indent=4)
    if finding.numbers:
        yield from _paragraph("; ".join(map(tell_number, finding.numbers)), indent=4)
    for folded in finding.folded:
        yield from _paragraph(f"Also: {folded.sentence} [{folded.rule}]", indent=4)
    yield from _paragraph(f"[{finding.rule}] {finding.lesson}", indent=4)


def tell_number(number: Number) -> str:
    origin = f" ({number.origin})" if number.origin in ("assumed", "measured", "limit") else ""
    return f"{number.name} {number.text}{origin}"


def _question(question: Question) -> Iterator[str]:
    yield from _entry(f"[?] {line_of(question.at)}", f"{asked(question)} [{question.rule}]")


def asked(question: Question) -> str:
    """The question, and that it comes before power if it does; under a heading that says so it need not."""
    before = "Before you plug in: " if question.before_power and question.severity != Severity.DANGER else ""
    return f"{before}{question.question}"


def _promise(promise: Promise) -> Iterator[str]:
    """A promise with its proof; of a broken one the finding above has already said how it breaks."""
    head = {"holds": "[ok]", "broken": "[x]"}.get(promise.kept, "[?]")
    yield from _entry(f"{head} {line_of(promise.at)}", f"{promise.promise} {promise.kept[:1].upper()}{promise.kept[1:]}.")
    for line in promise.proof:
        yield from _paragraph(line, indent=4)
    if promise.question:
        yield from _paragraph(promise.question, indent=4)


def _hunt(plan: HuntPlan, style: Style) -> Iterator[str]:
    yield style(HUNTING, "heading")
    if plan.reason:
        yield from _paragraph(plan.reason, indent=4, first="  ")
        yield ""
        return
    yield from _paragraph(f"Heard: {plan.heard}, {plan.where}.", indent=4, first="  ")
    for said in plan.stops:
        yield from _entry("  [!!] stop", said)
    for said in plan.found_already:
        yield from _entry("  your own board says so", said)
    for test in plan.tests:
        yield from _paragraph(f"{test.number}. {test.do} {test.ask}", indent=5, first="  ")
        yield from _paragraph(f"good: {test.good}; bad: {test.bad}", indent=7, first="     ")
    if said := hunt_length(plan):
        yield from _paragraph(said, indent=4, first="  ")
    yield ""


def hunt_length(plan: HuntPlan) -> str:
    """How long a hunt takes on average, if that can be told."""
    if plan.tests_expected is None or plan.minutes_expected is None:
        return ""
    return f"On average {tell(plan.tests_expected, '')} tests and {tell(plan.minutes_expected, 'min')}."


def readings_told(report: Report) -> str:
    """How many readings are as they should be."""
    return f"{sum(each.agrees is True for each in report.readings)} of {len(report.readings)} are as they should be."


def reading_rows(report: Report) -> list[tuple[str, ...]]:
    """The readings that are not, or of which nothing is known."""
    return [(" to ".join(each.where), each.what, each.got, each.due or "nothing known") for each in report.readings if not each.agrees]


def _figures(report: Report, style: Style) -> Iterator[str]:
    for title, head, rows in figure_tables(report):
        yield style(title, "heading")
        yield from _table(head, rows)
        yield ""


def figure_tables(report: Report) -> Iterator[tuple[str, tuple[str, ...], list[tuple[str, ...]]]]:
    """The power side as tables that have rows: title, heads, rows."""
    power = report.power
    outlets = [
        (o.name, _value(o.volts, "V"), _value(o.amps, "A"), _value(o.rating_amps, "A"), _value(o.share, "%"), " ".join(o.devices) or "free")
        for o in power.outlets
    ]
    devices = [
        (d.name, d.source or "nowhere", _value(d.volts, "V"), _value(d.amps, "A"), _value(d.watts, "W"), _value(d.lost_volts, "V"))
        for d in power.devices
        if d.source or d.label != "none"
    ]
    supplies = [
        (s.name, _value(s.watts, "W"), _value(s.total_watts, "W"), _value(s.lost_watts, "W"), _value(s.case_celsius, "°C"))
        for s in power.supplies
    ]
    tables = (
        ("Outlets", ("outlet", "gives", "flows", "rated", "in use", "feeds"), outlets),
        ("Devices", ("device", "from", "gets", "draws", "power", "lost"), devices),
        ("Supplies", ("supply", "gives", "of", "warmth", "case about"), supplies),
    )
    return (table for table in tables if table[2])


def _value(value: float | None, unit: str, digits: int = 3) -> str:
    return "?" if value is None else tell(value, unit, digits)


def _table(head: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> Iterator[str]:
    """Columns as wide as their widest cell; the last one takes what is left, and is cut there."""
    rows = [tuple(map(seen, row)) for row in rows]
    widths = [min(30, max(len(row[column]) for row in [head, *rows])) for column in range(len(head))]
    for row in [head, *rows]:
        cells = [cell if len(cell) <= 30 else cell[:29] + "…" for cell in row[:-1]]
        line = "  " + "  ".join(cell.ljust(width) for cell, width in zip(cells, widths, strict=False)) + "  " + row[-1]
        yield line.rstrip() if len(line) <= WIDTH else line[: WIDTH - 1] + "…"


def _coverage(coverage: list[Coverage], style: Style) -> Iterator[str]:
    yield style(COVERAGE, "heading")
    rows = coverage_rows(coverage)
    if rows:
        name = max(len(row[0]) for row in rows)
        for row in [COVERAGE_HEAD, *rows]:
            yield f"  {row[0]:<{name}}  {row[1]:>5}  {row[2]:>5}  {row[3]:>11}  {row[4]:>8}".rstrip()
    rest = [each.rule for each in coverage if each.not_applicable]
    if rest:
        yield from _paragraph(f"Nothing described that these look at: {', '.join(rest)}.", indent=4, first="  ")


COVERAGE_HEAD = ("rule", "trips", "clear", "cannot tell", "accepted")


def coverage_rows(coverage: list[Coverage]) -> list[tuple[str, ...]]:
    """The rules that had something to look at, with how often they said what."""
    return [(each.rule, *map(str, (each.trips, each.clear, each.cannot_tell, each.accepted))) for each in coverage if not each.not_applicable]
