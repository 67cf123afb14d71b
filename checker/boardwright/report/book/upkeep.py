"""When what was last looked after, with room for the next times."""

from __future__ import annotations

from boardwright.report.book.chapter import Absent, Book
from boardwright.report.book.markup import BLANK, Html, table
from boardwright.spec.sections.upkeep import Upkeep

LOOKED_AFTER = {
    "leads": "every lead measured while it was bent",
    "fasteners": "screws, brackets and tapes tried",
    "jacks": "jacks cleaned",
    "fans": "fans and vents cleaned",
    "mains_test": "everything with a mains cord tested by a qualified person",
}


def pieces(book: Book) -> list[Html] | Absent:
    upkeep = book.board.spec.upkeep
    if upkeep is None:
        return Absent("no upkeep is described.")
    return [table(("what", "last", "next", "", ""), [(what, last, BLANK, BLANK, BLANK) for what, last in _rows(upkeep)])]


def _rows(upkeep: Upkeep) -> list[tuple[str, str]]:
    rows = [(f"battery of {name} changed", str(date)) for name, date in (upkeep.battery or {}).items()]
    return rows + [(said, str(last)) for key, said in LOOKED_AFTER.items() if (last := getattr(upkeep, key)) is not None]
