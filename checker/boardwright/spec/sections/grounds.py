"""``grounds``: metal that joins grounds and is no lead: brackets, strips, rack ears, screws."""

from __future__ import annotations

from typing import Any

from pydantic import Field, GetJsonSchemaHandler, model_validator
from pydantic_core import CoreSchema

from boardwright.spec.fields import Reference, Resistance, Section, Text

EARTH, FRAME, ENCLOSURE = "earth", "frame", "enclosure"
"""Names that ``grounds`` may use besides those of things: protective earth, the frame, the mains enclosure."""


class GroundBond(Section):
    """``[hub, frame, bracket]``: two things and the metal that joins them; or the same as ``between`` and ``by``."""

    between: list[Reference] | None = Field(
        None, description="The two things; also `frame`, `enclosure` or `earth`, or a piece of metal named here.", min_length=2, max_length=2
    )
    by: Text | None = Field(None, description="What joins them, such as `bracket`.")
    resistance: Resistance | None = Field(None, description="Its resistance, where it was measured.")

    @model_validator(mode="before")
    @classmethod
    def _open(cls, value: Any) -> Any:
        if isinstance(value, list):
            return {"between": value[:2], **({"by": value[2]} if len(value) > 2 else {})}
        return value

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        mapping = handler.resolve_ref_schema(handler(schema))
        return {**mapping, "type": ["object", "array"], "items": {"type": "string"}, "minItems": 2, "maxItems": 3}
