"""Measures what we promise and prints it beside its goals: `make bench`. It is no test: a goal missed is said, not failed."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "setup"))

import checks
import hunt
import site_build
from table import show

import browser

PARTS = (checks, hunt, browser, site_build)

show(row for part in PARTS for row in part.rows())
