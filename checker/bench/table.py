"""The bench's one table."""

from __future__ import annotations

import statistics
from collections.abc import Iterable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Row:
    """One thing measured."""

    what: str
    measured: str
    goal: str = ""
    met: bool | None = None
    """Whether the goal is met; None where there is none."""


def ratio(what: str, value: float, goal: float) -> Row:
    return Row(what, f"{value:.2f}", f"≤ {goal:g}", value <= goal)


def milliseconds(what: str, seconds: Sequence[float], goal: float | None = None) -> Row:
    """Median and 95th percentile; the goal [ms] is for the latter."""
    p50, p95 = (1000 * percentile(seconds, share) for share in (50, 95))
    return Row(what, f"{p50:.0f} / {p95:.0f} ms", "" if goal is None else f"≤ {goal:g} ms", None if goal is None else p95 <= goal)


def percentile(values: Sequence[float], share: int) -> float:
    return statistics.quantiles(values, n=100, method="inclusive")[share - 1] if len(values) > 1 else values[0]


def show(rows: Iterable[Row]) -> None:
    """Print rows as they come: some take minutes."""
    line = "{:<66}  {:>18}  {:>10}  {}"
    print(line.format("what", "measured", "goal", ""))
    print(line.format("-" * 66, "-" * 18, "-" * 10, ""))
    for row in rows:
        print(line.format(row.what, row.measured, row.goal, {True: "met", False: "MISSED", None: ""}[row.met]), flush=True)
