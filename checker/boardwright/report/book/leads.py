"""The lead list: what was cut, how long, and what was bought."""

from __future__ import annotations

from boardwright.report.book.chapter import Absent, Book
from boardwright.report.book.markup import Html, tag
from boardwright.report.cut_list import tables


def pieces(book: Book) -> list[Html] | Absent:
    if not book.cuts.groups and not book.cuts.bought:
        return Absent("no leads are described.")
    parts = []
    if book.cuts.rows:
        said = f"Both plugs of each lead bear its label and its two ends, such as “{book.cuts.rows[0].text}”. Finished is from tip to tip."
        parts.append(tag("p", said, class_="lead-in"))
    return [*parts, tag("div", Html("\n".join(tables(book.cuts, "h3"))), class_="leads")]
