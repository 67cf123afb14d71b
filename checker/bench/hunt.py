"""The fault finder's part of the bench: everything on every demo board broken in turn, and how many tests it takes to find it.

The rig on the bench is that of the tests (``tests/hunting.py``): it answers by plain reachability, and knows nothing of the hunt.
One by one means to go through the same suspects from the guitar on, as hands do by themselves.
"""

from __future__ import annotations

import statistics
import sys
from collections.abc import Iterator
from pathlib import Path

from bench.table import Row
from boardwright.board.assemble import assemble
from boardwright.spec.read import read

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT / "tests"))

from hunting import Caught, caught, everything  # noqa: E402


def rows() -> Iterator[Row]:
    """One row for each demo board, and one for all of them."""
    all_of_them: list[Caught] = []
    for file in sorted((ROOT / "demo_boards").glob("*.yaml")):
        if "-before" in file.stem:
            continue
        board = assemble(read(file.read_text("utf-8")))
        found = [each for broken in everything(board) if (each := caught(board, broken)) is not None]
        all_of_them += found
        yield _row(f"tests to find a fault on {file.stem}", found)
    yield _row("tests to find a fault, all demo boards", all_of_them)
    missed = sum(1 for each in all_of_them if not each.named or each.left > 1)
    yield Row("faults not found, or not told from another", f"{missed} of {len(all_of_them)}", "0", missed == 0)


def _row(what: str, found: list[Caught]) -> Row:
    mean = statistics.mean(each.tests for each in found)
    one_by_one = statistics.mean(each.one_by_one for each in found)
    return Row(what, f"{mean:.2f}", f"< {one_by_one:.2f}", mean < one_by_one)


if __name__ == "__main__":
    from bench.table import show

    show(rows())
