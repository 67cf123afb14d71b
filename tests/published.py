"""Values from outside, each with its source: tests compare with them, and a page of the site lists them.

    assert wire.awg_resistance(16) * 1000 == published(13.17, "Ω/km", "16 AWG", TABLE, rel=5e-4)

The page is made from ``checker/boardwright/site/published_values.json``, which ``python tests/published.py`` writes anew by running the
tests that call ``published``; ``tests/test_published_values.py`` holds it to what they compare. So a value is listed with what it is
really held against, and one that no test uses is not listed. What is worked out by hand is no value from outside.
"""

from __future__ import annotations

import ast
import json
import os
import re
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

TESTS = Path(__file__).parent
TABLE = TESTS.parent / "checker/boardwright/site/published_values.json"

PUBLISHED, MEMORY, PRACTICE = "published", "from memory", "common practice"

_compared: dict[tuple[str, ...], dict[str, str]] = {}


class Published:
    """Equal to what lies within the tolerance, as ``pytest.approx`` has it; notes what it was compared with."""

    __hash__ = None  # type: ignore[assignment]

    def __init__(self, value: object, unit: str, quantity: str, source: str, kind: str, rel: float | None, abs: float | None) -> None:
        self.value, self.unit, self.quantity, self.source, self.kind, self.rel, self.abs = value, unit, quantity, source, kind, rel, abs

    def __eq__(self, ours: object) -> bool:
        known = isinstance(self.value, int | float)
        same = ours == (pytest.approx(self.value, rel=self.rel, abs=self.abs) if known else self.value)
        test = re.sub(r"\[.*| \(\w+\)$", "", os.environ["PYTEST_CURRENT_TEST"])
        row = {
            "quantity": self.quantity,
            "published": _told(self.value, 7),
            "ours": _told(ours, 5),
            "unit": self.unit,
            "tolerance": self._tolerance() if known else "exact",
            "source": self.source,
            "kind": self.kind,
            "test": test,
        }
        _compared.setdefault(tuple(row.values()), row)
        return bool(same)

    def __repr__(self) -> str:
        return f"{self.value!r} {self.unit} ({self.quantity}, {self.source}; {self._tolerance()})"

    def _tolerance(self) -> str:
        if self.abs is not None:
            return f"{self.abs:g} {self.unit}".strip()
        rel = 1e-6 if self.rel is None else self.rel
        return "exact" if rel <= 1e-9 else f"{100 * rel:.3g} %"


def published(
    value: object, unit: str, quantity: str, source: str, *, rel: float | None = None, abs: float | None = None, kind: str = PUBLISHED
) -> Published:
    """A value from outside, to stand on one side of ``==`` in an assertion.

    Args:
        value: as the source gives it, in ``unit``.
        quantity: of what it is the value, for a reader of the page.
        source: where it stands: author or body, work, place.
        rel, abs: how far ours may be from it, as in ``pytest.approx``.
        kind: ``PUBLISHED``; ``MEMORY`` if the source was not open when it was written down; ``PRACTICE`` if there is none.
    """
    return Published(value, unit, quantity, source, kind, rel, abs)


def _told(value: object, digits: int) -> str:
    if isinstance(value, int | float):
        return f"{value:.{digits}g}"
    return str(value)


# --- the table --------------------------------------------------------------------------------------------------------


def comparing_tests() -> Iterator[str]:
    """The tests that call ``published``, as pytest names them."""
    for file in sorted(TESTS.rglob("test_*.py")):
        text = file.read_text("utf-8")
        if "published(" in text:
            for part in ast.parse(text).body:
                called = {node.func.id for node in ast.walk(part) if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)}
                if isinstance(part, ast.FunctionDef) and part.name.startswith("test_") and "published" in called:
                    yield f"{file}::{part.name}"


def compared(tests: list[str]) -> list[dict[str, str]]:
    """Run ``tests`` and return a row for each value that they were held to.

    Raises: RuntimeError, if they do not pass.
    """
    _compared.clear()
    if pytest.main(["-q", "--no-header", "-p", "no:cacheprovider", "-p", "no:xdist", *tests]) != 0:
        raise RuntimeError("the tests that compare with published values do not pass")
    return list(_compared.values())


def written(rows: list[dict[str, str]]) -> str:
    """One line for each, so that a change shows as one."""
    return "[\n" + ",\n".join(json.dumps(row, ensure_ascii=False) for row in rows) + "\n]\n"


if __name__ == "__main__":
    sys.path.insert(0, str(TESTS))
    import published as as_tests_see_it  # not this module, which is called __main__

    text = written(as_tests_see_it.compared(list(comparing_tests())))
    Path(sys.argv[1] if len(sys.argv) > 1 else TABLE).write_text(text, "utf-8")
