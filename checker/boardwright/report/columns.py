"""Columns in units of UTF-16, as editors, browsers and code hosts count them. A report's own columns count code points."""

from __future__ import annotations

from boardwright.spec.text import as_counted


def lines_of(text: str) -> list[str]:
    """A board's text in the lines by which a report counts."""
    return as_counted(text).split("\n")


def in_utf16(lines: list[str], line: int, column: int) -> int:
    """A column of a line, both counted from 1, in units of UTF-16."""
    before = lines[line - 1][: column - 1] if line <= len(lines) else ""
    return 1 + len(before.encode("utf-16-le", "surrogatepass")) // 2
