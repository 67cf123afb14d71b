"""The report as JSON."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from functools import cache
from typing import Any

from boardwright.report.report import Report


def to_plain(value: Any) -> Any:
    """Dataclasses to dictionaries, in the order of their fields."""
    if isinstance(value, list | tuple):
        return [to_plain(each) for each in value]
    return {name: to_plain(getattr(value, name)) for name in names} if (names := _field_names(type(value))) else value


@cache
def _field_names(of: type) -> tuple[str, ...]:
    return tuple(each.name for each in fields(of)) if is_dataclass(of) else ()


def to_json(report: Report, indent: int | None = 2) -> str:
    """The report by its schema, which ``boardwright schema report`` prints."""
    return json.dumps(to_plain(report), ensure_ascii=False, indent=indent, allow_nan=False)


def all_to_json(reports: Mapping[str, Report]) -> str:
    """Several reports as one object, each by the file of its board."""
    return json.dumps({file: to_plain(report) for file, report in reports.items()}, ensure_ascii=False, indent=2, allow_nan=False)


def json_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of the answer, made from the classes themselves."""
    from pydantic import TypeAdapter

    schema = TypeAdapter(Report).json_schema(mode="serialization")
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "A report on a board", **schema}
