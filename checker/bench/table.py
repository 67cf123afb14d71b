"""What the bench measures: a row for each thing, for the screen and for the site."""

from __future__ import annotations

import datetime
import statistics
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Row:
    """One thing measured."""

    what: str
    measured: str
    goal: str = ""
    met: bool | None = None
    """Whether the goal is met; None where there is none."""
    figure: str = ""
    """The name under which prose asks for what was measured, if it does."""

    @property
    def judged(self) -> str:
        return {True: "met", False: "MISSED", None: ""}[self.met]


def ratio(what: str, value: float, goal: float, figure: str = "") -> Row:
    return Row(what, f"{value:.2f}", f"≤ {goal:g}", value <= goal, figure)


def milliseconds(what: str, seconds: Sequence[float], goal: float | None = None, figure: str = "") -> Row:
    """Median and 95th percentile; the goal [ms] is for the latter."""
    p50, p95 = (1000 * percentile(seconds, share) for share in (50, 95))
    return Row(what, f"{p50:.0f} / {p95:.0f} ms", "" if goal is None else f"≤ {goal:g} ms", None if goal is None else p95 <= goal, figure)


def percentile(values: Sequence[float], share: int) -> float:
    return statistics.quantiles(values, n=100, method="inclusive")[share - 1] if len(values) > 1 else values[0]


def show(rows: Iterable[Row]) -> list[Row]:
    """Print rows as they come, since some take minutes, and give them back."""
    line = "{:<66}  {:>18}  {:>10}  {}"
    print(line.format("what", "measured", "goal", ""))
    print(line.format("-" * 66, "-" * 18, "-" * 10, ""))
    shown = []
    for row in rows:
        print(line.format(row.what, row.measured, row.goal, row.judged), flush=True)
        shown.append(row)
    return shown


def summary(measured: dict[str, list[Row]], machine: str, date: datetime.date) -> dict[str, Any]:
    """What was measured, part by part, as the site reads it."""
    all_rows = [row for rows in measured.values() for row in rows]
    return {
        "made_by": "make bench",
        "date": date.isoformat(),
        "how": [
            machine,
            "At the command line the time is the processor's, of one check from text to report, the least of several.",
            "In the browser it is a clock's, in Chromium, with this site's files coming from the same machine; p50 is what half of the edits stay below, and p95 what 19 of 20 do.",
        ],
        "figures": {row.figure: row.measured for row in all_rows if row.figure},
        "tables": [
            {
                "title": title,
                "columns": ["what", "measured", "goal", "judged"],
                "rows": [[row.what, row.measured, row.goal, row.judged.lower()] for row in rows],
            }
            for title, rows in measured.items()
        ],
        "falls_short": [f"{row.what}: {row.measured}, and the goal is {row.goal}." for row in all_rows if row.met is False],
    }
