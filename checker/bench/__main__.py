"""Measures what we promise and prints it beside its goals: `make bench`. It is no test: a goal missed is said, not failed."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "setup"))

from table import show

import browser

PARTS = (browser,)

for part in PARTS:
    show(part.rows())
