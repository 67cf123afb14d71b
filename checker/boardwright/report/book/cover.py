"""The cover: whose board it is, what was found in a sentence, and what is in the book and what is not."""

from __future__ import annotations

from boardwright.report.book.chapter import Absent, Book, Chapter
from boardwright.report.book.markup import BLANK, Child, Html, paragraph, prose, tag
from boardwright.report.text import CHECK_FIRST, HEADINGS
from boardwright.rules.verdict import Severity
from boardwright.version import VERSION

PURPOSES = {"home": "at home", "studio": "in the studio", "stage": "on stage", "tour": "on tour"}


def pieces(book: Book, chapters: list[Chapter], absent: list[tuple[Chapter, Absent]]) -> list[Html]:
    front = tag(
        "section",
        tag("p", "Handover book", class_="kind"),
        tag("h1", book.name),
        _facts(book),
        _warning(book),
        tag("div", paragraph(book.report.headline), tag("p", "Nobody has looked at the wiring: this follows from the board's text."), class_="boxed"),
        class_="cover",
    )
    listed = tag("ol", [tag("li", tag("a", f"{number}  {chapter.title}", href=f"#{chapter.name}")) for number, chapter in enumerate(chapters, 1)])
    contents = tag("section", tag("h2", "Contents"), listed, _missing(absent), class_="contents")
    return [front, contents]


def _facts(book: Book) -> Html:
    described = book.board.spec.board
    frame = described.frame if described else None
    rows: list[tuple[str, Child]] = [
        ("Built for", described.client if described and described.client else BLANK),
        ("To be used", PURPOSES.get(book.board.purpose or "", BLANK)),
        ("Built by", BLANK),
        ("Date", BLANK),
        ("Checked with", f"Boardwright {VERSION}"),
    ]
    if frame is not None and frame.size and all(each.known for each in frame.size):
        rows.insert(2, ("Frame", " × ".join(f"{each.value * 1000:.0f}" for each in frame.size) + " mm"))
    return tag("table", tag("tbody", [tag("tr", tag("th", name, scope="row"), tag("td", said)) for name, said in rows]))


def _warning(book: Book) -> Html | None:
    """What must not be overlooked before anything is switched on."""
    dangers = book.report.count(Severity.DANGER)
    where = book.title("found"), book.title("unchecked")
    said = []
    if dangers:
        said.append(f"{HEADINGS[Severity.DANGER]}. {dangers} danger{'s' if dangers > 1 else ''}: see “{where[0]}”.")
    if count := len(book.report.check_first):
        said.append(f"{CHECK_FIRST}: {count} question{'s' if count > 1 else ''}, see “{where[1]}”.")
    return tag("div", [tag("p", prose(each)) for each in said], class_="boxed stop") if said else None


def _missing(absent: list[tuple[Chapter, Absent]]) -> list[Html]:
    if not absent:
        return []
    return [tag("h3", "Not in this book"), tag("ul", [tag("li", f"{chapter.title}: ", prose(why)) for chapter, why in absent])]
