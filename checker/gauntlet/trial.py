"""One board before the checker: clean, with one fault, or with two."""

from __future__ import annotations

from collections.abc import Iterable
from random import Random

from boardwright import Report, check
from boardwright.report.report import Finding
from gauntlet.faults import Fault
from gauntlet.good_boards import good_board
from gauntlet.rig import Rig

_WORST_FIRST = ("danger", "fault", "risk", "advice")
ALARMS = _WORST_FIRST[:3]
"""What a good board must not draw."""


def unreadable(report: Report) -> list[str]:
    """What the checker could not read: a mistake of the gauntlet, never of the checker's rules."""
    return [f"{problem.where}: {problem.message}" for problem in report.problems]


def alarms(seed: int) -> list[str]:
    """Dangers, faults and risks that a good board draws."""
    report = check(good_board(seed).text())
    return unreadable(report) + [f"{found.rule} ({found.severity}): {found.sentence}" for found in report.findings if found.severity in ALARMS]


def put_in(faults: Iterable[Fault], seed: int) -> tuple[Rig, list[frozenset[str]]] | None:
    """A seed's board with these faults, and the things that each sits on; None where the board has no place for one."""
    rig, random = good_board(seed), Random(seed)
    things: list[frozenset[str]] = []
    for fault in faults:
        on = fault.breaks(rig, random)
        if on is None:
            return None
        things.append(frozenset(on))
    return rig, things


def is_found(report: Report, fault: Fault, things: frozenset[str]) -> bool:
    """Whether the rule trips on one of the things, no milder than it should, or is folded under a finding that names one."""
    worst = _WORST_FIRST[: _WORST_FIRST.index(fault.severity) + 1]
    for finding in report.findings:
        if _names(finding, things) and finding.severity in worst and (finding.rule == fault.rule or any(other.rule == fault.rule for other in finding.folded)):
            return True
    return False


def _names(finding: Finding, things: frozenset[str]) -> bool:
    """Whether a finding is about one of the things: by its name, or by where it stands in the text."""
    return any(thing.name in things or things & set(thing.where.split(".")) for thing in finding.things)


def misses(faults: tuple[Fault, ...], seed: int) -> list[str] | None:
    """The faults of a seed's broken board that are not found; None where the board has no place for them."""
    if (put := put_in(faults, seed)) is None:
        return None
    rig, things = put
    if len(things) > 1 and frozenset.intersection(*things):
        return None
    report = check(rig.text())
    if problems := unreadable(report):
        return [f"not readable: {problem}" for problem in problems]
    return [fault.name for fault, on in zip(faults, things, strict=True) if not is_found(report, fault, on)]
