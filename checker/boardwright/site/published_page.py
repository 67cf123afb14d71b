"""The page of published values: what the tests hold the checker to, value by value."""

from __future__ import annotations

import json
from collections.abc import Iterator
from importlib.resources import files

from boardwright.site.markup import Child, prose, rows, table, tag
from boardwright.site.page import Page

PLAIN = "published"

SUBJECTS = {
    "wire": "Wire and cords", "dc": "Voltage at the end of a lead", "battery": "Batteries", "sources": "Sources", "impedance": "Small circuits",
    "levels": "Levels", "noise": "Noise", "comb": "Copies of one sound", "midi": "MIDI", "lengths": "Lengths", "lifting": "Lifting",
    "fields": "Magnetic fields", "inductance": "Mutual inductance", "coupling": "Coupling", "search": "Hunting a fault", "countries": "Mains by country",
}  # fmt: skip
"""Headings by the file of tests, in the order of the page."""


def values() -> list[dict[str, str]]:
    """The table that the tests are held to. ``python tests/published.py`` writes it."""
    return json.loads(files(__package__).joinpath("published_values.json").read_text("utf-8"))


def published_values(page: Page) -> str:
    """Every value from outside with ours beside it, subject by subject."""
    by_subject: dict[str, list[dict[str, str]]] = {}
    for row in values():
        by_subject.setdefault(_subject(row), []).append(row)
    heads = ("quantity", "published", "ours", "may differ by", "source")
    parts = []
    for subject in [*SUBJECTS, *sorted(by_subject.keys() - SUBJECTS.keys())]:
        if subject in by_subject:
            title = SUBJECTS.get(subject, subject.replace("_", " ").capitalize())
            shown = table(title, heads, rows(map(_row, by_subject[subject])), look="bw-table--prose")
            parts += [f"## {title} {{ #{subject} }}", page.slot(shown)]
    return "\n\n".join(parts)


def _subject(row: dict[str, str]) -> str:
    return row["test"].split("::")[0].rsplit("/", 1)[-1].removeprefix("test_").removesuffix(".py")


def _row(row: dict[str, str]) -> Iterator[Child]:
    yield row["quantity"]
    yield from (_quantity(row[which], row["unit"]) for which in ("published", "ours"))
    yield row["tolerance"].replace("-", "−")
    yield row["source"] if row["kind"] == PLAIN else [prose(row["source"]), tag("span", {"class": "bw-from"}, row["kind"])]


def _quantity(value: str, unit: str) -> Child:
    negative = value.replace("-", "−", 1) if value.startswith("-") else value
    return tag("span", {"class": "bw-value"}, f"{negative} {unit}".strip()) if unit else negative
