"""The reference of the language: every section with its keys, made from the section models."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, get_args

from markupsafe import Markup
from pydantic import BaseModel

from boardwright.site.boards import Boards, ShownBoard
from boardwright.site.code import coloured
from boardwright.site.markup import prose, rows, table, tag
from boardwright.site.page import Page
from boardwright.spec.fields import Section
from boardwright.spec.figure import DIMENSIONS, PLACE
from boardwright.spec.language import ALIASES, SECTIONS, SectionKind, Shape
from boardwright.spec.schema import fields_of

_SHAPES = {
    Shape.ONE: "Written once, as lines of `key: value`.",
    Shape.NAMED: "Each entry has a name of your own: letters of any script, digits, `_` and `-`.",
    Shape.LIST: "A list.",
}


def sections(page: Page) -> str:
    """Every section: what it is, an example, its keys, and the parts that stand within it."""
    anchors: dict[str, str] = {}
    return "\n\n".join(part for kind in SECTIONS.values() for part in _section(page, kind, anchors))


def _section(page: Page, kind: SectionKind, anchors: dict[str, str]) -> Iterator[str]:
    """``anchors``: of the parts that were described already, by the name of their model; takes up those of this section."""
    yield f"## `{kind.key}` {{ #{kind.key} }}"
    also = [f"`{alias}`" for alias, key in ALIASES.items() if key == kind.key]
    short = f"An entry that is bare text stands for its `{kind.short}`." if kind.short else ""
    other = f"It may also be called {', '.join(also)}." if also else ""
    yield " ".join(filter(None, (_about(kind.model), _SHAPES[kind.shape], short, other)))
    if example := example_of(page.boards, kind.key):
        code = tag("pre", {}, tag("code", {}, coloured(example)))
        yield page.slot(tag("div", {"class": "highlight bw-excerpt"}, code), searched=False)
    new = [part for part in _parts(kind.model) if part.__name__ not in anchors]
    anchors |= {part.__name__: f"{kind.key}-{_name(part).lower().replace(' ', '-')}" for part in new}
    yield page.slot(_keys(kind.model, f"Keys of {kind.key}", anchors))
    for part in new:
        yield f"### {_name(part)} {{ #{anchors[part.__name__]} }}"
        yield _about(part)
        yield page.slot(_keys(part, f"Keys of {_name(part)}", anchors))


def _about(model: type[BaseModel]) -> str:
    return " ".join((model.__doc__ or "").split())


def _name(part: type[BaseModel]) -> str:
    return _words(part.__name__).capitalize()


def _words(name: str) -> str:
    """``PowerLead`` as words."""
    return re.sub(r"(?<=[a-z])(?=[A-Z])", " ", name).lower()


def _parts(model: type[BaseModel]) -> list[type[Section]]:
    """The sections within a section, each once, in the order in which its keys name them."""
    found: dict[type[Section], None] = {}
    for field in model.model_fields.values():
        for part in _within(field.annotation):
            found |= dict.fromkeys([part, *_parts(part)])
    return list(found)


def _within(annotation: Any) -> Iterator[type[Section]]:
    if isinstance(annotation, type) and issubclass(annotation, Section):
        yield annotation
    for inner in get_args(annotation):
        yield from _within(inner)


def _keys(model: type[BaseModel], caption: str, anchors: dict[str, str]) -> Markup:
    each = [(tag("code", {}, key), prose(about), _written(schema, anchors)) for key, about, schema in fields_of(model)]
    return table(caption, ("key", "what it says", "how it is written"), rows(each), look="bw-table--prose")


def _written(schema: dict[str, Any], anchors: dict[str, str]) -> Markup:
    """What may stand behind a key, in words."""
    alternatives = [each for each in schema.get("anyOf", ()) if each.get("type") != "null"]
    if alternatives:
        return Markup("; or ").join(_written(each, anchors) for each in alternatives)
    if "$ref" in schema:
        part = schema["$ref"].rpartition("/")[2]
        return tag("a", {"href": f"#{anchors[part]}"}, _words(part))
    if schema.get("type") == "array":
        count = f"in brackets, {schema['minItems']} of: " if schema.get("minItems", 1) == schema.get("maxItems") else "one, or several in brackets: "
        return Markup(count) + _written(schema["items"], anchors)
    if "additionalProperties" in schema:
        return Markup("names, and behind each: ") + _written(schema["additionalProperties"], anchors)
    if "enum" in schema:
        words = [word for word in schema["enum"] if isinstance(word, str) and (word.upper() == word or word.upper() not in schema["enum"])]
        return prose(", ".join(f"`{word}`" for word in words[:-1]) + f" or `{words[-1]}`")
    examples = " or ".join(f"`{each}`" for each in schema.get("examples", ()))
    kind = schema.get("description", "").partition(",")[0]
    if kind:
        return prose(f"{kind}, such as {examples}")
    return prose(f"such as {examples}" if examples else "text")


def units(page: Page) -> Markup:
    """Every kind of quantity with its unit and an example."""
    each = [
        (
            dimension.name,
            prose(", ".join(f"`{spelling}`" for spelling in dict.fromkeys(dimension.spellings) if spelling)),
            tag("code", {}, dimension.example),
        )
        for dimension in (*DIMENSIONS, PLACE)
    ]
    return table("Quantities and their units", ("quantity", "unit, spelt", "such as"), rows(each), look="bw-table--prose")


_TOP = re.compile(r"^(?P<key>[a-z_]+):", re.MULTILINE)


def example_of(boards: Boards, section: str) -> str:
    """How a section is written: from the board made for it, or else from another, preferably one in order."""
    found = [(shown, cut) for shown in (boards.language, *boards.everything) if (cut := excerpt(shown, section))]
    in_order = (cut for shown, cut in found if not shown.report.problems and not shown.report.findings)
    return next(in_order, found[0][1] if found else "")


def excerpt(shown: ShownBoard, section: str) -> str:
    """The lines of one section of a board, with the comment right above it; empty where it has none."""
    lines = shown.text.splitlines()
    starts = [(number, found["key"]) for number, line in enumerate(lines) if (found := _TOP.match(line))]
    for (start, key), (end, _) in zip(starts, [*starts[1:], (len(lines), "")], strict=True):
        if key == section:
            while start and lines[start - 1].startswith("#"):
                start -= 1
            while end > start and (not lines[end - 1] or lines[end - 1].startswith("#")):
                end -= 1
            return "\n".join(lines[start:end]) + "\n"
    return ""
