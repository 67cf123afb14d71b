"""What travels along for the day that something dies."""

from __future__ import annotations

from boardwright.report.book.chapter import Absent, Book
from boardwright.report.book.markup import TICK, Child, Html, table
from boardwright.report.book.reading import CARRIED
from boardwright.spec.sections.spares import Spare


def pieces(book: Book) -> list[Html] | Absent:
    spares = list(book.board.spec.spares.values())
    if not spares:
        return Absent("no spares are described.")
    return [table(("spare", "count", "length", "plug", "stands in for", "there"), [(*row(each), TICK) for each in spares])]


def row(spare: Spare) -> tuple[Child, ...]:
    what = f"{CARRIED[spare.carries]} lead" if spare.carries in CARRIED else spare.what or ("lead" if spare.carries else "spare")
    notes = [word for word, is_so in (("reverses plus and minus", spare.reverses == "yes"), ("rescue lead", spare.rescue == "yes")) if is_so]
    length = "" if spare.length is None or not spare.length.known else str(spare.length)
    return ", ".join([what, *notes]), str(spare.count or 1), length, spare.plug or "", ", ".join(spare.of or ())
