"""What can be wrong with the text itself, and where it stands."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Path = tuple[str | int, ...]
"""The way to a value from the top of the text: ``("pedals", "echo", "needs")``."""


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of text. Lines and columns count from 1, in code points; the end is exclusive."""

    line: int
    column: int
    end_line: int
    end_column: int


@dataclass(frozen=True, slots=True)
class Change:
    """A stretch of the text, and what to write in its place."""

    at: Span
    text: str


@dataclass(frozen=True, slots=True)
class Edit:
    """A way to mend the text that can be offered: what it does, in words, and the changes that do it, in the order of the text."""

    title: str
    edits: tuple[Change, ...]


MOST_SHOWN = 200
"""Problems that a report shows. Past these no more guesses are made either."""

Kind = Literal["syntax", "key", "value", "name", "bound"]


@dataclass(frozen=True, slots=True)
class Problem:
    """One error of the text: what was found, where, and what may stand there."""

    kind: Kind
    message: str
    where: Path = ()
    span: Span | None = None
    expected: str | None = None
    edits: tuple[Edit, ...] = ()
    """What would mend it, where there is only one thing that can have been meant."""


def dotted(path: Path) -> str:
    """``("audio", 0, "lead")`` as a reader would say it: ``audio[1].lead``."""
    words = ""
    for step in path:
        words += f"[{step + 1}]" if isinstance(step, int) else f".{step}" if words else str(step)
    return words
