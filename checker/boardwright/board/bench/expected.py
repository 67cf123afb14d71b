"""Every reading that can be predicted, with the window in which a good one lies."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from boardwright.spec.figure import Figure, Origin, tell
from boardwright.spec.problem import Path
from boardwright.spec.sections.readings import OPEN

if TYPE_CHECKING:
    from boardwright.board.assemble import Board

GOOD, BAD = "good", "bad"
QUIET = "no hum"
_TELLING = {"volts": "V", "current": "A", "ohms": "Ω", "latency": "s"}


@dataclass(frozen=True, slots=True)
class Expected:
    """A reading that should be found. Numbers in V, A, Ω or s; an end of the window that is ``None`` is open."""

    where: tuple[str, ...]
    """A lead by its label, an outlet, a device, an amplifier; of a resistance between two grounds, both."""
    what: str
    """As in ``readings``: ``volts``, ``current``, ``ohms``, ``sound``, ``polarity``, ``latency`` or ``hum``."""
    path: Path
    how: str
    """How to take it, for somebody with a meter in one hand."""
    of: str | None = None
    condition: str | None = None
    preset: str | None = None
    value: float | None = None
    """What the engine works out; ``None`` where only a bound or a word is expected."""
    low: float | None = None
    high: float | None = None
    word: str | None = None
    """What is heard, or ``same`` or ``inverts``, where it is no number."""
    signed: bool = True
    """Whether the sign counts: not of alternating current, nor where nobody says which pole is inside."""
    origin: Origin = Origin.STATED

    @property
    def unit(self) -> str:
        return _TELLING.get(self.what, "")

    @property
    def is_open(self) -> bool:
        """Whether the meter should find no way through."""
        return self.what == "ohms" and self.low is not None and self.high is None

    @property
    def window(self) -> str:
        """The good readings, in words: ``−9 V (−9.45 V to −8.55 V)``, ``below 0.7 Ω``."""
        if self.word is not None:
            return self.word
        if self.low is not None and self.high is not None and self.value is not None:
            said = f"{tell(self.value, self.unit)} ({tell(self.low, self.unit)} to {tell(self.high, self.unit)})"
            return said if self.signed or self.what != "volts" else f"{said}, either sign"
        if self.is_open:
            assert self.low is not None
            return f"open, or above {tell(self.low, self.unit)}"
        assert self.high is not None
        return f"below {tell(self.high, self.unit)}"

    def agrees(self, got: Figure | str) -> bool | None:
        """Whether a reading is as expected; ``None`` where the two cannot be compared."""
        if got in (GOOD, BAD):
            return got == GOOD or (self.what == "hum" and self.word != QUIET)
        if isinstance(got, str):
            if got == OPEN and self.what == "ohms":
                return self.is_open
            return self.word == got if self.what == "polarity" and got in ("same", "inverts") else None
        if self.word is not None or not got.known or got.unit != self.unit:
            return None
        ends = [got.low, got.high] if self.signed else [abs(got.low or 0.0), abs(got.high or 0.0)]
        return all(self._within(end) for end in ends if end is not None)

    def _within(self, value: float) -> bool:
        slack = 1e-9 * abs(value)
        return (self.low is None or value >= self.low - slack) and (self.high is None or value <= self.high + slack)


def assemble_expected(board: Board) -> list[Expected]:
    """All readings of a board: power first, then leads, then grounds, then what is heard."""
    from boardwright.board.bench import ear_readings, ground_readings, lead_readings, power_readings

    return list(_all(board, (power_readings, lead_readings, ground_readings, ear_readings)))


def _all(board: Board, kinds: tuple) -> Iterator[Expected]:
    for kind in kinds:
        yield from kind.readings(board)
