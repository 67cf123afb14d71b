"""``switchers``: boxes that send the sound one way or another, with loops, selectors, splits, mixes and taps."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import Field

from boardwright.spec.fields import (
    ONE_OR_MORE,
    Flag,
    Opens,
    PatchLength,
    Place,
    Read,
    Reference,
    Section,
    Text,
    choice,
    one_or_more,
    opens_from,
)
from boardwright.spec.figure import Unreadable
from boardwright.spec.sections.boxes import Box, ExpressionJack, Midi, Polarity, Sound, SwitchJack

EMPTY = "empty"
START, END = "start", "end"
_AFTER = re.compile(r"after\s+([\w-]+)")


@dataclass(frozen=True, slots=True)
class Tap:
    """A place along a switcher's loops: behind one of them, at its input (``start``) or at its output (``end``)."""

    after: str

    def __str__(self) -> str:
        return self.after if self.after in (START, END) else f"after {self.after}"


def read_tap(text: str) -> Tap:
    """``after 10``, ``start`` or ``end``; ``in`` and ``out`` are other words for the last two."""
    word = {"in": START, "out": END}.get(text.strip().lower(), text.strip())
    if word.lower() in (START, END):
        return Tap(word.lower())
    found = _AFTER.fullmatch(word)
    if not found:
        raise Unreadable(f"`{text}` is no place in a switcher.", "`after 3` (the loop's name), `start` or `end`")
    return Tap(found[1])


Taps = Annotated[Tap, Read(read_tap, {"type": "string", "examples": ["after 3", START, END]})]


def _buffers(value: Any) -> Any:
    """``both`` is ``[in, out]``; ``none`` is an empty list."""
    if isinstance(value, str) and value.strip().lower() in ("both", "none"):
        return [START, END] if value.strip().lower() == "both" else []
    return one_or_more(value)


def _loop(value: Any) -> Any:
    if isinstance(value, str) and value.strip().lower() == EMPTY:
        return {EMPTY: "yes"}
    return value if isinstance(value, dict) else {"unit": value}


class Loop(Section):
    """A loop or an insert. ``fuzz`` or ``[chorus, trem]`` alone is what stands in it; ``empty`` is free for visitors."""

    unit: Annotated[list[Reference], ONE_OR_MORE] | None = Field(None, description="The boxes in it, in the order of the sound.")
    send_to: Reference | None = Field(None, description="Where its send leads, if its return comes from another box.")
    return_from: Reference | None = Field(None, description="Where its return comes from.")
    send: PatchLength | None = Field(None, description="Length of the lead from its send.")
    back: PatchLength | None = Field(None, description="Length of the lead to its return.")
    empty: Flag | None = Field(None, description="Whether nothing is plugged in, on purpose.")
    normalled: Flag | None = Field(None, description="Whether the sound passes when it is engaged with nothing plugged in.")
    send_only: Flag | None = Field(None, description="Whether nothing is meant to come back.")
    mode: choice("loop", "input") | None = Field(None, description="`input` where the return is used as an input of its own.")
    stereo: Flag | None = Field(None, description="Whether it sends and returns two channels, so that what follows is stereo.")
    keeps_return: Flag | None = Field(None, description="Whether its return stays connected while it is off, so that tails ring on.")


Loops = dict[str, Annotated[Loop, Opens(_loop)]]


class Out(Section):
    """An output tapped along the loops. ``after 10`` alone is where."""

    tap: Taps | None = Field(None, description="Where it is taken: `after 10`, `start` or `end`. It comes behind what is inserted there.")
    polarity: Polarity | None = Field(None, description="Whether it turns the signal upside down.")
    screen: choice("lifted", "through") | None = Field(None, description="`lifted` where a transformer in the box breaks its ground.")


class Relay(Section):
    """A contact for switching an amplifier's channels."""

    contact: choice("normally-open", "normally-closed") | None = Field(None, description="Whether the contact rests open or closed.")
    floating: Flag | None = Field(None, description="Whether the contact touches nothing else in the box.")


def _positions(value: Any) -> Any:
    """A list of names is a set of positions that say nothing of what is plugged in."""
    return {name: [] for name in value if isinstance(name, str)} if isinstance(value, list) else value


Ways = Annotated[dict[str, Annotated[list[Text], ONE_OR_MORE]], Opens(_positions)]


class Switcher(Sound, Box):
    """A loop switcher, selector, splitter or mixer."""

    kind: choice("loop-switcher", "selector", "splitter", "mixer") | None = Field(None, description="What it is, if its other keys do not say.")
    loops: Loops | None = Field(None, description="Its loops by name or number, in the order of the sound; each is a switch.")
    inserts: dict[Taps, Annotated[Loop, Opens(_loop)]] | None = Field(
        None, description="What is always in, such as `after 10: vol`."
    )
    outs: dict[str, Annotated[Out, opens_from("tap")]] | None = Field(None, description="Outputs by name, with where each is taken.")
    buffer: Annotated[list[Taps], Opens(_buffers)] | None = Field(
        None, description="Where it buffers the sound: `in`, `out`, `both`, `after 2`, a list of these, or `none`."
    )
    select: Ways | None = Field(
        None, description="Positions of a selector, of which one is on: each with where it leads (or comes from), `none`, or a list of positions."
    )
    split: Ways | None = Field(None, description="Outputs that all carry the sound, each with where it leads.")
    mix: Ways | None = Field(None, description="Inputs that are added together, each with where it comes from.")
    mixing: choice("active", "passive") | None = Field(None, description="How a mix is made: by an amplifier, or by resistors.")
    relays: dict[str, Relay] | None = Field(None, description="Contacts that switch other things, by name.")
    switch_pitch: Place | None = Field(None, description="Distance between the middles of its footswitches.")
    midi: Midi | None = Field(None, description="What it does with MIDI.")
    exp: ExpressionJack | None = Field(None, description="What it wants from an expression pedal.")
    switch_in: SwitchJack | None = Field(None, description="What it wants from an external footswitch.")

    def in_order(self) -> Iterator[tuple[str | None, Loop]]:
        """Loops with their names, and inserts with ``None``, in the order of the sound."""
        inserts = {tap.after: insert for tap, insert in (self.inserts or {}).items()}
        for name, loop in {START: None, **(self.loops or {}), END: None}.items():
            if loop is not None:
                yield name, loop
            if name in inserts:
                yield None, inserts[name]
