"""The power phrase: ``9V dc centre-negative 45mA``, as it is read off a label, for what is needed and what is given."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from boardwright.spec.figure import CURRENT, VOLTAGE, Figure, Unreadable, read_figure, unknown


class Flow(StrEnum):
    DC = "dc"
    AC = "ac"
    EITHER = "ac-or-dc"


class Polarity(StrEnum):
    CENTRE_NEGATIVE = "centre-negative"
    CENTRE_POSITIVE = "centre-positive"

    @property
    def opposite(self) -> Polarity:
        return _OPPOSITE[self]


_OPPOSITE = {
    Polarity.CENTRE_NEGATIVE: Polarity.CENTRE_POSITIVE,
    Polarity.CENTRE_POSITIVE: Polarity.CENTRE_NEGATIVE,
}

BARREL_21, BARREL_25 = "5.5x2.1", "5.5x2.5"
PLUGS = (BARREL_21, BARREL_25, "3.5-mini", "snap", "usb-a", "usb-c", "din", "4-pin", "iec")
_WITHOUT_POLARITY = ("snap", "usb-a", "usb-c", "din", "4-pin", "iec")
"""Plugs that have no centre, so that a phrase may leave the polarity out."""

_EXAMPLE = "a phrase such as `9V dc centre-negative 45mA`"
_VOLTS = re.compile(r"\d[\d.]*\s*[vV]?\s*(?:[-–]|to)?\s*\d*[\d.]*\s*[vV](?:olts?)?(?=\s|$)")
_AMPS = re.compile(r"(?:\d[\d.]*\s*m?[aA](?:mps?)?)(?=\s|$)", re.I)


@dataclass(frozen=True, slots=True)
class PowerPhrase:
    """What a device needs or an outlet gives. What the phrase does not say is unknown or ``None``."""

    volts: Figure
    flow: Flow | None
    polarity: Polarity | None
    current: Figure
    plug: str | None = None

    def __str__(self) -> str:
        parts = [self.volts if self.volts.known else None, self.flow, self.polarity]
        parts += [self.current if self.current.known else None, self.plug]
        return " ".join(str(part) for part in parts if part is not None) or "unknown"

    @property
    def nominal(self) -> float | None:
        """Volts (V) that the load is built around: of a range, the lower end, where it draws most."""
        return self.volts.low


UNKNOWN_POWER = PowerPhrase(unknown("V"), None, None, unknown("A"))


@lru_cache(maxsize=4096)
def read_power(text: str, gives: bool = False) -> PowerPhrase:
    """Read a phrase. ``gives``: it describes an outlet, whose plug polarity must be said.

    Raises: Unreadable.
    """
    rest = f" {text.strip()} "
    if rest.strip().lower() == "unknown":
        return UNKNOWN_POWER
    origin = ""
    for word in (" measured ", " assumed ", " stated "):
        if word in rest:
            rest, origin = rest.replace(word, " "), word.rstrip()
    volts, rest = _take(_VOLTS, rest)
    amps, rest = _take(_AMPS, rest)
    flow: Flow | None = None
    polarity: Polarity | None = None
    plug: str | None = None
    said_unknown = False
    leftover: list[str] = []
    words = rest.replace("3.5 mini", "3.5-mini").replace("4 pin", "4-pin").split()
    for word in words:
        plain = word.lower().replace("center", "centre").replace("×", "x")
        if plain in set(Flow):
            flow = Flow(plain)
        elif plain in set(Polarity):
            polarity = Polarity(plain)
        elif plain in ("polarity-unknown", "unknown"):
            said_unknown = True
        elif plain in PLUGS:
            plug = plain
        else:
            leftover.append(word)
    if leftover:
        raise Unreadable(_leftover_message(text, leftover[0]), f"{_EXAMPLE}; plugs are {', '.join(PLUGS)}")
    if volts is None and flow is None and polarity is None and amps is None:
        raise Unreadable(f"`{text}` does not say volts, dc or ac, polarity and current.", _EXAMPLE)
    if flow is Flow.AC and polarity is not None:
        raise Unreadable(f"`{text}`: ac swings both ways, so its plug has no polarity.", "such as `9V ac 500mA`")
    if gives and flow is not Flow.AC and polarity is None and plug not in _WITHOUT_POLARITY:
        unsure = " An outlet whose polarity is not known feeds nothing yet: measure it with nothing plugged in." if said_unknown else ""
        raise Unreadable(f"`{text}` does not say which way round the plug is.{unsure}", "`centre-negative` or `centre-positive`")
    if flow is None and polarity is not None:
        flow = Flow.DC  # only dc has one
    return PowerPhrase(
        volts=read_figure(volts, VOLTAGE) if volts else unknown("V"),
        flow=flow,
        polarity=polarity,
        current=read_figure(amps + origin, CURRENT) if amps else unknown("A"),
        plug=plug,
    )


def _take(pattern: re.Pattern[str], text: str) -> tuple[str | None, str]:
    found = pattern.search(text)
    return (found[0], text[: found.start()] + text[found.end() :]) if found else (None, text)


def _leftover_message(text: str, word: str) -> str:
    if re.fullmatch(r"[\d.]+", word):
        if word == text.strip():
            return f"`{text}` has no units: volts, dc or ac, the plug's polarity and the current are due."
        return f"`{word}` in `{text}` has no unit: `{word}V` or `{word}mA`?"
    return f"`{word}` in `{text}` is not part of a power phrase."
