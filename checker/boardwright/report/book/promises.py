"""What the board promises of every state of its switches, each with its proof."""

from __future__ import annotations

from boardwright.report.book.chapter import Absent, Book
from boardwright.report.book.markup import Html, paragraph, prose, tag
from boardwright.report.report import Promise


def pieces(book: Book) -> list[Html] | Absent:
    if not book.report.promises:
        return Absent("nothing is promised of every state of the switches.")
    return [_promise(each) for each in book.report.promises]


def _promise(promise: Promise) -> Html:
    kept = f"{promise.kept[:1].upper()}{promise.kept[1:]}"
    proof = [paragraph(line) for line in promise.proof]
    seen = paragraph(f"Seen {promise.witness}.") if promise.witness else None
    asked = paragraph(promise.question) if promise.question else None
    how = f", {promise.how}" if promise.how else ""
    return tag("div", tag("p", prose(promise.promise), class_="head"), tag("p", tag("strong", f"{kept}{how}.")), proof, seen, asked, class_="entry")
