"""``accept``: findings that are known and meant."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from boardwright.spec.fields import ONE_OR_MORE, Section, Text, ThingName


class Accept(Section):
    """A finding that is meant to be so. It is shown as accepted; a danger can never be."""

    rule: Text | None = Field(None, description="The rule's name, as the finding gives it.")
    for_: Annotated[list[ThingName], ONE_OR_MORE] | None = Field(
        None, alias="for", description="The things it is about; without it, the whole board."
    )
    because: Text | None = Field(None, description="Why. Whoever reads the board next will ask.")
