"""The site's part of the bench: how long a full build takes, from nothing to the last page."""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from table import Row

ROOT = Path(__file__).parents[2]
GOAL = 60


def rows() -> Iterator[Row]:
    with tempfile.TemporaryDirectory() as made:
        began = time.monotonic()
        subprocess.run([sys.executable, "-m", "mkdocs", "build", "--strict", "--quiet", f"--site-dir={made}/site"], cwd=ROOT, check=True)
        took = time.monotonic() - began
        pages = sum(1 for _ in Path(made).rglob("*.html"))
    yield Row(f"full site build, {pages} pages", f"{took:.1f} s", f"≤ {GOAL} s", took <= GOAL)
