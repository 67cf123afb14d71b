"""The command line's part of the bench: how long it takes to check a board, and how that grows with the board.

Time is the processor's, of the check alone: from text to report, with the package loaded. "Cold" means that nothing was
remembered from an earlier check; "after an edit" means that all but one line was.
"""

from __future__ import annotations

import gc
import math
import re
import statistics
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import boardwright
from bench.boards import RIG, board
from bench.table import Row
from measuring.caches import forget

TOUR = Path(__file__).parents[2] / "demo_boards/saltmarsh-tour.yaml"
SIZES = (5, 25, 250, 2000)
GOAL_MS = 60
GOAL_GROWTH = 1.3
SECONDS_FOR_EACH = 4


def rows() -> Iterator[Row]:
    """One row for each size, and how the time grows."""
    cold: dict[int, float] = {}
    for size in SIZES:
        text = board(size)
        boardwright.check(text)
        cold[size] = _least(lambda text=text: boardwright.check(text), before=forget)
        yield _row(f"check, {size:,} devices, cold", cold[size], GOAL_MS if size == RIG else None)
    tour = TOUR.read_text()
    yield _row("check, saltmarsh tour, cold", _least(lambda: boardwright.check(tour), before=forget), GOAL_MS)
    for what, text in ((f"{RIG} devices", board(RIG)), ("saltmarsh tour", tour)):
        edits = iter(_edits(text))
        yield _row(f"check, {what}, after an edit of one line", _least(lambda edits=edits: boardwright.check(next(edits))))
    grown = math.log(cold[SIZES[-1]] / cold[RIG]) / math.log(SIZES[-1] / RIG)
    yield Row(f"growth from {RIG} to {SIZES[-1]:,} devices: time ~ n to the power of", f"{grown:.2f}", f"≤ {GOAL_GROWTH}", grown <= GOAL_GROWTH, "growth")
    slope = _slope([(math.log(size), math.log(seconds)) for size, seconds in cold.items() if size >= RIG])
    yield Row(f"the same, fitted through {', '.join(f'{size:,}' for size in SIZES if size >= RIG)}", f"{slope:.2f}", f"≤ {GOAL_GROWTH}", slope <= GOAL_GROWTH)


def _edits(text: str) -> Iterator[str]:
    """The board again and again, each time with another current in its first tuner's line."""
    before, drawn, after = re.split(r"(?<=\{kind: tuner, needs: 9V dc centre-negative )(\d+)", text, maxsplit=1)
    for milliamps in range(1, 100_000):
        yield f"{before}{int(drawn) + milliamps / 1000:g}{after}"


def _least(work: Callable[[], object], before: Callable[[], object] = lambda: None) -> float:
    """The least processor time [s] of several runs: what the work takes when nothing else is in the way."""
    taken: list[float] = []
    end = time.monotonic() + SECONDS_FOR_EACH
    while len(taken) < 3 or (time.monotonic() < end and len(taken) < 50):
        before()
        gc.collect()
        began = time.process_time()
        work()
        taken.append(time.process_time() - began)
    return min(taken)


def _slope(points: list[tuple[float, float]]) -> float:
    return statistics.linear_regression(*zip(*points, strict=True)).slope


def _row(what: str, seconds: float, goal_ms: float | None = None) -> Row:
    milliseconds = 1000 * seconds
    goal = "" if goal_ms is None else f"≤ {goal_ms:g} ms"
    return Row(what, f"{milliseconds:,.1f} ms", goal, None if goal_ms is None else milliseconds <= goal_ms)


if __name__ == "__main__":
    from bench.table import show

    show(rows())
