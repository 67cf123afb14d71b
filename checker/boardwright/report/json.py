"""The report as JSON."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import fields
from functools import cache
from itertools import repeat
from typing import Any

from boardwright.report.report import Report


def encode(value: Any, indent: int | None = None) -> str:
    """JSON of dataclasses, and of what may hold them: each an object, in the order of its fields."""
    return json.dumps(value, ensure_ascii=False, indent=indent, allow_nan=False, default=by_field)


def to_plain(value: Any) -> Any:
    """The same as dictionaries and lists."""
    return json.loads(encode(value))


def by_field(value: Any) -> dict[str, Any]:
    """The fields of a dataclass by name, what is in them left as it is.

    Raises: TypeError, for anything else.
    """
    names = _field_names(type(value))
    return dict(zip(names, map(getattr, repeat(value), names), strict=True))


@cache
def _field_names(of: type) -> tuple[str, ...]:
    return tuple(each.name for each in fields(of))


def to_json(report: Report, indent: int | None = 2) -> str:
    """The report by its schema, which ``boardwright schema report`` prints."""
    return encode(report, indent)


def all_to_json(reports: Mapping[str, Report]) -> str:
    """Several reports as one object, each by the file of its board."""
    return encode(dict(reports), indent=2)


def json_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of the answer, made from the classes themselves."""
    from pydantic import TypeAdapter

    schema = TypeAdapter(Report).json_schema(mode="serialization")
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "A report on a board", **schema}
