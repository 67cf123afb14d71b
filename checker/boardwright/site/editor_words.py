"""What the page's editor knows of the language: the JSON Schema, cut to what is offered and explained while typing.

Beside it stand the pieces that can be put into a board (``pieces.yaml``) and the boards that an empty text offers to begin with.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML

from boardwright.site.boards import Boards
from boardwright.spec.language import ALIASES, SECTIONS
from boardwright.spec.schema import json_schema

ADDRESS = "assets/checker/editor-words.json"
_PIECES = Path(__file__).with_name("pieces.yaml")
_STARTERS = 3


def editor_words(boards: Boards) -> dict[str, Any]:
    """Everything, as JSON.

    ``sections``: for each section (and its other names) ``about``, ``shape`` (one, named or list), ``part`` and, where a bare
    text is enough, the key that it is ``short`` for. ``parts``: for each kind of mapping its keys, each with ``about`` and what
    may stand behind it: ``words``, ``such`` as, ``names`` of what, ``part``, ``shape``. ``things``: the sections whose names leads
    can join.
    """
    schema = json_schema()
    parts = {name: _keys(model) for name, model in schema["$defs"].items() if "properties" in model}
    sections = {}
    for key in [*SECTIONS, *ALIASES]:
        kind = SECTIONS[ALIASES.get(key, key)]
        about = schema["properties"][key]["description"].replace("``", "`")
        sections[key] = {"about": about, "shape": kind.shape.name.lower(), "part": kind.model.__name__}
        if kind.short:
            sections[key]["short"] = kind.short
    things = [kind.key for kind in SECTIONS.values() if kind.makes_things]
    return {"sections": sections, "parts": parts, "things": things, "pieces": pieces(), "starters": _starters(boards)}


def _keys(model: dict[str, Any]) -> dict[str, Any]:
    return {key: {"about": schema.get("description", ""), **_value(schema)} for key, schema in model["properties"].items()}


def _value(schema: dict[str, Any]) -> dict[str, Any]:
    """What may stand behind a key, put together from all ways in which it may be written."""
    words: dict[str, None] = {}
    such: dict[str, None] = {}
    found: dict[str, str] = {}
    for shape, each in _ways(schema):
        words |= dict.fromkeys(_as_printed([str(word) for word in each.get("enum", ()) if not isinstance(word, bool)]))
        such |= dict.fromkeys(example for example in each.get("examples", ()) if isinstance(example, str))
        if "$ref" in each:
            found |= {"part": each["$ref"].rpartition("/")[2]}
        if "format" in each:
            found |= {"names": each["format"]}
        if shape:
            found |= {"shape": shape}
    return {**found, **({"words": list(words)} if words else {}), **({"such": list(such)} if such else {})}


def _ways(schema: dict[str, Any], shape: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    """Every way to write a value, and whether it stands in a list or behind a name of the writer's own."""
    for each in schema.get("anyOf", ()):
        yield from _ways(each, shape)
    if "items" in schema:
        yield from _ways(schema["items"], "list")
    elif isinstance(schema.get("additionalProperties"), dict) and "properties" not in schema:
        yield from _ways(schema["additionalProperties"], "named")
    elif "anyOf" not in schema and schema.get("type") != "null":
        yield shape, schema


def _as_printed(words: list[str]) -> list[str]:
    """Of a word that may be written in two ways, that of the labels: ``TRS``, not ``trs``."""
    folded = {word.lower(): word for word in words}
    return list(folded.values())


def pieces() -> list[dict[str, Any]]:
    """What can be put into a board: ``title``, ``about``, ``then`` (what is left to do), and the lines for each section."""
    return YAML(typ="safe", pure=True).load(_PIECES.read_text("utf-8"))


def _starters(boards: Boards) -> list[dict[str, str]]:
    """The smallest examples that are in order."""
    small = sorted((each for each in boards.examples if not each.is_before), key=lambda each: len(each.board.spec.pedals))
    return [{"title": each.title, "address": each.address} for each in small[:_STARTERS]]
