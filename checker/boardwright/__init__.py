"""Boardwright: write an effects-pedal board down, and learn what will hum, sag, burn or fall silent before building it."""

from __future__ import annotations

from boardwright.report.report import Report
from boardwright.version import VERSION as __version__

__all__ = ["Report", "__version__", "check"]


def check(text: str) -> Report:
    """Judge a board.

    Args:
        text: the board as written, YAML or JSON, at most 1 MB.

    Returns:
        Everything found: errors of the text, findings, questions, figures, and what each rule looked at. Bad text is an
        answer, not an exception.
    """
    return judge(text)[1]


def judge(text: str):  # type: ignore[no-untyped-def]
    """The board behind a report, and the report: for those who draw it too."""
    from boardwright.board.assemble import assemble
    from boardwright.report.report import build
    from boardwright.rules.run import run
    from boardwright.spec.read import read

    board = assemble(read(text))
    return board, build(board, run(board))
