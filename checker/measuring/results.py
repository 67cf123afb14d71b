"""Telling what was measured, and keeping it for the site; ``boardwright/site/results_page.py`` says what a result consists of."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any

RESULTS = Path(__file__).parents[1] / "results"


def tell(tables: Iterable[dict[str, Any]]) -> None:
    """Print tables of a result."""
    for table in tables:
        print(f"\n{table['title']}\n" + "\n".join("  " + " · ".join(map(str, row)) for row in [table["columns"], *table["rows"]]))


def keep(name: str, result: dict[str, Any]) -> None:
    """Write a result down as the latest of its name."""
    RESULTS.mkdir(exist_ok=True)
    (RESULTS / f"{name}.json").write_text(json.dumps(result, indent=1, ensure_ascii=False) + "\n", "utf-8")
