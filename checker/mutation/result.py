"""What the mutants came to, written down as the site reads it."""

from __future__ import annotations

import datetime
from collections import Counter
from functools import cache
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML

from mutation.trial import KILLED, SENSELESS, AnyMutant

GOAL = 0.90
EQUIVALENT = Path(__file__).with_name("equivalent.yaml")


@cache
def explained() -> dict[str, str]:
    """Mutants that no test can kill, because they change nothing, each with the reason."""
    found = YAML(typ="safe", pure=True).load(EQUIVALENT.read_text("utf-8")) or {}
    return {name: why for why, names in found.items() for name in names}


def summary(outcomes: dict[AnyMutant, str], possible: int, made_by: str, date: datetime.date) -> dict[str, Any]:
    alive = [mutant for mutant, outcome in outcomes.items() if outcome not in (KILLED, SENSELESS)]
    unexplained = sorted(mutant.name for mutant in alive if mutant.name not in explained())
    parts = Counter((_part(mutant), outcome) for mutant, outcome in outcomes.items())
    counted = sum(outcome != SENSELESS for outcome in outcomes.values())
    killed = sum(outcome == KILLED for outcome in outcomes.values())
    share = killed / counted if counted else 0
    rows = []
    for part in sorted({part for part, _ in parts}):
        dead, all_of = parts[part, KILLED], sum(count for (which, outcome), count in parts.items() if which == part and outcome != SENSELESS)
        same = sum(_part(mutant) == part and mutant.name in explained() for mutant in alive)
        rows.append([part, all_of, dead, same, all_of - dead - same, f"{dead / all_of:.1%}" if all_of else "–"])
    return {
        "made_by": made_by,
        "date": date.isoformat(),
        "how": [
            f"{len(outcomes)} of {possible} mutants, " + ("all there are." if len(outcomes) == possible else "drawn by chance."),
            "Each is one comparison, sign, sum, product, condition, `and`, `not`, least or greatest turned in a formula or a rule, or a number or limit a tenth more or less (a whole one by one).",
            "They are made by the operators of cosmic-ray and a few of our own.",
            "It counts as killed when a test of the formulas, the rules, the board, the demo boards or the lessons fails with it in place.",
            f"{len(outcomes) - counted} that Python itself refuses to run are left out; those that are known to change nothing have a column of their own, and count as not killed.",
        ],
        "figures": {"mutants": str(counted), "killed": str(killed), "share": f"{share:.1%}"},
        "tables": [
            {"title": "Goal", "columns": ["what", "measured", "goal", ""],
             "rows": [["mutants killed", f"{killed} of {counted} ({share:.1%})", f"at least {GOAL:.0%}", "met" if share >= GOAL else "missed"]]},
            {"title": "By part", "columns": ["part", "mutants", "killed", "change nothing", "alive", "share killed"], "rows": rows},
            {"title": "Alive and not explained", "columns": ["mutant"], "rows": [[f"`{name}`"] for name in unexplained]},
        ],
        "falls_short": [] if share >= GOAL else [f"{share:.1%} of the mutants are killed, and {GOAL:.0%} is the goal."],
    }  # fmt: skip


def _part(mutant: AnyMutant) -> str:
    folder, _, rest = mutant.file.partition("/")
    return f"rules: {rest.partition('/')[0]}" if folder == "rules" and "/" in rest else folder.removesuffix(".py")
