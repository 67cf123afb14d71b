"""What was not checked: what could not be read or decided, and what each rule looked at."""

from __future__ import annotations

from boardwright.report.book.chapter import Book
from boardwright.report.book.markup import TICK, Html, paragraph, points, prose, table, tag
from boardwright.report.report import Problem, Question
from boardwright.report.text import CHECK_FIRST, UNDECIDED, UNREAD, asked


def pieces(book: Book) -> list[Html]:
    report = book.report
    parts = [paragraph("A book knows what its board's text says, and nothing else. What follows was not decided, or not looked at.", class_="lead-in")]
    if report.problems:
        parts += [tag("h3", UNREAD), points([_problem(each) for each in report.problems])]
    if report.skipped:
        parts.append(paragraph(f"Not judged because of this: {', '.join(f'`{each}`' for each in report.skipped)}."))
    if report.check_first:
        parts += [tag("h3", CHECK_FIRST), _questions(report.check_first)]
    if report.undecided:
        parts += [tag("h3", UNDECIDED), _questions(report.undecided)]
    rows = [
        (each.title, *(str(count) if count else "" for count in (each.trips, each.clear, each.cannot_tell, each.accepted)))
        for each in report.coverage
        if not each.not_applicable
    ]
    if rows:
        heads = ("looked for", "found", "clear", "cannot tell", "accepted")
        parts += [tag("h3", "What was looked at, and how often"), table(heads, rows, "figures dense")]
    rest = [each.title for each in report.coverage if each.not_applicable]
    if rest:
        parts += [tag("h3", "Nothing described that these look at"), tag("p", "; ".join(rest), ".", class_="small")]
    return parts


def _problem(problem: Problem) -> Html:
    where = f"Line {problem.at.line}: " if problem.at else ""
    return prose(f"{where}{problem.message}")


def _questions(questions: list[Question]) -> Html:
    return table(("question", "would decide", "answered"), [(prose(asked(each)), each.title, TICK) for each in questions])
