"""The language as JSON Schema (2020-12) and as a reference page, both made from the section models."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, TypeAdapter

from boardwright.spec.language import ALIASES, SECTIONS, SectionKind, Shape


def json_schema() -> dict[str, Any]:
    """JSON Schema of a whole board, for editors that complete and check while typing."""
    definitions: dict[str, Any] = {}
    properties: dict[str, Any] = {}
    for kind in SECTIONS.values():
        schema = TypeAdapter(kind.model).json_schema(ref_template="#/$defs/{model}", by_alias=True)
        definitions |= schema.pop("$defs", {})
        definitions[kind.model.__name__] = schema
        properties[kind.key] = _shaped(kind)
    for alias, key in ALIASES.items():
        properties[alias] = properties[key]
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A pedal board",
        "type": "object",
        "properties": properties,
        "additionalProperties": False,
        "$defs": definitions,
    }


def _shaped(kind: SectionKind) -> dict[str, Any]:
    entry: dict[str, Any] = {"$ref": f"#/$defs/{kind.model.__name__}"}
    if kind.short:
        entry = {"anyOf": [{"type": "string"}, entry]}
    about = (kind.model.__doc__ or "").strip().split("\n")[0]
    if kind.shape is Shape.ONE:
        return {**entry, "description": about}
    if kind.shape is Shape.NAMED:
        return {"type": "object", "additionalProperties": entry, "description": about}
    return {"type": "array", "items": entry, "description": about}


def fields_of(model: type[BaseModel]) -> list[tuple[str, str, Any]]:
    """Each key of a section with its description and its JSON Schema, in the order of the model."""
    schema = TypeAdapter(model).json_schema(by_alias=True)
    return [(key, about.get("description", ""), about) for key, about in schema.get("properties", {}).items()]
