"""How a box stands on the board: what boxes and supplies have in common there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import Field

from boardwright.spec.fields import ONE_OR_MORE, Area, Flag, Opens, Place, Read, Section, choice
from boardwright.spec.figure import PLACE, Figure, Unreadable, read_figure

SIDES = ("left", "right", "front", "rear")
PORT_WORDS = ("usb", "battery", "control", "switch", "fuse", "mains")
HOLDS = ("hook-and-loop", "screws", "brackets", "ties")

Fixing = choice(*HOLDS)


def _row(text: str) -> int | None:
    if text.strip().lower() == "unknown":
        return None
    if not text.strip().isdecimal() or not 1 <= int(text) <= 20:
        raise Unreadable(f"`{text}` is no row.", "a whole number; 1 is the row nearest to the player")
    return int(text)


Row = Annotated[int | None, Read(_row, {"type": ["integer", "string"], "minimum": 1, "maximum": 20})]


def _turn(text: str) -> int | None:
    if text.strip().lower() == "unknown":
        return None
    if text.strip() not in ("0", "90", "180", "270"):
        raise Unreadable(f"`{text}` is no quarter turn.", "`0`, `90`, `180` or `270`, clockwise")
    return int(text)


Turn = Annotated[int | None, Read(_turn, {"type": ["integer", "string"], "enum": [0, 90, 180, 270, "unknown"]})]


@dataclass(frozen=True, slots=True)
class Port:
    """Something on a side of a box that fingers must reach."""

    side: str
    offset: Figure | None = None
    what: str = "control"


def _port(value: Any) -> Any:
    """``[right, 60, fuse]`` as one text, so that it is read like any other value."""
    return " ".join(value) if isinstance(value, list) and all(isinstance(each, str) for each in value) else value


def _read_port(text: str) -> Port:
    words = text.split()
    if not words or words[0].lower() not in SIDES:
        raise Unreadable(f"`{text}` does not begin with a side.", "such as `[right, 60]` or `[rear, 40, fuse]`")
    side, rest = words[0].lower(), words[1:]
    what = rest.pop().lower() if rest and rest[-1].lower() in PORT_WORDS else "control"
    return Port(side, read_figure(" ".join(rest), PLACE) if rest else None, what)


def _pairs(value: Any) -> Any:
    """A list of lists; one by itself is enough."""
    return [value] if isinstance(value, list) and value and isinstance(value[0], str) else value


_PortText = Annotated[Port, Read(_read_port, {"type": ["array", "string"], "examples": [["right", 60, "usb"]]}), Opens(_port)]
Ports = Annotated[list[_PortText], Opens(_pairs)]
Corner = Annotated[list[Place], Field(min_length=2, max_length=2)]


class Placed(Section):
    """How something stands on the board, beyond its size and corner."""

    row: Row = Field(None, description="The row it stands in, where `at` is not given; 1 is nearest to the player.")
    turn: Turn = Field(None, description="How far it is turned clockwise, in degrees. `size` is as at 0.")
    across_rows: Flag | None = Field(None, description="Whether it stands across rows of different height on purpose, on feet of its own.")
    held_by: Fixing | None = Field(None, description="What holds it to the frame, if not what `board.fixing` says.")
    fix_area: Area | None = Field(None, description="How much hook-and-loop is under it.")
    ports: Ports | None = Field(
        None,
        description="What fingers must reach on its sides: side, place along it, and one of " + ", ".join(PORT_WORDS) + ". `[right, 60, usb]`.",
    )


class UnderFoot(Section):
    """What a foot and a lid need to know of a box."""

    use: choice("often", "sometimes", "rare") | None = Field(None, description="How often a foot uses it.")
    knob_height: Place | None = Field(None, description="How high its highest knob or switch stands above the deck it stands on.")
    switch_at: Annotated[list[Corner], Opens(_pairs)] | None = Field(
        None, description="Where its footswitches are, from its own left and front edge; one pair, or a list of pairs."
    )
    footplate: Annotated[list[Place], ONE_OR_MORE] | None = Field(
        None, description="Room that a treadle's footplate needs beyond the box: in front, and behind.", min_length=1, max_length=2
    )
    treadle_up: Place | None = Field(None, description="A treadle's height with the toe up, as it travels.")
