"""``stock``: the cable that leads are cut from."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from boardwright.spec.fields import ONE_OR_MORE, Length, Section, Size, choice
from boardwright.spec.sections.runs import CARRIES


class Stock(Section):
    """A kind of cable, and how much of it there is."""

    carries: choice(*CARRIES) | None = Field(None, description="What it is for.")
    od: Size | None = Field(None, description="Its outer diameter.")
    reels: Annotated[list[Length], ONE_OR_MORE] | None = Field(None, description="The lengths at hand, each reel and offcut.", max_length=100)
    sold_by: Length | None = Field(None, description="The length that more of it is bought in.")
