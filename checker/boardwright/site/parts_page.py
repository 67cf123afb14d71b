"""The page of what Boardwright is made of: every package that its locks name."""

from __future__ import annotations

import json
from importlib.resources import files

from boardwright.site.markup import rows, table
from boardwright.site.page import Page


def parts() -> list[dict[str, str]]:
    """Name, version, licence and use of each. ``python checker/setup/audit.py --write`` writes it."""
    return json.loads(files(__package__).joinpath("parts.json").read_text("utf-8"))


def parts_tables(page: Page) -> str:
    """The packages by what they are used for."""
    by_use: dict[str, list[tuple[str, str, str]]] = {}
    for part in parts():
        by_use.setdefault(part["use"], []).append((part["name"], part["version"], part["licence"]))
    written = []
    for use, group in by_use.items():
        title = f"For {use}"
        written += [f"## {title}", page.slot(table(title, ("package", "version", "licence"), rows(group)))]
    return "\n\n".join(written)
