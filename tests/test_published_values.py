"""The page of published values, held to what the tests compare."""

from __future__ import annotations

import json
import subprocess
import sys
from collections import Counter

import pytest

from published import MEMORY, PRACTICE, PUBLISHED, TABLE, TESTS, Published

ROWS = json.loads(TABLE.read_text("utf-8"))


def test_the_table_is_what_the_tests_compare(tmp_path):
    out = tmp_path / "values.json"
    done = subprocess.run([sys.executable, str(TESTS / "published.py"), str(out)], cwd=TESTS.parent, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
    assert TABLE.read_text("utf-8") == out.read_text("utf-8"), "renew it: .venv/bin/python tests/published.py"


def test_every_row_says_where_its_value_is_from():
    assert len(ROWS) > 100
    assert {row["kind"] for row in ROWS} <= {PUBLISHED, MEMORY, PRACTICE}
    assert all(row["source"] and row["quantity"] and row["tolerance"] for row in ROWS)
    assert all("from memory" not in row["source"] for row in ROWS if row["kind"] == PUBLISHED)


def test_no_value_is_listed_twice_by_one_test():
    again = Counter((row["quantity"], row["published"], row["unit"], row["test"], row["source"]) for row in ROWS)
    assert not [row for row, times in again.items() if times > 1]


@pytest.mark.parametrize(("ours", "same"), [(1.0, True), (1.009, True), (1.011, False), (0.989, False), (float("nan"), False)])
def test_a_comparison_fails_outside_of_its_tolerance(ours, same):
    value = Published(1.0, "V", "a test of the test", "none", PRACTICE, None, 0.01)
    assert (ours == value) is same and (value == ours) is same and (ours != value) is not same
