"""A board as plain data that can be built up and broken, and written down as text."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

_PLAIN = re.compile(r"[A-Za-z0-9][\w.,/ >°²%+-]*\Z")
_AMBIGUOUS = re.compile(r"\A\d[\d.]*\Z|, ")


@dataclass
class Rig:
    """A board's sections, and what its builder remembers of them."""

    seed: int
    sections: dict[str, Any] = field(default_factory=dict)
    chain: list[str] = field(default_factory=list)
    """What the sound goes through one after another, from the guitar to where it parts or ends; a loop switcher is one step."""
    shape: str = "one"
    """How the sound gets to the amplifiers: see ``good_boards``."""
    rows: list[list[str]] = field(default_factory=list)
    """Boxes by row, from left to right; empty without a layout."""

    def section(self, name: str) -> dict[str, Any]:
        return self.sections.setdefault(name, {})

    @property
    def pedals(self) -> dict[str, Any]:
        return self.section("pedals")

    @property
    def amps(self) -> dict[str, Any]:
        return self.section("amps")

    @property
    def supplies(self) -> dict[str, Any]:
        return self.section("supplies")

    @property
    def audio(self) -> list[dict[str, Any]]:
        return self.sections.setdefault("audio", [])

    @property
    def runs(self) -> list[dict[str, Any]]:
        return self.sections.setdefault("runs", [])

    @property
    def hub(self) -> dict[str, Any] | None:
        return self.section("switchers").get("hub")

    @property
    def mains(self) -> dict[str, Any] | None:
        return self.sections.get("mains")

    @property
    def on_stage(self) -> bool:
        return self.sections["board"]["for"] != "home"

    def boxes(self) -> dict[str, dict[str, Any]]:
        """Everything that may stand on the board, by name."""
        return {**self.pedals, **self.section("switchers"), **self.supplies}

    def fed(self) -> dict[str, dict[str, Any]]:
        """Pedals and switchers that an outlet feeds."""
        return {name: box for name, box in {**self.pedals, **self.section("switchers")}.items() if "feed" in box}

    def outlet_of(self, box: str) -> str:
        feed = self.boxes()[box]["feed"]
        return feed["from"] if isinstance(feed, dict) else feed

    def is_further_plug(self, box: str) -> bool:
        """Whether it hangs on a daisy chain behind another box."""
        feed = self.boxes()[box]["feed"]
        return isinstance(feed, dict) and "after" in feed

    def on_outlet(self, outlet: str) -> list[str]:
        return [name for name in self.fed() if self.outlet_of(name) == outlet]

    def alone(self) -> list[str]:
        """Fed boxes that share their outlet with nobody."""
        return [name for name in self.fed() if len(self.on_outlet(self.outlet_of(name))) == 1]

    def gives(self, outlet: str) -> str:
        supply, number = outlet.split(".")
        return self.supplies[supply]["outlets"][number]

    def give(self, outlet: str, what: Any) -> None:
        supply, number = outlet.split(".")
        self.supplies[supply]["outlets"][number] = what

    def free_outlets(self) -> list[str]:
        taken = {self.outlet_of(name) for name in self.boxes() if "feed" in self.boxes()[name]}
        return [f"{supply}.{number}" for supply, said in self.supplies.items() for number in said["outlets"] if f"{supply}.{number}" not in taken]

    def drawn(self, box: str) -> int:
        """What a box draws, by its label [mA]."""
        return milliamps(self.boxes()[box]["needs"])

    def watts(self, supply: str) -> float:
        """What the boxes on a supply take, by their labels."""
        names = [name for name, box in self.boxes().items() if "feed" in box and self.outlet_of(name).split(".")[0] == supply]
        return sum(volts(self.gives(self.outlet_of(name))) * self.drawn(name) / 1000 for name in names)

    # --- the sound ----------------------------------------------------------------------------------------------------

    def hops(self) -> Iterator[tuple[dict[str, Any], str, str]]:
        """Entries of the sound, each with its two ends."""
        for entry in self.audio:
            start, end = entry["path"].split(" > ")
            yield entry, start, end

    def hop_into(self, box: str) -> dict[str, Any]:
        return next(entry for entry, _, end in self.hops() if end.split(".")[0] == box)

    def hop_from(self, jack: str) -> dict[str, Any]:
        return next(entry for entry, start, _ in self.hops() if start == jack)

    def insert(self, entry: dict[str, Any], name: str, box: dict[str, Any], section: str = "pedals") -> None:
        """Put a box into a lead: the old lead goes up to it, a new one leads on."""
        start, end = entry["path"].split(" > ")
        self.section(section)[name] = box
        lead = entry.pop("lead", None)
        entry["path"] = f"{start} > {name}"
        onward = {"path": f"{name} > {end}"}
        # a lead from or to something off the board stays with that end
        if lead is not None:
            (entry if start == "guitar" else onward)["lead"] = lead
        self.audio.append(onward)

    def text(self) -> str:
        lines: list[str] = []
        for name, said in self.sections.items():
            if isinstance(said, dict) and said and all(isinstance(each, dict) for each in said.values()) and name not in ("board", "place", "guitar", "mains", "upkeep"):
                lines += [f"{name}:", *(f"  {key}: {written(each)}" for key, each in said.items())]
            elif isinstance(said, list) and said:
                lines += [f"{name}:", *(f"  - {written(each)}" for each in said)]
            elif said:
                lines.append(f"{name}: {written(said)}")
        return "\n".join(lines) + "\n"


def written(value: Any) -> str:
    """A value in YAML's flow style."""
    match value:
        case dict():
            return "{" + ", ".join(f"{key}: {written(each)}" for key, each in value.items()) + "}"
        case list() | tuple():
            return "[" + ", ".join(written(each) for each in value) + "]"
        case str() if _PLAIN.match(value) and not _AMBIGUOUS.search(value):
            return value
        case str():
            return json.dumps(value, ensure_ascii=False)
        case _:
            return str(value)


def milliamps(phrase: str) -> int:
    return int(re.search(r"(\d+)mA", phrase)[1])  # type: ignore[index]


def volts(phrase: str) -> float:
    return float(re.match(r"[\d.]+", phrase)[0])  # type: ignore[index]


def with_milliamps(phrase: str, most: int) -> str:
    return re.sub(r"\d+mA", f"{most}mA", phrase)
