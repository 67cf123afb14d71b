"""Findings as workflow commands: lines of output that code hosts show beside the changed lines of a proposal.

The form ``::error file=…,line=…::message`` is shared by several hosts and has no standard.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.report.report import Report
from boardwright.report.text import CHECK_FIRST, UNDECIDED, UNREAD, seen
from boardwright.rules.verdict import Severity
from boardwright.spec.problem import Span

_COMMANDS = {Severity.DANGER: "error", Severity.FAULT: "error", Severity.RISK: "warning", Severity.ADVICE: "notice"}


def annotations(file: str, report: Report) -> Iterator[str]:
    """One line for each finding, each place that cannot be read, and each question.

    Args:
        file: the board's file as the host names it, relative to the top of the repository.
    """
    for problem in report.problems:
        yield _line("error", file, problem.at, UNREAD, problem.message)
    for finding in report.findings:
        said = f"{finding.sentence} Mend: {finding.remedy}"
        yield _line(_COMMANDS[Severity(finding.severity)], file, finding.at, f"{finding.severity}: {finding.title} [{finding.rule}]", said)
    for question in report.check_first:
        yield _line("warning", file, question.at, f"{CHECK_FIRST} [{question.rule}]", question.question)
    for question in report.undecided:
        yield _line("notice", file, question.at, f"{UNDECIDED} [{question.rule}]", question.question)


def _line(command: str, file: str, at: Span | None, title: str, message: str) -> str:
    places = {"file": file}
    if at:
        places |= {"line": str(at.line), "endLine": str(at.end_line)}
        if at.line == at.end_line:  # columns count within one line only
            places |= {"col": str(at.column), "endColumn": str(at.end_column)}
    properties = ",".join(f"{name}={_property(value)}" for name, value in {**places, "title": title}.items())
    return f"::{command} {properties}::{_data(message)}"


# ``seen`` has left no line end in it.
def _data(text: str) -> str:
    return seen(text).replace("%", "%25")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")
