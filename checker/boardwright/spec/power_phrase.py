"""The power phrase: ``9V dc centre-negative 45mA``, as it is read off a label, for what is needed and what is given."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from boardwright.spec.figure import CURRENT, VOLTAGE, Figure, Unreadable, read_figure, tell, unknown
from boardwright.spec.wording import shown


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
_LONGEST = 120
_VOLTS = re.compile(r"(?<![\w.,/])\d[\d.]*(?:\s*v(?:olts?)?)?\s*(?:(?:[-–]|to)\s*\d[\d.]*\s*)?v(?:olts?)?(?=\s|$)", re.I)
_AMPS = re.compile(r"(?<![\w.,/])\d[\d.]*\s*m?(?:a|amps?)(?=\s|$)", re.I)

_OTHER_WAYS = tuple(
    (re.compile(pattern, re.I), said)
    for pattern, said in (
        ("×", "x"),
        (r"(?<=\d)\s*v(?:olts?)?\s*(?:⎓|dc)(?=[\s,;]|$)", "V dc"),
        (r"(?<=\d)\s*v(?:olts?)?\s*(?:∿|~|ac)(?=[\s,;]|$)", "V ac"),
        (r"(?<![\w.])(dc|ac)(?=\d)", r"\1 "),
        (r"cent(?:er|re)[\s-]*(?:neg(?:ative)?\b\.?|minus\b|\([-−]\))", "centre-negative"),
        (r"cent(?:er|re)[\s-]*(?:pos(?:itive)?\b\.?|plus\b|\(\+\))", "centre-positive"),
        (r"(?<!cent(?:er|re)[\s-])\b(?:negative|minus)[\s-]+cent(?:er|re)\b", "centre-negative"),
        (r"(?<!cent(?:er|re)[\s-])\b(?:positive|plus)[\s-]+cent(?:er|re)\b", "centre-positive"),
        (r"\bmilli\s?amp(?:ere)?s?\b", "mA"),
        (r"(?<![\w.])(?:5\.5\s*(?:mm)?\s*[x/]\s*)?(2\.[15])\s*mm(?=[\s,;]|$)", r"5.5x\1"),
        (r"\b3\.5\s*(?:mm)?[\s-]*mini\b", "3.5-mini"),
        (r"\b4[\s-]?pin\b", "4-pin"),
        (r"(?:^|(?<=\s))(?:max(?:imum)?|min(?:imum)?|regulated|stabili[sz]ed)\b\.?|[<≤](?=\s*\d)", " "),
        (r"[,;.](?=\s|$)|(?<![\dvV]\s)(?<=\s)[-–—/](?=\s)|(?<=\s)[-–—/](?=\s+(?!\d[\d.]*\s*v))", " "),
    )
)
"""What labels and people write, and how a phrase says it."""
_ORIGIN = re.compile(r"\s\(?(measured|assumed|stated)\)?(?=\s|$)", re.I)
_ABOUT = re.compile(r"(?:^|(?<=\s))(?:about|approx(?:imately)?\b\.?|circa|~(?=\s*\d))", re.I)


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
    if text.strip().lower() == "unknown":
        return UNKNOWN_POWER
    if len(text) > _LONGEST:
        raise Unreadable(f"{shown(text)} is too long for a power label.", _EXAMPLE)
    rest = f" {text.strip()} "
    for pattern, said in _OTHER_WAYS:
        rest = pattern.sub(said, rest)
    rest, about = _ABOUT.subn(" ", rest)
    origin = found[0] if (found := _ORIGIN.search(rest)) else " assumed" if about else ""
    rest = _ORIGIN.sub(" ", rest)
    volts, rest = _take(_VOLTS, rest)
    amps, rest = _take(_AMPS, rest)
    said: dict[type, Flow | Polarity | str] = {}
    said_unknown = False
    for word in rest.split():
        plain = word.lower()
        known = next((kind(plain) for kind in (Flow, Polarity) if plain in set(kind)), plain if plain in PLUGS else None)
        if known is not None:
            if said.setdefault(type(known), known) != known:
                raise Unreadable(f"{shown(text)} says both `{said[type(known)]}` and `{known}`.", _EXAMPLE)
        elif plain in ("polarity-unknown", "unknown"):
            said_unknown = True
        else:
            raise Unreadable(*_leftover(text, word, volts, amps))
    flow, polarity, plug = said.get(Flow), said.get(Polarity), said.get(str)
    if volts is None and flow is None and polarity is None and amps is None and not said_unknown:
        raise Unreadable(f"{shown(text)} does not say volts, dc or ac, polarity and current.", _EXAMPLE)
    if flow is Flow.AC and polarity is not None:
        raise Unreadable(f"{shown(text)}: ac swings both ways, so its plug has no polarity.", "such as `9V ac 500mA`")
    if gives and flow is not Flow.AC and polarity is None and plug not in _WITHOUT_POLARITY:
        unsure = " An outlet whose polarity is not known feeds nothing yet: measure it with nothing plugged in." if said_unknown else ""
        raise Unreadable(f"{shown(text)} does not say which way round the plug is.{unsure}", "`centre-negative` or `centre-positive`")
    if flow is None and polarity is not None:
        flow = Flow.DC  # only dc has one
    phrase = PowerPhrase(
        volts=read_figure(volts, VOLTAGE) if volts else unknown("V"),
        flow=flow,
        polarity=polarity,
        current=read_figure(amps + origin, CURRENT) if amps else unknown("A"),
        plug=plug,
    )
    _no_slip(phrase, gives)
    return phrase


_MOST_VOLTS, _MOST_NEEDED, _MOST_GIVEN = 60.0, 10.0, 20.0
"""Beyond these volts and amperes a label of a pedal or an outlet was written down with a slip. Bench experience; no rule judges by them."""
_USUAL_VOLTS = (9.0, 12.0, 15.0, 18.0, 24.0)
_WALL_VOLTS = (100.0, 110.0, 115.0, 120.0, 127.0, 220.0, 230.0, 240.0)


def _no_slip(phrase: PowerPhrase, gives: bool) -> None:
    """Refuse what no pedal and no outlet can be: a point or a letter was forgotten, and solemn sums would follow from it."""
    most = _MOST_GIVEN if gives else _MOST_NEEDED
    what = "one outlet gives" if gives else "any pedal takes"
    if phrase.current.known and phrase.current.high > most:
        meant = tell(phrase.current.high / 1000, "A").replace(" ", "")
        raise Unreadable(f"{phrase.current}? That is more than {what}. Did you mean `{meant}`?", _EXAMPLE)
    if phrase.volts.known and phrase.volts.high > _MOST_VOLTS:
        if phrase.volts.high in _WALL_VOLTS or (phrase.flow is Flow.AC and phrase.volts.high > _WALL_VOLTS[0]):
            said = "That is the wall's voltage. What plugs into the wall says so as `input`, beside what its outlets give."
        else:
            usual = next((volts for volts in _USUAL_VOLTS if phrase.volts.high in (volts * 10, volts * 100)), None)
            said = f"That is more than a pedal board has.{f' Did you mean `{usual:g}V`?' if usual else ''}"
        raise Unreadable(f"{phrase.volts}? {said}", _EXAMPLE)


def _take(pattern: re.Pattern[str], text: str) -> tuple[str | None, str]:
    found = pattern.search(text)
    return (found[0], f"{text[: found.start()]} {text[found.end() :]}") if found else (None, text)


def _leftover(text: str, word: str, volts: str | None, amps: str | None) -> tuple[str, str, str]:
    """Why a word cannot be part of a phrase, what could, and the phrase as it was meant, where that is plain."""
    if why := _why(text, word, volts, amps):
        return why, _EXAMPLE, _meant(text, word, volts, amps)
    return f"{shown(word)} in {shown(text)} is not part of a power phrase.", f"{_EXAMPLE}; plugs are {', '.join(PLUGS)}", ""


def _meant(text: str, word: str, volts: str | None, amps: str | None) -> str:
    """The phrase with the unit that its number lacks, if only one is missing; empty otherwise."""
    unit = "mA" if volts and not amps else "V" if amps and not volts else ""
    if not unit or not re.fullmatch(r"\d[\d.]*", word):
        return ""
    meant, many = re.subn(rf"(?<![\w.]){re.escape(word)}(?![\w.])", f"{word}{unit}", text.strip())
    return meant if many == 1 else ""


def _why(text: str, word: str, volts: str | None, amps: str | None) -> str | None:
    bare, whole = word.strip("~<>"), shown(text)
    if re.fullmatch(r"[\d.]+", bare):
        if bare == text.strip():
            return f"{whole} has no units: volts, dc or ac, the plug's polarity and the current are due."
        meant = f"`{bare}mA`" if volts and not amps else f"`{bare}V`" if amps and not volts else f"`{bare}V` or `{bare}mA`"
        return f"`{bare}` in {whole} has no unit. Did you mean {meant}?"
    if re.search(r"\d,\d", word):
        return f"{shown(word)} has a comma in the number: write a point."
    if re.search(r"\d\s*v.*/.*v", word, re.I):
        return f"{shown(word)} names two voltages: write a range such as `9-18V`, or the one that is set."
    if re.fullmatch(r"[\d.]+m?ah", word, re.I):
        return f"{shown(word)} is how much a battery holds; the current is due, such as `45mA`."
    if (volts and _VOLTS.fullmatch(word)) or (amps and _AMPS.fullmatch(word)):
        kind, first = ("voltages", volts) if _VOLTS.fullmatch(word) else ("currents", amps)
        return f"{whole} says two {kind}, `{str(first).strip()}` and `{word}`."
    if re.search(r"neg|pos|minus|plus|tip|sleeve|^\(?[-+−]\)?$", word, re.I):
        return f"{shown(word)} in {whole} does not say what is inside the plug: `centre-negative` or `centre-positive`?"
    if word.lower() == "battery":
        return "A battery is where power comes from: write `feed: battery`, and here what the label asks for."
    if word.lower() == "unregulated":
        return "`unregulated` stands beside the phrase: `{gives: …, regulated: no}`."
    return None
