"""What can be wrong with the text itself, and where it stands."""

from __future__ import annotations

from dataclasses import dataclass, replace
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

    def shifted(self, lines: int) -> Span:
        return replace(self, line=self.line + lines, end_line=self.end_line + lines) if lines else self


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

    def shifted(self, lines: int) -> Problem:
        return replace(self, span=self.span.shifted(lines)) if self.span and lines else self


def dotted(path: Path) -> str:
    """``("audio", 0, "lead")`` as a reader would say it: ``audio[1].lead``."""
    words = ""
    for step in path:
        words += f"[{step + 1}]" if isinstance(step, int) else f".{step}" if words else str(step)
    return words
