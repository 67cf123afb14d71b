"""The faults that can be put into a good board, each for the rule that must find it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from random import Random
from typing import TypeAlias

from gauntlet.rig import Rig

Break: TypeAlias = "Callable[[Rig, Random], Iterable[str] | None]"
"""Breaks a board in place; gives the names of the things that the fault sits on, or None where the board has no place for it."""


@dataclass(frozen=True)
class Fault:
    rule: str
    """The rule that must find it."""
    severity: str
    """At least how bad that is."""
    what: str
    breaks: Break

    @property
    def name(self) -> str:
        return f"{self.rule}: {self.what}"

    @property
    def family(self) -> str:
        return self.breaks.__module__.rpartition(".")[2]


FAULTS: list[Fault] = []


def fault(rule: str, severity: str, what: str) -> Callable[[Break], Break]:
    def note(breaks: Break) -> Break:
        FAULTS.append(Fault(rule, severity, what, breaks))
        return breaks

    return note
