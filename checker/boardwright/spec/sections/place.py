"""``place``: where the board is used, and what comes out of the wall there."""

from __future__ import annotations

import re
from typing import Annotated

from pydantic import Field

from boardwright.spec.fields import NOTHING, ONE_OR_MORE, Current, Flag, Read, Section, Temperature, Text, opens_from
from boardwright.spec.figure import CURRENT, Figure, Unreadable, read_figure
from boardwright.spec.mains_phrase import WallSupply, read_wall_supply


def _country(text: str) -> str:
    word = text.strip().upper()
    if not re.fullmatch("[A-Z]{2}", word):
        raise Unreadable(f"`{text}` is no country code.", 'the country\'s two letters in quotes, such as `"DE"`')
    return {"UK": "GB", "EL": "GR"}.get(word, word)


Country = Annotated[str, Read(_country, {"type": "string", "pattern": "^[A-Za-z]{2}$", "examples": ["DE"]})]
Supply = Annotated[WallSupply, Read(read_wall_supply, {"type": "string", "examples": ["230V 50Hz"]})]


def _trip(text: str) -> Figure | str:
    return NOTHING if text.strip().lower() == NOTHING else read_figure(text, CURRENT)


TripCurrent = Annotated[Figure | str, Read(_trip, {"type": "string", "examples": ["30mA", NOTHING]})]


class WallCircuit(Section):
    """A circuit behind the wall. Its rating by itself is enough: ``16A``."""

    rating: Current | None = Field(None, description="What its breaker or fuse is rated for.")
    outlet_group: Text | None = Field(None, description="The outlets that belong to it, in your words.")
    phase: Text | None = Field(None, description="The phase it is on, such as `L1`.")
    dimmer: Flag | None = Field(None, description="Whether dimmers or big motors are on it too.")
    earthed: Flag | None = Field(None, description="Whether its outlets have an earth that was tested.")


class Place(Section):
    """Where the board is used."""

    country: Annotated[list[Country], ONE_OR_MORE] | None = Field(
        None, description="The country's two letters, in quotes; or a list of them for a tour."
    )
    mains: Annotated[list[Supply], ONE_OR_MORE] | None = Field(
        None, description="What the wall gives, such as `230V 50Hz`; a list where it differs. It stands above `country`."
    )
    outdoor: Flag | None = Field(None, description="Whether it is used outdoors, if only now and then.")
    damp: Flag | None = Field(None, description="Whether the place is damp: a cellar, a tent, wet ground.")
    generator: Flag | None = Field(None, description="Whether the power comes from a generator.")
    rcd: TripCurrent | None = Field(
        None, description="The trip current of the residual-current device (RCD, GFCI) ahead of everything, such as `30mA`; or `none`."
    )
    circuits: dict[str, Annotated[WallCircuit, opens_from("rating")]] | None = Field(None, description="Wall circuits by a name of your own.")
    ambient: Temperature | None = Field(None, description="How warm the air gets where the board stands.")
