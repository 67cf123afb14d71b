"""What the package remembers between checks, and how to have it forget."""

from __future__ import annotations

import sys


def forget() -> None:
    """Empty every cache of the package."""
    for name, module in list(sys.modules.items()):
        if name.partition(".")[0] == "boardwright":
            for value in list(vars(module).values()):
                if callable(clear := getattr(value, "cache_clear", None)):
                    clear()
