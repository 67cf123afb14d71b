"""The page of the sources: what each rule and each formula rests on."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import re
from collections.abc import Iterator
from types import ModuleType

from markupsafe import Markup

import boardwright.physics
from boardwright.rules.registry import RULES
from boardwright.site.markup import prose, rows, table, tag
from boardwright.site.page import Page
from boardwright.site.rule_pages import source

_SOURCE = re.compile(r"^Source:\n((?:    .*\n?|\n)+)", re.MULTILINE)


def sources(page: Page) -> Markup:
    """What each rule rests on."""
    each = [(tag("a", {"href": page.link(rule.page_link)}, rule.title), prose(" ".join(source(rule).split()))) for rule in RULES.values()]
    return table("What each rule rests on", ("rule", "rests on"), rows(each), look="bw-table--prose")


def formulas(page: Page) -> str:
    """Every formula with its source, subject by subject."""
    parts = []
    for module in _modules():
        title = (inspect.getdoc(module) or "").split("\n")[0].rstrip(".")
        each = [(prose(first), prose(rests_on)) for first, rests_on in _formulas(module)]
        if each:
            parts += [f"### {title}", page.slot(table(title, ("what is worked out", "by"), rows(each), look="bw-table--prose"))]
    return "\n\n".join(parts)


def _modules() -> Iterator[ModuleType]:
    for found in pkgutil.iter_modules(boardwright.physics.__path__):
        if not found.name.startswith("_"):
            yield importlib.import_module(f"boardwright.physics.{found.name}")


def _formulas(module: ModuleType) -> Iterator[tuple[str, str]]:
    """The first line of each public formula, and its source."""
    for name, function in vars(module).items():
        if inspect.isfunction(function) and function.__module__ == module.__name__ and not name.startswith("_"):
            about = inspect.getdoc(function) or ""
            found = _SOURCE.search(about + "\n")
            if found:
                yield about.split("\n")[0], " ".join(found[1].split())
