"""``place``: where the board is used."""

from __future__ import annotations

from typing import Annotated

from pydantic import BeforeValidator, Field

from boardwright.spec.fields import Section, Temperature, Text, one_or_more


class Place(Section):
    """Where the board is used."""

    country: Annotated[list[Text], BeforeValidator(one_or_more)] | None = Field(
        None, description="The country's two letters, in quotes; or a list of them for a tour."
    )
    ambient: Temperature | None = Field(None, description="How warm the air gets where the board stands.")
