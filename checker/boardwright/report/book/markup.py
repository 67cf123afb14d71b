"""Making HTML without a library, since every library costs the browser bytes. Plain strings are text, and are escaped."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TypeAlias

from boardwright.report.svg import clean

_CODE = re.compile(r"`([^`\n]+)`")


class Html(str):
    """Markup as it is."""

    __slots__ = ()


Child: TypeAlias = "str | Iterable[Child] | None"


def tag(name: str, *children: Child, **attributes: str | bool | None) -> Html:
    """An element. ``class_`` is the attribute ``class``; ``True`` sets a bare attribute, ``None`` and ``False`` leave it out."""
    written = ""
    for key, value in attributes.items():
        if value is True:
            written += f" {key.rstrip('_')}"
        elif value:
            written += f' {key.rstrip("_")}="{clean(value)}"'
    return Html(f"<{name}{written}>{text(children)}</{name}>")


def text(child: Child) -> Html:
    """Text escaped, markup as it is, several of them one after the other."""
    if child is None:
        return Html()
    if isinstance(child, str):
        return child if isinstance(child, Html) else Html(clean(child))
    return Html("".join(text(each) for each in child))


def prose(sentence: str) -> Html:
    """A sentence of the checker, in which backticks stand around what is written in a board."""
    return text(tag("code", part) if place % 2 else part for place, part in enumerate(_CODE.split(sentence)))


def paragraph(sentence: str, **attributes: str) -> Html:
    return tag("p", prose(sentence), **attributes)


def points(sentences: Iterable[Child], name: str = "ul") -> Html:
    """A list; strings are sentences of the checker."""
    return tag(name, [tag("li", prose(each) if isinstance(each, str) and not isinstance(each, Html) else each) for each in sentences])


TICK = Html('<span class="tick"></span>')
"""A box to tick by hand."""
BLANK = Html('<span class="blank"></span>')
"""A line to write on by hand."""


def table(heads: Iterable[str], rows: Iterable[Iterable[Child]], look: str | None = None) -> Html:
    """A table. The first cell of each row names it; ``look`` is a class of the style sheet."""
    head = tag("thead", tag("tr", [tag("th", each, scope="col") for each in heads]))
    body = tag("tbody", [tag("tr", tag("th", first, scope="row"), [tag("td", cell) for cell in cells]) for first, *cells in map(tuple, rows)])
    return tag("table", head, body, class_=look)
