"""What the gauntlet came to, written down as the site reads it."""

from __future__ import annotations

import datetime
from typing import Any

from boardwright import check
from gauntlet.faults import FAULTS, NOT_INJECTED
from gauntlet.judges import JUDGES
from gauntlet.run import Answer, Tally, by_rule

GOALS = {"danger": 1.0, "fault": 1.0, "risk": 0.99}
"""Share of injected faults that must be found, by severity."""
FALSE_ALARMS = 1 / 200
"""Share of clean boards that may draw a danger, fault or risk."""


def rules() -> list[str]:
    """Every rule, as any report lists them."""
    return [row.rule for row in check("board: {name: nothing}").coverage]


def without_fault() -> dict[str, str]:
    """Rules for which no fault is made, and why."""
    made = {fault.rule for fault in FAULTS}
    return {rule: NOT_INJECTED.get(rule, "no fault is made for it yet") for rule in rules() if rule not in made}


def summary(tally: Tally, made_by: str, date: datetime.date) -> dict[str, Any]:
    clean, alarmed = len(tally.clean), [answer for answer in tally.clean if answer.said]
    pairs_missed = [answer for answer in tally.pairs if answer.said]
    table = by_rule(tally)
    found, put_in = (sum(each[part] for each in table.values()) for part in (0, 1))
    missing = without_fault()
    compared = sum(answer.looked_at for answers in tally.judges.values() for answer in answers)
    return {
        "made_by": made_by,
        "date": date.isoformat(),
        "how": [
            "Board number n is the same on every machine; the boards of a fault follow from its name.",
            f"{len(FAULTS)} kinds of fault are made for {len(rules()) - len(missing)} of {len(rules())} rules.",
        ],
        "figures": {
            "clean-boards": str(clean), "false-alarms": str(len(alarmed)), "injected": str(put_in), "found": str(found),
            "pairs": str(len(tally.pairs)), "pairs-found": str(len(tally.pairs) - len(pairs_missed)), "compared": str(compared),
        },
        "tables": [
            {"title": "Goals", "columns": ["what", "measured", "goal", ""], "rows": _goals(table, clean, len(alarmed))},
            {"title": "Faults put in and found", "columns": ["rule", "severity", "put in", "found"], "rows": [[*key, count, one] for key, (one, count) in table.items()]},
            {"title": "Second opinions", "columns": ["by", "about", "boards", "compared", "differ"], "rows": _opinions(tally)},
            {"title": "Rules without a fault", "columns": ["rule", "why"], "rows": [list(row) for row in missing.items()]},
        ],
        "falls_short": [*_alarms(alarmed), *_missed(tally), *_pairs(pairs_missed), *_differences(tally)],
    }  # fmt: skip


def _goals(table: dict[tuple[str, str], tuple[int, int]], clean: int, alarmed: int) -> list[list[str]]:
    shown = []
    for severity, goal in GOALS.items():
        found, put_in = (sum(each[part] for key, each in table.items() if key[1] == severity) for part in (0, 1))
        shown.append([f"every {severity} put in that was found", f"{found} of {put_in}", f"{goal:.0%}", "met" if put_in and found >= goal * put_in else "missed"])
    shown.append(["clean boards with a false alarm", f"{alarmed} of {clean}", "fewer than 1 in 200", "met" if alarmed < FALSE_ALARMS * clean else "missed"])
    return shown


def _opinions(tally: Tally) -> list[list[Any]]:
    shown = []
    for which, judge in enumerate(JUDGES):
        answers = tally.judges.get(which, [])
        shown.append([judge.name, judge.what, len(answers), sum(each.looked_at for each in answers), sum(len(each.said) for each in answers)])
    return shown


def _alarms(alarmed: list[Answer]) -> list[str]:
    return [f"Clean board {answer.seed} draws {said}" for answer in alarmed for said in answer.said]


def _missed(tally: Tally) -> list[str]:
    said = []
    for which, fault in enumerate(FAULTS):
        answers = tally.faults.get(which, [])
        missed = [answer for answer in answers if answer.said]
        if missed and fault.severity in GOALS:
            said.append(f"`{fault.rule}` ({fault.what}) is not found on boards {', '.join(str(each.seed) for each in missed)}.")
        if all(answer.seed is None for answer in answers):
            said.append(f"`{fault.rule}` ({fault.what}): no board has a place for it.")
    return said


def _pairs(missed: list[Answer]) -> list[str]:
    return [f"Board {answer.seed} with {' and '.join(answer.faults)}: not found is {', '.join(answer.said)}." for answer in missed]


def _differences(tally: Tally) -> list[str]:
    return [f"{JUDGES[which].name}: {each}" for which, answers in tally.judges.items() for answer in answers for each in answer.said]
