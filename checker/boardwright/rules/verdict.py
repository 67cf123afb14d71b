"""What a rule may say about each thing that it looks at, and what missing knowledge does to it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from boardwright.limits import Limit
from boardwright.spec.figure import Figure, Origin, tell
from boardwright.spec.problem import Edit, Path


class Severity(StrEnum):
    """How bad it is, the worst first."""

    DANGER = "danger"
    FAULT = "fault"
    RISK = "risk"
    ADVICE = "advice"

    @property
    def rank(self) -> int:
        return list(Severity).index(self)


class Verdict(StrEnum):
    TRIPS = "trips"
    CLEAR = "clear"
    CANNOT_TELL = "cannot tell"
    ACCEPTED = "accepted"


class Thing(NamedTuple):
    """Something a judgement is about: its name as a person says it, and where it stands."""

    name: str
    path: Path


@dataclass(slots=True)
class Number:
    """A number that a verdict used."""

    name: str
    text: str
    value: float | None
    unit: str
    origin: str


def number(name: str, value: Figure) -> Number:
    return Number(name, str(value), value.high, value.unit, value.origin.word)


def limit(name: str, used: Limit) -> Number:
    """A threshold, shown beside the finding that used it."""
    return Number(name, tell(used.value, used.unit), used.value, used.unit, "limit")


class Judgement(NamedTuple):
    """One rule's word on one thing (or several that belong together)."""

    verdict: Verdict
    severity: Severity
    things: tuple[Thing, ...]
    sentence: str = ""
    remedy: str = ""
    question: str = ""
    numbers: tuple[Number, ...] = ()
    at: Path = ()
    before_power: bool = False
    """For ``cannot tell``: to be found out before anything is plugged in, since being wrong would break something."""
    witness: str | None = None
    edits: tuple[Edit, ...] = ()
    """For ``trips``: changes of the plan that would mend it, each by itself."""


def clear(*things: Thing, severity: Severity = Severity.ADVICE) -> Judgement:
    return Judgement(Verdict.CLEAR, severity, things)


def trips(
    severity: Severity,
    things: Sequence[Thing],
    sentence: str,
    remedy: str,
    numbers: Sequence[Number] = (),
    at: Path = (),
    witness: str | None = None,
) -> Judgement:
    where = at or things[0].path
    return Judgement(Verdict.TRIPS, severity, tuple(things), sentence, remedy, numbers=tuple(numbers), at=where, witness=witness)


def cannot_tell(severity: Severity, things: Sequence[Thing], question: str, at: Path = (), before_power: bool = False) -> Judgement:
    """``question``: the one thing to find out that would decide it."""
    where = at or things[0].path
    return Judgement(Verdict.CANNOT_TELL, severity, tuple(things), question=question, at=where, before_power=before_power)


def decide(
    tripped: bool | None,
    origin: Origin,
    severity: Severity,
    things: Sequence[Thing],
    *,
    sentence: str,
    remedy: str,
    question: str,
    numbers: Sequence[Number] = (),
    at: Path = (),
    breaks_things: bool = False,
) -> Judgement:
    """One thing judged, with the policy for what is only assumed or not known at all.

    An assumed value may trip any rule. It clears a risk, an advice and a fault that breaks nothing; it can never clear
    a danger or a fault that destroys equipment. An unknown value decides nothing. ``tripped`` is ``None`` when it
    cannot be worked out.
    """
    if tripped is None or origin is Origin.UNKNOWN:
        return cannot_tell(severity, things, question, at, before_power=breaks_things)
    if tripped:
        return trips(severity, things, sentence, remedy, numbers, at)
    if origin is Origin.ASSUMED and (severity is Severity.DANGER or breaks_things):
        return cannot_tell(severity, things, question, at, before_power=True)
    return clear(*things, severity=severity)


def over(value: float, bound: float) -> bool:
    """Whether ``value`` is more than ``bound``, rounding of sums apart."""
    return value > bound + 1e-9 * max(abs(value), abs(bound))
