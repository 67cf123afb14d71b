"""The page of mains by country: our reading of two open tables, and what each of them says where they differ."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.countries import FIRST, SECOND, Country, countries
from boardwright.site.markup import prose, rows, table, tag
from boardwright.site.page import Page


def countries_table(page: Page) -> str:
    """Where the two tables differ, with both readings; then every country."""
    every = sorted(countries().values(), key=lambda each: each.name)
    parts = [
        "## Where the tables differ",
        page.slot(table("Where the tables differ", ("country", "our reading", FIRST, SECOND), rows(map(_disputed, filter(_differs, every))))),
    ]
    parts += ["## Every country", page.slot(table("Mains by country", ("code", "country", "volts, hertz, plugs", "tables"), rows(map(_row, every))))]
    return "\n\n".join(parts)


def _differs(each: Country) -> bool:
    return each.disputed


def _disputed(each: Country) -> Iterator[object]:
    doubtful = " and ".join(f"{volts:g} V" for volts in each.doubtful)
    said = f"{each.mains}; {doubtful} is asked about and not believed" if doubtful else str(each.mains)
    yield from (each.name, prose(said), str(each.first or "not in it"), str(each.second or "not in it"))


def _row(each: Country) -> Iterator[object]:
    tables = "both agree" if each.agreed else "they differ" if each.disputed else "one table only"
    yield from (tag("code", {"id": each.code.lower()}, each.code), each.name, str(each.mains), tables)
