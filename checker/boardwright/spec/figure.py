"""Quantities: a number, its unit, and how we know it."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass
from enum import IntEnum
from functools import lru_cache
from typing import NamedTuple

from boardwright.spec.wording import either, shown


class Origin(IntEnum):
    """How a value is known, the weakest first: what follows from several values is as good as the weakest."""

    UNKNOWN = 0
    ASSUMED = 1
    STATED = 2
    MEASURED = 3

    @property
    def word(self) -> str:
        return self.name.lower()


def weakest(origins: Iterable[Origin]) -> Origin:
    """The origin of what is worked out from values of these origins."""
    return min(origins, default=Origin.STATED)


class Figure(NamedTuple):
    """A quantity in SI units, single (``low == high``) or a range; both ``None`` when it is unknown."""

    low: float | None
    high: float | None
    unit: str
    origin: Origin = Origin.STATED

    @property
    def value(self) -> float:
        """The single value; of a range, its upper end. Only for figures that are known."""
        assert self.high is not None, "an unknown figure has no value"
        return self.high

    def value_or(self, otherwise: float) -> float:
        return otherwise if self.high is None else self.high

    @property
    def known(self) -> bool:
        return self.high is not None

    def __str__(self) -> str:
        if self.low is None or self.high is None:
            return "unknown"
        if self.low == self.high:
            return tell(self.high, self.unit)
        return f"{tell(self.low, self.unit)} to {tell(self.high, self.unit)}"

    def as_(self, origin: Origin) -> Figure:
        return self._replace(origin=origin)


def assumed(value: float, unit: str) -> Figure:
    return Figure(value, value, unit, Origin.ASSUMED)


def unknown(unit: str) -> Figure:
    return Figure(None, None, unit, Origin.UNKNOWN)


def figure(value: float, unit: str, origin: Origin = Origin.STATED) -> Figure:
    return Figure(value, value, unit, origin)


_PREFIXES = {-12: "p", -9: "n", -6: "µ", -3: "m", 0: "", 3: "k", 6: "M", 9: "G"}
_PLAIN_UNITS = {"": "", "%": " %", "dB": " dB", "dBu": " dBu", "dBV": " dBV", "°C": " °C", "m²": " m²", "W/m²K": " W/m²K", "AWG": " AWG", "min": " min", "h": " h", "days": " days"}


_ROUGH_UNITS = {"%": 2, "dBV": 2, "°C": 2}
"""Units in which a third digit says more than anyone knows."""


@lru_cache(maxsize=4096)
def tell(value: float, unit: str, digits: int | None = None) -> str:
    """A value as a person writes it: ``0.11, "A"`` is ``110 mA``; ``0.8, "%"`` is ``80 %``."""
    if not math.isfinite(value):
        return "beyond measure"
    value = float(f"{value:.12g}")  # so that the last bits, in which two Pythons add up differently, cannot turn a rounding
    value += 0.0  # a zero below zero is the same to what is remembered, and may not be told apart
    digits = digits or _ROUGH_UNITS.get(unit, 3)
    if unit in _PLAIN_UNITS or (unit == "Ω" and abs(value) < 1):
        shown = value * 100 if unit == "%" else value
        if not math.isfinite(shown):
            return "beyond measure"
        places = 0 if shown == 0 else max(0, digits - 1 - math.floor(math.log10(abs(shown))))
        text = f"{shown:.{min(places, 6)}f}"
        return (text.rstrip("0").rstrip(".") if "." in text else text).replace("-", "−", 1) + _PLAIN_UNITS.get(unit, f" {unit}")
    mantissa, _, power = f"{value:.{digits - 1}e}".partition("e")
    step = min(max(int(power) // 3 * 3, -12), 9)
    text = f"{float(f'{mantissa}e{int(power) - step}'):.{max(0, digits - 1 - int(power) + step)}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return f"{text} {_PREFIXES[step]}{unit}".replace("-", "−", 1) if value else f"0 {unit}"


# --- reading ------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Dimension:
    """What a field measures: the unit that is kept, the spellings that are read, an example, and sane bounds."""

    name: str
    unit: str
    spellings: tuple[str, ...]
    example: str
    least: float
    most: float
    bare: str = ""
    """The unit that a number without one has here, if it may have none (millimetres on the board)."""


VOLTAGE = Dimension("voltage", "V", ("volts", "volt", "V", "v"), "9 V", 0, 1000)
CURRENT = Dimension("current", "A", ("amps", "amp", "A", "a"), "45 mA", 0, 1000)
POWER = Dimension("power", "W", ("watts", "watt", "W", "w"), "15 W", 0, 100_000)
APPARENT_POWER = Dimension("apparent power", "VA", ("VA", "va"), "600 VA", 0, 100_000)
RESISTANCE = Dimension("resistance", "Ω", ("ohms", "ohm", "Ω", "Ω", "R", ""), "0.3 ohm", 0, 1e9)
LENGTH = Dimension("length", "m", ("metres", "metre", "meters", "meter", "m", "feet", "foot", "ft", "inches", "inch", "in"), "600 mm", 0, 1000)
PLACE = Dimension("place or size", "m", LENGTH.spellings, "120", -100, 100, bare="mm")
SIZE = Dimension("size", "m", LENGTH.spellings, "120", 1e-4, 100, bare="mm")
PATCH = Dimension("patch lead's length", "m", LENGTH.spellings, "400", 0, 1000, bare="mm")
FREQUENCY = Dimension("frequency", "Hz", ("Hz", "hz", "HZ"), "120 kHz", 0, 1e12)
TIME = Dimension("time", "s", ("seconds", "second", "s"), "1.5 ms", 0, 3600)
DURATION = Dimension("time in use", "s", ("hours", "hour", "h", "minutes", "minute", "min"), "6 h", 0, 1e9)
CAPACITANCE = Dimension("capacitance", "F", ("F",), "470 pF", 0, 1)
CAPACITANCE_PER_LENGTH = Dimension("capacitance per metre", "F/m", ("F/m",), "100 pF/m", 0, 1)
INDUCTANCE = Dimension("inductance", "H", ("H",), "2.5 H", 0, 1000)
MASS = Dimension("weight", "g", ("grams", "gram", "g", "lbs", "lb", "oz"), "900 g", 0, 1e6)
TEMPERATURE = Dimension("temperature", "°C", ("°C", "degC", "C"), "35 °C", -50, 150)
RATIO = Dimension("share", "%", ("%",), "85 %", 0, 1000)
GAIN = Dimension("gain", "dB", ("dB", "db", "DB"), "12 dB", -120, 200)
LEVEL_U = Dimension("level", "dBu", ("dBu",), "8 dBu", -200, 100)
AREA = Dimension("area", "m²", ("cm²", "cm2"), "60 cm²", 0, 100)

DIMENSIONS = (
    VOLTAGE, CURRENT, POWER, APPARENT_POWER, RESISTANCE, LENGTH, FREQUENCY, TIME, DURATION, CAPACITANCE, CAPACITANCE_PER_LENGTH,
    INDUCTANCE, MASS, TEMPERATURE, RATIO, GAIN, LEVEL_U, AREA,
)  # fmt: skip

_NUMBER = r"[+\-−]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?"
_SINGLE = re.compile(rf"(?P<number>{_NUMBER})\s*(?P<suffix>\D*?[²2]?)")
_RANGE = re.compile(rf"(?P<low>{_NUMBER})\s*(?P<unit>(?![eE][-–])[^\d\s–-]*)\s*(?:-|–|to)\s*(?P<high>{_NUMBER}.*)")
_LETTER_FOR_POINT = re.compile(r"(\d+)([pnuµμmkKMR])(\d+)\s*(\D*)")
_ORIGIN = re.compile(r"\s+\(?(measured|assumed|stated)\)?$", re.I)
_LONGEST = 100
_SCALES = {"": 0, "p": -12, "n": -9, "u": -6, "µ": -6, "μ": -6, "m": -3, "c": -2, "k": 3, "K": 3, "M": 6, "G": 9}
"""Powers of ten."""
_FIXED = {"%": -2, "cm²": -4, "cm2": -4}
"""Powers of ten of spellings that take no prefix."""
_FACTORS = {
    "feet": 0.3048, "foot": 0.3048, "ft": 0.3048, "inches": 0.0254, "inch": 0.0254, "in": 0.0254,
    "lbs": 453.59237, "lb": 453.59237, "oz": 28.349523125,
    "hours": 3600, "hour": 3600, "h": 3600, "minutes": 60, "minute": 60, "min": 60,
}  # fmt: skip
"""Spellings that are no powers of ten, in the unit that is kept; of feet, inches, pounds and ounces exact, by international
agreement of 1959."""


class Unreadable(ValueError):
    """A value that cannot be read: what is wrong, what may stand there, and what to write instead if that is plain."""

    def __init__(self, message: str, expected: str = "", instead: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.expected = expected
        self.instead = instead


@lru_cache(maxsize=8192)
def read_figure(text: str, dimension: Dimension) -> Figure:
    """Read ``45 mA``, ``9-18 V``, ``0 to 12 dB``, ``43 mA measured`` or ``unknown``.

    Raises: Unreadable, in words that show how the same value is written with its unit.
    """
    words, origin = text.strip(), Origin.STATED
    if words.lower() == "unknown":
        return unknown(dimension.unit)
    if len(words) > _LONGEST:
        raise Unreadable(f"{shown(words)} is too long for {_a(dimension.name)}.", f"such as `{dimension.example}`")
    if found := _ORIGIN.search(words):
        words, origin = words[: found.start()], Origin[found[1].upper()]
    if dimension in (RESISTANCE, CAPACITANCE):
        words = _LETTER_FOR_POINT.sub(r"\1.\3\2\4", words)
    span = _RANGE.fullmatch(words)
    if span:
        high = _single(span["high"], dimension, text)
        low_text = span["low"] + span["unit"] if span["unit"] else span["low"] + _suffix(span["high"])
        low = _single(low_text, dimension, text)
        if low > high:
            raise Unreadable(f"{shown(text)} runs downwards: write the smaller end first.", f"such as `{dimension.example}`")
        return Figure(low, high, dimension.unit, origin)
    value = _single(words, dimension, text)
    return Figure(value, value, dimension.unit, origin)


def _suffix(words: str) -> str:
    found = _SINGLE.fullmatch(words.strip())
    return found["suffix"] if found else ""


def _single(words: str, dimension: Dimension, whole: str) -> float:
    found = _SINGLE.fullmatch(words.strip())
    unit = "in millimetres" if dimension.bare else "with its unit"
    example = f"{_a(dimension.name)} {unit}, such as `{dimension.example}`"
    if found is None:
        if re.search(r"\d,\d", words):
            pointed = words.replace(",", ".")
            raise Unreadable(f"{shown(whole)} has a comma in the number: write a point.", f"such as `{pointed}`", whole.replace(words, pointed))
        raise Unreadable(f"{shown(whole)} is no {dimension.name}.", example)
    number, suffix = found["number"].replace("−", "-"), found["suffix"].strip()
    value = _scaled(number, suffix or dimension.bare, dimension)
    if value is None:
        if not suffix or (suffix in _SCALES and _scaled(number, suffix + dimension.spellings[-1], dimension) is not None):
            meant = _likely(number, suffix, dimension)
            instead = meant[0] if len(meant) == 1 and words == whole.strip() else ""
            raise Unreadable(f"{shown(whole)} has no unit. Did you mean {either(meant)}?", example, instead)
        celsius = _celsius(number, suffix) if dimension is TEMPERATURE else ""
        instead = celsius if words == whole.strip() else ""
        raise Unreadable(f"{_a(dimension.name).capitalize()} is due here. {_other(number, suffix, dimension)}", example, instead)
    if not dimension.least <= value <= dimension.most:  # also refuses nan and inf
        raise Unreadable(f"{shown(whole)} is beyond anything on a pedal board. Check the number and the unit.", example)
    return value


def _scaled(number: str, suffix: str, dimension: Dimension) -> float | None:
    """The number in the dimension's unit; ``None`` where the suffix is not one of its spellings."""
    if not suffix:
        return None  # only ``470k`` may leave its unit out, not ``470``
    if dimension.unit in ("m", "g"):
        suffix = suffix.lower()
    if suffix in _FACTORS and suffix in dimension.spellings:
        return float(number) * _FACTORS[suffix]
    tens = _FIXED.get(suffix) if suffix in dimension.spellings else None
    for spelling in dimension.spellings:
        if tens is None and suffix.endswith(spelling) and spelling not in _FACTORS and spelling not in _FIXED:
            scale = suffix.removesuffix(spelling).strip()
            if dimension is CURRENT and scale == "M":
                scale = "m"  # labels print MA; nobody means megaamps
            tens = _SCALES.get(scale)
    if tens is None:
        return None
    mantissa, _, power = number.lower().partition("e")
    return float(f"{mantissa}e{int(power or 0) + tens}")  # so put together, 45 mA and 0.045 A agree to the last bit


def _a(noun: str) -> str:
    return f"an {noun}" if noun[0] in "aeiou" else f"a {noun}"


def _likely(number: str, scale: str, dimension: Dimension) -> list[str]:
    """How a number that lacks its unit was probably meant."""
    if scale:
        return [f"{number} {scale}{dimension.unit}"]
    value = float(number)
    if dimension is RATIO and 0 < value <= 1:
        return [f"{value * 100:g} %"]
    if dimension is RESISTANCE:
        return [f"{number} ohm", f"{number}k"]
    if dimension is LENGTH and value < 30:
        return [f"{number} m"]
    if dimension is MASS and value < 30:
        return [f"{number} kg"]
    return [re.sub(_NUMBER, number, dimension.example, count=1)]


def _celsius(number: str, suffix: str) -> str:
    """Degrees Fahrenheit in the unit that is due; empty for anything else."""
    return f"{(float(number) - 32) / 1.8:.0f} °C" if suffix in ("F", "°F") else ""


def _other(number: str, suffix: str, dimension: Dimension) -> str:
    """What a value is that does not measure what is due."""
    written = shown(f"{number} {suffix}")
    if dimension is TEMPERATURE and (celsius := _celsius(number, suffix)):
        return f"{written} is about `{celsius}`: write that."
    if suffix.endswith(("Ah", "ah", "AH")):
        return f"{written} is how much a battery holds."
    other = next((each for each in DIMENSIONS if each is not dimension and _scaled(number, suffix, each) is not None), None)
    return f"{written} is {_a(other.name)}." if other else f"{shown(suffix)} is no unit that is known here."
