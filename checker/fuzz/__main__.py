"""Tries hostile texts for a given number of minutes, and writes the result down for the site: `make fuzz MINUTES=5`."""

from __future__ import annotations

import argparse
import datetime
import itertools
import time
from collections.abc import Iterable
from typing import Any

from fuzz.reader import MEGABYTES, SECONDS, Tried, try_text
from fuzz.texts import KINDS
from measuring.results import keep, tell


def summary(tried: list[Tried], made_by: str, date: datetime.date) -> dict[str, Any]:
    """What became of the texts, as the site reads it."""
    rows = []
    for kind in KINDS:
        these = [each for each in tried if each.kind == kind]
        if these:
            rows.append([kind, len(these), sum(bool(each.wrong) for each in these), f"{max(each.seconds for each in these):.1f} s", f"{max(each.megabytes for each in these):.0f} MB"])
    wrong = [each for each in tried if each.wrong]
    return {
        "made_by": made_by,
        "date": date.isoformat(),
        "how": [
            f"Texts {tried[0].number} to {tried[-1].number}, each judged in a process of its own and its drawings read as XML.",
            f"Wrong is a traceback, more than {SECONDS:g} s of processor time, more than {MEGABYTES} MB on top of what the checker takes anyway, markup that could run, or a place outside of the text.",
        ],
        "figures": {"texts": str(len(tried)), "wrong": str(len(wrong)), "slowest": f"{max(each.seconds for each in tried):.1f} s", "memory": f"{max(each.megabytes for each in tried):.0f} MB"},
        "tables": [{"title": "Hostile texts", "columns": ["kind", "texts", "wrong", "slowest", "most memory"], "rows": rows}],
        "falls_short": [f"Text {each.number} ({each.kind}): {each.wrong}." for each in wrong],
    }  # fmt: skip


def _tried(numbers: Iterable[int], until: float) -> list[Tried]:
    tried = []
    for number in numbers:
        tried.append(try_text(number))
        if tried[-1].wrong:
            print(f"text {number} ({tried[-1].kind}): {tried[-1].wrong}", flush=True)
        if time.monotonic() > until:
            break
    return tried


def main() -> None:
    parser = argparse.ArgumentParser(prog="fuzz", description=__doc__)
    parser.add_argument("minutes", type=float, nargs="?", default=5)
    parser.add_argument("--first", type=int, default=0, help="number of the first text")
    parser.add_argument("--dry", action="store_true", help="only print; keep the result on the site as it is")
    asked = parser.parse_args()
    tried = _tried(itertools.count(asked.first), time.monotonic() + 60 * asked.minutes)
    made_by = f"make fuzz MINUTES={asked.minutes:g}" + (f" FIRST={asked.first}" if asked.first else "")
    result = summary(tried, made_by, datetime.date.today())
    tell(result["tables"])
    if not asked.dry:
        keep("fuzz", result)


if __name__ == "__main__":
    main()
