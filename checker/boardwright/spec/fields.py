"""The types that sections are made of: how a written value becomes a figure, a word, a place or a reference.

Each type reads text (nothing else has been decided about it by then) and describes itself for the JSON Schema.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated, Any, NamedTuple

from pydantic import BaseModel, ConfigDict, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import PydanticCustomError, core_schema

from boardwright.spec import figure as f
from boardwright.spec.figure import Dimension, Figure, Unreadable, read_figure
from boardwright.spec.power_phrase import PowerPhrase, read_power
from boardwright.spec.wording import MOST_LISTED, either, nearest, shown


class Section(BaseModel):
    """A part of a board as written. Unknown keys are errors; what is not written is ``None``."""

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True, arbitrary_types_allowed=True, populate_by_name=True)


def teach(message: str, expected: str = "", instead: str = "") -> PydanticCustomError:
    return PydanticCustomError("teach", "{message}", {"message": message, "expected": expected, "instead": instead})


@dataclass(frozen=True, eq=False)
class Read:
    """A pydantic annotation: read text with ``how``; say the rest to the JSON Schema."""

    how: Callable[[str], Any]
    json_schema: dict[str, Any]
    longest: int = 300
    """Characters."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        def read(value: Any) -> Any:
            if not isinstance(value, str):
                written = "a list" if isinstance(value, list) else "lines of `name: value`"
                examples = [f"`{example}`" for example in self.json_schema.get("examples", ())]
                raise teach(f"A single value is due here, not {written}.", f"such as {' or '.join(examples)}" if examples else "")
            if len(value) > self.longest:
                raise teach(f"This is {len(value)} characters long; {self.longest} are enough.")
            try:
                return self.how(value)
            except Unreadable as error:
                raise teach(error.message, error.expected, error.instead) from None

        return core_schema.no_info_plain_validator_function(read)

    def __get_pydantic_json_schema__(self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return dict(self.json_schema)


def _measure(dimension: Dimension) -> Any:
    # YAML tools that know the schema see `120` as a number, so bare values are let through there too
    types = ["string", "number"] if dimension.bare else "string"
    about = f"{dimension.name}, kept in {dimension.unit}"
    schema = {"type": types, "description": about, "examples": [dimension.example]}
    return Annotated[Figure, Read(lambda text: read_figure(text, dimension), schema)]


Voltage = _measure(f.VOLTAGE)
Current = _measure(f.CURRENT)
Power = _measure(f.POWER)
ApparentPower = _measure(f.APPARENT_POWER)
Resistance = _measure(f.RESISTANCE)
Length = _measure(f.LENGTH)
Place = _measure(f.PLACE)
Size = _measure(f.SIZE)
"""A place or size that must be more than nothing."""
PatchLength = _measure(f.PATCH)
"""A bare number is in millimetres: only inside ``loops`` and ``inserts``, whose leads lie on the board."""
Frequency = _measure(f.FREQUENCY)
Time = _measure(f.TIME)
Duration = _measure(f.DURATION)
Capacitance = _measure(f.CAPACITANCE)
CapacitancePerLength = _measure(f.CAPACITANCE_PER_LENGTH)
Inductance = _measure(f.INDUCTANCE)
Mass = _measure(f.MASS)
Temperature = _measure(f.TEMPERATURE)
Ratio = _measure(f.RATIO)
Gain = _measure(f.GAIN)
LevelU = _measure(f.LEVEL_U)
Area = _measure(f.AREA)


class YesNo(StrEnum):
    YES = "yes"
    NO = "no"
    UNKNOWN = "unknown"

    def __bool__(self) -> bool:
        return self is YesNo.YES


_SAME_WORDS = {"true": "yes", "y": "yes", "false": "no", "n": "no", "1": "i", "2": "ii", "3": "iii"}


def _yes_no(text: str) -> YesNo:
    word = text.strip().lower()
    word = _SAME_WORDS.get(word, word)
    if word not in set(YesNo):
        raise Unreadable(f"{shown(text)} is neither yes nor no.", "`yes`, `no` or `unknown`")
    return YesNo(word)


Flag = Annotated[YesNo, Read(_yes_no, {"type": ["string", "boolean"], "enum": ["yes", "no", "unknown", True, False]})]


def choice(*words: str) -> Any:
    """One of these words, or ``unknown``. Capitals, spaces for hyphens, plurals and American spelling do no harm."""
    readings = {word.lower().replace("_", "-"): word.lower() for word in [*words, "unknown"]}

    def read(text: str) -> str:
        word = "-".join(re.split(r"[\s_-]+", text.strip().lower()))
        for reading in (word, word.removesuffix("s"), re.sub(r"iz(?=e)", "is", word), _SAME_WORDS.get(word)):
            if reading in readings:
                return readings[reading]
        guess = nearest(word, list(words))
        hint = f" Did you mean `{guess}`?" if guess else ""
        listed = either([*words, "unknown"]) if not guess or len(words) <= MOST_LISTED else ""
        raise Unreadable(f"{shown(text)} cannot stand here.{hint}", listed, guess or "")

    printed = dict.fromkeys(spelling for word in words for spelling in (word, _in_capitals(word)))
    return Annotated[str, Read(read, {"type": "string", "enum": [*printed, "unknown"]})]


_ABBREVIATIONS = {"ts", "trs", "2ts", "xlr", "din", "i", "ii", "iii", "a", "b"}


def _in_capitals(word: str) -> str:
    """``ts-to-xlr`` as plugs and classes are printed: ``TS-to-XLR``. Other words stay as they are."""
    parts = word.split("-")
    if not {*parts} - {"to"} <= _ABBREVIATIONS and not re.fullmatch(r"c\d+", word):
        return word
    return "-".join(part if part == "to" else part.upper() for part in parts)


def _power(gives: bool) -> Any:
    schema = {"type": "string", "examples": ["9V dc centre-negative 45mA"]}
    return Annotated[PowerPhrase, Read(lambda text: read_power(text, gives), schema)]


Gives = _power(gives=True)

NOTHING = "none"


def _needs(text: str) -> PowerPhrase | str:
    return NOTHING if text.strip().lower() == NOTHING else read_power(text)


Needs = Annotated[
    PowerPhrase | str, Read(_needs, {"type": "string", "examples": ["9V dc centre-negative 45mA", NOTHING, "unknown"]})
]

_NAME = re.compile(r"[^\W_](?:[\w-]*\w)?")
_LONGEST_NAME = 60


def read_name(text: str) -> str:
    """A thing's name: letters of any script, digits, ``_`` and ``-``."""
    name = text.strip()
    if len(name) > _LONGEST_NAME:
        raise Unreadable(f"{shown(name)} is {len(name)} characters long; {_LONGEST_NAME} are enough for a name.")
    if not _NAME.fullmatch(name):
        if run_on := re.match(r"([\w-]+)\s*:?\s*[{\[]", name):
            raise Unreadable(f"After `{run_on[1]}` a colon and a space are due.", f"such as `{run_on[1]}: {{…}}`")
        better = re.sub(r"[^\w-]+", "_", name).strip("_-")
        hint = f" Did you mean `{better}`?" if _NAME.fullmatch(better) else ""
        raise Unreadable(f"{shown(name)} cannot be a name.{hint}", "letters, digits, `_` and `-`, such as `tape_echo`", better if hint else "")
    return name


Text = Annotated[str, Read(lambda text: text.strip(), {"type": ["string", "number"]})]
ThingName = Annotated[str, Read(lambda text: text.strip(), {"type": ["string", "number"], "format": "thing"})]
"""The name of something that the board describes. ``format`` tells editors whose names to offer: see ``site/editor_words.py``."""


class Jack(NamedTuple):
    """A thing, or one jack of it: ``echo.out_l``."""

    thing: str
    jack: str | None = None

    def __str__(self) -> str:
        return f"{self.thing}.{self.jack}" if self.jack else self.thing


def read_jack(text: str) -> Jack:
    thing, dot, jack = text.strip().partition(".")
    if dot and not jack:
        raise Unreadable(f"{shown(text)} ends in a point.", "`thing` or `thing.jack`")
    if not dot and len(thing) <= _LONGEST_NAME and (apart := re.fullmatch(r"(\w[\w-]*)[\s:#]+(?:.*\s)?#?(\w+)", thing)):
        meant = f"{apart[1]}.{apart[2]}"
        raise Unreadable(f"`{thing}` is no name. Did you mean `{meant}`?", "`thing` or `thing.jack`", meant)
    return Jack(read_name(thing), read_name(jack) if jack else None)


Reference = Annotated[Jack, Read(read_jack, {"type": ["string", "number"], "examples": ["brick.3"], "format": "jack"})]
OutletReference = Annotated[Jack, Read(read_jack, {"type": ["string", "number"], "examples": ["brick.3"], "format": "outlet"})]

Chain = tuple[Jack, ...]
_MOST_ARROWS = 3000
_ARROW = re.compile(r"(?<![-=])[-=]*>|[→⇒]")
"""An arrow with its whole shaft; looked for at the shaft's beginning alone, so that a line of dashes costs its length and not its square."""


def read_chains(text: str) -> tuple[Chain, ...]:
    """``guitar > a > b.in, c > d``: one or several chains of jacks."""
    plain, arrows = _ARROW.subn(">", text)
    if arrows > _MOST_ARROWS:
        raise Unreadable(f"{arrows} arrows stand in one line; {_MOST_ARROWS} are enough.")
    chains = []
    for part in plain.split(","):
        jacks = part.split(">")
        if len(jacks) < 2:
            raise Unreadable(f"{shown(part.strip())} leads nowhere: an arrow `>` joins two things.", "such as `guitar > tuner > combo`")
        if any(not jack.strip() for jack in jacks):
            raise Unreadable(f"An arrow in {shown(part.strip())} has nothing on one side.", "such as `guitar > tuner > combo`")
        chains.append(tuple(_jack_in(text, jack.strip()) for jack in jacks))
    return tuple(chains)


def _jack_in(chains: str, jack: str) -> Jack:
    try:
        return read_jack(jack)
    except Unreadable as error:
        meant = chains.replace(jack, error.instead) if error.instead and chains.count(jack) == 1 else ""
        raise Unreadable(error.message, error.expected, meant) from None


Chains = Annotated[tuple[Chain, ...], Read(read_chains, {"type": "string", "examples": ["guitar > tuner > combo"], "format": "chain"}, longest=1_000_000)]

_GAUGE = re.compile(r"(\d+(?:\.\d+)?)\s*(AWG|mm2|mm²)", re.I)


@dataclass(frozen=True, slots=True)
class Gauge:
    """A conductor: its size in AWG or its cross-section in mm²."""

    number: float
    is_awg: bool

    def __str__(self) -> str:
        return f"{self.number:g} AWG" if self.is_awg else f"{self.number:g} mm²"


def _gauge(text: str) -> Gauge | None:
    if text.strip().lower() == "unknown":
        return None
    found = _GAUGE.fullmatch(text.strip())
    if not found:
        raise Unreadable(f"{shown(text)} is no wire size.", "such as `24 AWG` or `0.5 mm²`")
    is_awg = found[2].upper() == "AWG"
    number = float(found[1])
    if not (0 <= number <= 40 and number == int(number) if is_awg else 0.01 <= number <= 50):
        raise Unreadable(f"{shown(text)} is no wire for a pedal board.", "such as `24 AWG` or `0.5 mm²`")
    return Gauge(number, is_awg)


WireGauge = Annotated[Gauge | None, Read(_gauge, {"type": "string", "examples": ["24 AWG", "0.5 mm²"]})]


@dataclass(frozen=True, eq=False)
class Opens:
    """A pydantic annotation for a short form: ``how`` opens it before the whole is read.

    For the JSON Schema, either may stand: ``short`` makes the short form's schema from the whole's.
    """

    how: Callable[[Any], Any]
    short: Callable[[dict[str, Any]], dict[str, Any]] = lambda whole: {"type": ["string", "number", "boolean", "array"]}

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return core_schema.no_info_before_validator_function(self.how, handler(source))

    def __get_pydantic_json_schema__(self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        whole = handler(schema)
        return {"anyOf": [self.short(handler.resolve_ref_schema(whole)), whole]}


def opens_from(key: str) -> Opens:
    """The short form of a mapping: a bare value is its ``key``."""
    return Opens(lambda value: value if isinstance(value, dict) else {key: value}, lambda whole: _bare(whole["properties"][key]))


def _bare(schema: dict[str, Any]) -> dict[str, Any]:
    """The schema of a key without what belongs to the key: its description, its default, its being left out."""
    kept = {word: value for word, value in schema.items() if word not in ("title", "description", "default")}
    options = [option for option in kept.get("anyOf", ()) if option != {"type": "null"}]
    return options[0] if len(options) == 1 else {**kept, "anyOf": options} if options else kept


def one_or_more(value: Any) -> Any:
    return value if isinstance(value, list) else [value]


ONE_OR_MORE = Opens(one_or_more, lambda whole: whole["items"])
"""A list that may be written as its only member."""
