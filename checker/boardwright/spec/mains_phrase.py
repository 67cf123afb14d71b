"""What a label's INPUT line says, and what comes out of a wall: ``100-240V ac 50/60Hz``, ``230V 50Hz``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from boardwright.spec.figure import APPARENT_POWER, CURRENT, POWER, Figure, Unreadable, read_figure, tell, unknown

_EXAMPLE = "as on the label, such as `100-240V ac 50/60Hz`; `none` if it has no mains cord; or `unknown`"
_LEAST_VOLTS, _MOST_VOLTS = 50, 500
_LEAST_HERTZ, _MOST_HERTZ = 40, 70
_NUMBERS = r"\d[\d.]*(?:\s*v)?(?:\s*[-/]\s*\d[\d.]*(?:\s*v)?)*"
_VOLTS = re.compile(rf"(?<![\w.])({_NUMBERS})(?<=v)(?![\w/])")
_HERTZ = re.compile(r"(?<![\w.])(\d[\d.]*(?:\s*(?:hz)?\s*[-/]\s*\d[\d.]*)*)\s*hz(?!\w)")
_DRAW = re.compile(r"(?<![\w.])\d[\d.]*\s*(?:va|w|ma|a)(?!\w)")
_IDLE_WORDS = {"ac", "max", "max.", "input", "input:", ",", ";"}


@dataclass(frozen=True, slots=True)
class MainsInput:
    """What something may be plugged into. Nothing in ``settings`` means unknown."""

    settings: tuple[tuple[float, float], ...]
    """Lowest and highest nominal voltage (V); several where a selector chooses between them."""
    hertz: tuple[float, ...]
    """Frequencies (Hz); nothing if the label names none."""
    draw: Figure
    """What it takes: in A, VA or W, as the label has it."""

    @property
    def known(self) -> bool:
        return bool(self.settings)

    @property
    def volts(self) -> str:
        """``100 to 240 V``, or ``115 V or 230 V`` with a selector."""
        return " or ".join(tell(low, "V") if low == high else f"{low:g} to {tell(high, 'V')}" for low, high in self.settings)


UNKNOWN_INPUT = MainsInput((), (), unknown("A"))


@dataclass(frozen=True, slots=True)
class WallSupply:
    """What a wall gives: nominal voltages (V) and frequencies (Hz). Nothing in ``volts`` means unknown."""

    volts: tuple[float, ...]
    hertz: tuple[float, ...]


@lru_cache(maxsize=1024)
def read_mains_input(text: str) -> MainsInput:
    """Read a label's INPUT line.

    Raises: Unreadable.
    """
    if text.strip().lower() == "unknown":
        return UNKNOWN_INPUT
    settings, hertz, draw = _parts(text)
    return MainsInput(settings, hertz, draw)


@lru_cache(maxsize=256)
def read_wall_supply(text: str) -> WallSupply:
    """Read ``230V 50Hz``.

    Raises: Unreadable.
    """
    if text.strip().lower() == "unknown":
        return WallSupply((), ())
    settings, hertz, _ = _parts(text)
    return WallSupply(tuple(sorted({volts for setting in settings for volts in setting})), hertz)


def _parts(text: str) -> tuple[tuple[tuple[float, float], ...], tuple[float, ...], Figure]:
    rest = re.sub(r"\bto\b", "-", re.sub("[–—−]", "-", re.sub("[~∼˜]", " ac ", text.lower())))
    rest = re.sub(r"(?<=\d)\s*volts?\b", "v", rest)
    if re.search(r"\bdc\b", rest):
        raise Unreadable(f"`{text}`: the wall gives ac. A supply that another supply feeds states `needs` and `feed`.", _EXAMPLE)
    volts = _VOLTS.search(rest)
    if volts is None:
        raise Unreadable(f"`{text}` does not say how many volts.", _EXAMPLE)
    rest = rest.replace(volts[1], " ", 1)
    hertz = _HERTZ.search(rest)
    if hertz:
        rest = rest.replace(hertz[0], " ", 1)
    draw = _DRAW.search(rest)
    if draw:
        rest = rest.replace(draw[0], " ", 1)
    leftover = [word for word in rest.split() if word not in _IDLE_WORDS]
    if leftover:
        raise Unreadable(f"`{leftover[0]}` in `{text}` is not part of what a wall gives.", _EXAMPLE)
    return _settings(volts[1], text), _frequencies(hertz[1] if hertz else "", text), _draw(draw[0] if draw else "")


def _settings(words: str, text: str) -> tuple[tuple[float, float], ...]:
    settings = []
    for part in words.replace("v", "").split("/"):
        ends = [_number(end, text) for end in part.split("-")]
        if len(ends) > 2 or ends[0] > ends[-1]:
            raise Unreadable(f"`{text}`: a range has a smaller end first and a greater end last.", _EXAMPLE)
        if not all(_LEAST_VOLTS <= end <= _MOST_VOLTS for end in ends):
            hint = " A supply that another supply feeds states `needs` and `feed` instead." if ends[0] < _LEAST_VOLTS else ""
            raise Unreadable(f"`{text}` is no mains voltage.{hint}", _EXAMPLE)
        settings.append((ends[0], ends[-1]))
    return tuple(settings)


def _frequencies(words: str, text: str) -> tuple[float, ...]:
    if not words:
        return ()
    found = tuple(sorted(_number(each, text) for each in re.split("[-/]", words.replace("hz", ""))))
    if not all(_LEAST_HERTZ <= each <= _MOST_HERTZ for each in found):
        raise Unreadable(f"`{text}`: mains swings at 50 or 60 Hz.", _EXAMPLE)
    return found


def _draw(words: str) -> Figure:
    if not words:
        return unknown("A")
    dimension = APPARENT_POWER if words.endswith("va") else POWER if words.endswith("w") else CURRENT
    return read_figure(words.replace("va", "VA"), dimension)


def _number(words: str, text: str) -> float:
    try:
        return float(words)
    except ValueError:
        raise Unreadable(f"`{text}` holds `{words.strip()}` where a number is due.", _EXAMPLE) from None


# --- fuses and enclosures -----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Fuse:
    """A fuse as printed on it: ``T2A``. ``fitted`` is false where there is none, or something stands in for it."""

    speed: str
    rating: Figure
    fitted: bool = True
    text: str = ""


_FUSE = re.compile(r"(FF|TT|[FMT])?\s*(\d+(?:\.\d+)?\s*m?A)\s*[HLE]?(?:\s*\d+\s*V)?", re.I)


def read_fuse(text: str) -> Fuse:
    """Read ``T2A``, ``F500mA``, ``13A``, ``none``, ``bridged`` or ``unknown``.

    Raises: Unreadable.
    """
    words = text.strip()
    if words.lower() == "unknown":
        return Fuse("", unknown("A"), text="unknown")
    if words.lower() in ("none", "bridged"):
        return Fuse("", unknown("A"), fitted=False, text=words.lower())
    found = _FUSE.fullmatch(words)
    if not found:
        raise Unreadable(
            f"`{text}` is no fuse.", "as printed on its cap, such as `T2A` or `F500mA`; `none`, or `bridged` if foil or wire stands in for it"
        )
    return Fuse((found[1] or "").upper(), read_figure(found[2], CURRENT), text=words)


@dataclass(frozen=True, slots=True)
class Ingress:
    """How far an enclosure keeps things out (IEC 60529). ``solid``: its first digit, ``None`` if it is not stated."""

    solid: int | None
    text: str


_INGRESS = re.compile(r"(?:IP)?\s*([0-6X])([0-9X])?([A-D])?", re.I)
_LETTERS = {"A": 1, "B": 2, "C": 3, "D": 4}


def read_ingress(text: str) -> Ingress:
    """Read ``IP44``, ``4x``, ``0`` or ``unknown``. A letter behind the digits says what cannot reach live parts.

    Raises: Unreadable.
    """
    if text.strip().lower() == "unknown":
        return Ingress(None, "unknown")
    found = _INGRESS.fullmatch(text.strip())
    if not found:
        raise Unreadable(f"`{text}` is no degree of protection.", "as marked on the enclosure, such as `IP44` or `2x`; `0` for an open one")
    digit = None if found[1].upper() == "X" else int(found[1])
    letter = _LETTERS.get((found[3] or "").upper())
    known = [each for each in (digit, letter) if each is not None]
    return Ingress(max(known) if known else None, "IP" + text.strip().upper().removeprefix("IP"))
