"""``upkeep``: when what was last looked after."""

from __future__ import annotations

import datetime
from typing import Annotated

from pydantic import Field

from boardwright.spec.fields import Duration, Read, Section, choice
from boardwright.spec.figure import Unreadable
from boardwright.spec.wording import shown

NEVER = "never"


def _date(text: str) -> datetime.date | str:
    if text.strip().lower() in (NEVER, "unknown"):
        return text.strip().lower()
    try:
        return datetime.date.fromisoformat(text.strip())
    except ValueError:
        raise Unreadable(f"{shown(text)} is no date.", "year, month and day, such as `2030-05-08`") from None


Date = Annotated[datetime.date | str, Read(_date, {"type": "string", "examples": ["2030-05-08"]})]


class Upkeep(Section):
    """When what was last done: a date, or `never`. Names under `battery`, `used` and `plugged` are those of pedals."""

    today: Date | None = Field(None, description="The day that all this is judged on.")
    next_show: Date | None = Field(None, description="The day of the next show.")
    battery: dict[str, Date] | None = Field(None, description="When a pedal's battery was last changed.")
    used: dict[str, Duration] | None = Field(None, description="For how long it has been played since.")
    plugged: dict[str, choice("always", "in-use")] | None = Field(
        None, description="Whether its input plug stays in, which draws on the battery day and night, or comes out after use."
    )
    leads: Date | None = Field(None, description="When every lead was last measured while it was bent.")
    fasteners: Date | None = Field(None, description="When screws, brackets and tapes were last tried.")
    jacks: Date | None = Field(None, description="When jacks were last cleaned.")
    fans: Date | None = Field(None, description="When fans and vents were last cleaned.")
    mains_test: Date | None = Field(None, description="When a qualified person last tested what has a mains cord.")
