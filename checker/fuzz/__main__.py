"""Tries hostile texts and hostile visits, half of a given number of minutes each, and writes the result down for the site: `make fuzz MINUTES=5`."""

from __future__ import annotations

import argparse
import datetime
import itertools
import sys
import time
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1] / "setup"))

from fuzz import page, reader, visits
from fuzz.texts import KINDS as TEXTS
from measuring.results import keep, tell

Tried = reader.Tried | visits.Visited


def summary(tried: list[reader.Tried], visited: list[visits.Visited], made_by: str, date: datetime.date) -> dict[str, Any]:
    """What became of the texts and the visits, as the site reads it."""
    return {
        "made_by": made_by,
        "date": date.isoformat(),
        "how": [
            f"Texts {tried[0].number} to {tried[-1].number}, each judged in a process of its own and its drawings read as XML.",
            f"Wrong is a traceback, more than {reader.SECONDS:g} s of processor time, more than {reader.MEGABYTES} MB on top of what the checker takes anyway, markup that could run, or a place outside of the text.",
            f"Visits {visited[0].number} to {visited[-1].number}, each to this site in a tab of Chromium, with the checker in it.",
            f"Wrong is a script that runs or could, a dialog, a request to another host, a complaint in the browser's console, a page whose own thread is busy with one thing for more than {reader.SECONDS:g} s of processor time, "
            f"a tab of more than {page.MEGABYTES} MB, a text that is lost or changed, nothing said where something should be, and a good board that is not found good afterwards.",
        ],
        "figures": {**_figures(tried, "texts", ""), **_figures(visited, "visits", "visits-")},
        "tables": [_table("Hostile texts", "texts", TEXTS, tried), _table("Hostile visits", "visits", visits.KINDS, visited)],
        "falls_short": [f"{what} {each.number} ({each.kind}): {each.wrong}." for what, these in (("Text", tried), ("Visit", visited)) for each in these if each.wrong],
    }  # fmt: skip


def _figures(tried: list[Tried], what: str, prefix: str) -> dict[str, str]:
    return {what: str(len(tried)), f"{prefix}wrong": str(sum(bool(each.wrong) for each in tried)), **{f"{prefix}{name}": worst for name, worst in zip(("slowest", "memory"), _worst(tried), strict=True)}}  # fmt: skip


def _table(title: str, what: str, kinds: Iterable[str], tried: list[Tried]) -> dict[str, Any]:
    by_kind = {kind: [each for each in tried if each.kind == kind] for kind in kinds}
    rows = [[kind, len(these), sum(bool(each.wrong) for each in these), *_worst(these)] for kind, these in by_kind.items() if these]
    return {"title": title, "columns": ["kind", what, "wrong", "slowest", "most memory"], "rows": rows}


def _worst(tried: list[Tried]) -> tuple[str, str]:
    return f"{max(each.seconds for each in tried):.1f} s", f"{max(each.megabytes for each in tried):.0f} MB"


def _tried(what: str, attempt: Callable[[int], Tried], first: int, minutes: float) -> list[Tried]:
    tried, until = [], time.monotonic() + 60 * minutes
    for number in itertools.count(first):
        tried.append(attempt(number))
        if tried[-1].wrong:
            print(f"{what} {number} ({tried[-1].kind}): {tried[-1].wrong}", flush=True)
        if time.monotonic() > until:
            return tried
    raise AssertionError


def main() -> None:
    parser = argparse.ArgumentParser(prog="fuzz", description=__doc__)
    parser.add_argument("minutes", type=float, nargs="?", default=5, help="0 for one text and one visit")
    parser.add_argument("--first", type=int, default=0, help="number of the first text and of the first visit")
    parser.add_argument("--dry", action="store_true", help="only print; keep the result on the site as it is")
    asked = parser.parse_args()
    tried = _tried("text", reader.try_text, asked.first, asked.minutes / 2)
    with visits.reader_of() as visitor:
        visited = _tried("visit", lambda number: visits.try_visit(visitor, number), asked.first, asked.minutes / 2)
    made_by = f"make fuzz MINUTES={asked.minutes:g}" + (f" FIRST={asked.first}" if asked.first else "")
    result = summary(tried, visited, made_by, datetime.date.today())
    tell(result["tables"])
    if not asked.dry:
        keep("fuzz", result)


if __name__ == "__main__":
    main()
