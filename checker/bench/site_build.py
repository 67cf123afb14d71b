"""The site's part of the bench: how long a full build takes, from nothing to the last page."""

from __future__ import annotations

import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from release import build_site

from bench.table import Row

GOAL = 60


def rows() -> Iterator[Row]:
    with tempfile.TemporaryDirectory() as made:
        began = time.monotonic()
        build_site(Path(made) / "site")
        took = time.monotonic() - began
        pages = sum(1 for _ in Path(made).rglob("*.html"))
    yield Row(f"full site build, {pages} pages", f"{took:.1f} s", f"≤ {GOAL} s", took <= GOAL)
