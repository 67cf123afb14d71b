"""Results that a command measured and wrote down, for the pages that tell how far to trust the checker.

Each command that measures keeps its latest result in ``checker/results/<name>.json``:

    made_by      the command, as typed
    date         when, YYYY-MM-DD
    how          sentences: what was done
    figures      named quantities that prose asks for, each as it is to be read
    tables       each a ``title``, ``columns`` and ``rows``; a cell that is the name of a rule becomes a link to it
    falls_short  what misses its goal, one sentence each; empty if nothing does
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from boardwright.rules.registry import RULES
from boardwright.site.markup import Child, prose, rows, table, tag
from boardwright.site.page import Page
from boardwright.site.unfit import Unfit, choose

FOLDER = "checker/results"


@dataclass(frozen=True)
class Result:
    made_by: str
    date: str
    how: list[str]
    figures: dict[str, str]
    tables: list[dict[str, Any]]
    falls_short: list[str]


@cache
def read_results(root: Path) -> dict[str, Result]:
    """Every result by its name.

    Raises: Unfit, naming a file that is not what it should be.
    """
    found = {}
    for path in sorted((root / FOLDER).glob("*.json")):
        try:
            found[path.stem] = Result(**json.loads(path.read_text("utf-8")))
        except (TypeError, ValueError) as error:
            raise Unfit(f"{FOLDER}/{path.name} is not a result: {error}. Run the command that writes it.") from None
    return found


def _find(page: Page, name: str) -> Result:
    return choose(read_results(page.boards.root), name, "a result")


def figure(page: Page, name: str, which: str) -> str:
    """One of a result's quantities, for prose."""
    return choose(_find(page, name).figures, which, f"a figure of {name}")


def result(page: Page, name: str) -> str:
    """A whole result: when and how it was made, what falls short, and its tables."""
    found = _find(page, name)
    made = tag("p", {}, "Made on ", found.date, " by ", tag("code", {}, found.made_by), ". ", " ".join(found.how))
    if found.falls_short:
        short = [tag("p", {}, "What falls short of its goal:"), tag("ul", {}, [tag("li", {}, prose(each)) for each in found.falls_short])]
    else:
        short = [tag("p", {}, "Nothing fell short of its goal.")]
    parts = [page.slot(tag("div", {}, made, short))]
    for each in found.tables:
        body = rows([_cell(page, cell) for cell in row] for row in each["rows"])
        parts.append(page.slot(table(each["title"], each["columns"], body), searched=False))
    return "\n\n".join(parts)


def _cell(page: Page, cell: Any) -> Child:
    if cell in RULES:
        return tag("a", {"href": page.link(RULES[cell].page_link)}, RULES[cell].title)
    return prose(str(cell))
