"""Making HTML. Strings become text and never markup, so a board's own words cannot turn into elements."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import TypeAlias

from markupsafe import Markup, escape

Child: TypeAlias = "str | int | Iterable[Child] | None"
Attributes = Mapping[str, "str | int | bool | None"]

_VOID = {"link"}
_CODE = re.compile(r"`([^`\n]+)`")


def tag(name: str, attributes: Attributes | None = None, *children: Child) -> Markup:
    """An element. ``True`` sets a bare attribute; ``False`` and ``None`` leave attributes and children out."""
    start = f"<{name}{_attributes(attributes or {})}>"
    return Markup(start) if name in _VOID else Markup(start) + text(children) + Markup(f"</{name}>")


def text(child: Child) -> Markup:
    """Text escaped, markup as it is, several of them one after the other."""
    if child is None:
        return Markup()
    if isinstance(child, str | int):
        return escape(child)
    return Markup().join(text(each) for each in child)


def _attributes(attributes: Attributes) -> str:
    written = ""
    for name, value in attributes.items():
        if value is True:
            written += f" {name}"
        elif value is not None and value is not False:
            written += f' {name}="{escape(value)}"'
    return written


def prose(sentence: str) -> Markup:
    """A sentence of the checker, in which backticks stand around what is written in a board."""
    parts = _CODE.split(sentence)
    return text(tag("code", {}, part) if place % 2 else part for place, part in enumerate(parts))


def unseen(words: str) -> Markup:
    """Words for screen readers only."""
    return tag("span", {"class": "bw-unseen"}, words)


def scrolling(label: str, *children: Child) -> Markup:
    """Something wide that scrolls sideways by itself on a narrow page, by keyboard too."""
    return tag("div", {"class": "bw-scroll", "tabindex": 0, "role": "group", "aria-label": label}, *children)


def table(caption: str, heads: Iterable[str], *bodies: Markup, look: str = "") -> Markup:
    """A table with its caption, in the frame that lets it scroll."""
    head = tag("thead", {}, tag("tr", {}, [tag("th", {"scope": "col"}, each) for each in heads]))
    classes = f"bw-table {look}".strip()
    return scrolling(caption, tag("table", {"class": classes}, tag("caption", {}, caption), head, *bodies))


def rows(each: Iterable[Iterable[Child]], **of_row: str) -> Markup:
    """A table's body; the first cell of each row names it."""
    body = []
    for first, *cells in (tuple(row) for row in each):
        body.append(tag("tr", of_row, tag("th", {"scope": "row"}, first), [tag("td", {}, cell) for cell in cells]))
    return tag("tbody", {}, body)


def fold(summary: Child, *children: Child, name: str | None = None) -> Markup:
    """Something that can be folded away, and is."""
    return tag("details", {"id": name, "class": "bw-fold"}, tag("summary", {}, summary), tag("div", {"class": "bw-fold__body"}, *children))
