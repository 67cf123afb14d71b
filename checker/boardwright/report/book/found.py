"""What the checker found wrong, and what the board accepts and why."""

from __future__ import annotations

from boardwright.report.book.chapter import Book
from boardwright.report.book.markup import Html, paragraph, prose, tag
from boardwright.report.book.reading import mark
from boardwright.report.report import Accepted, Finding
from boardwright.report.text import ACCEPTED, HEADINGS, tell_number
from boardwright.rules.verdict import Severity


def pieces(book: Book) -> list[Html]:
    report = book.report
    parts = [paragraph(report.headline)]
    for severity in Severity:
        findings = [each for each in report.findings if each.severity == severity]
        if findings:
            parts += [tag("h3", HEADINGS[severity]), *(_finding(each, severity) for each in findings)]
    if report.accepted or report.unused_accepts:
        parts += [tag("h3", ACCEPTED), *(_accepted(each) for each in report.accepted)]
        parts += [paragraph(f"`{each.rule}` is accepted for nothing. {each.why}", class_="entry") for each in report.unused_accepts]
    return parts


def _finding(finding: Finding, severity: Severity) -> Html:
    numbers = "; ".join(map(tell_number, finding.numbers))
    return tag(
        "div",
        tag("p", mark(severity), f"{severity.value}: {finding.title}", class_="head"),
        paragraph(finding.sentence),
        paragraph(f"Seen {finding.witness}.") if finding.witness else None,
        paragraph(f"Mend: {finding.remedy}"),
        paragraph(f"{numbers}.", class_="small") if numbers else None,
        [paragraph(f"Also: {each.sentence}") for each in finding.folded],
        class_="entry",
    )


def _accepted(accepted: Accepted) -> Html:
    return tag("div", tag("p", accepted.title, class_="head"), paragraph(accepted.sentence), tag("p", "Accepted because: ", prose(accepted.because)), class_="entry")
