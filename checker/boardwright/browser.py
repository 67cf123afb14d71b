"""The door for the page: text in, JSON out, with what only a browser needs."""

from __future__ import annotations

import gc
import json
import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import lru_cache
from typing import Any

from boardwright import judge
from boardwright.board.assemble import Board, assemble
from boardwright.report.columns import in_utf16, lines_of
from boardwright.report.cut_list import cut_list, to_csv
from boardwright.report.drawings import drawn
from boardwright.report.hunt import hunt_state
from boardwright.report.json import by_field, encode, to_json, to_plain
from boardwright.report.markdown import to_markdown
from boardwright.report.report import Report
from boardwright.rules.run import Outcome, run
from boardwright.spec.fields import Section
from boardwright.spec.read import read

_ASTRAL = re.compile("[\U00010000-\U0010ffff]")


def answer(text: str) -> str:
    """Judge a board for the page.

    Args:
        text: the board as written.

    Returns:
        The report as JSON, with ``drawings`` (SVG by name) added. Columns count UTF-16 units, as JavaScript does; those
        of a report count code points.
    """
    with _undisturbed():
        return answer_of(text, *judge(text))


@contextmanager
def _undisturbed() -> Iterator[None]:
    """No garbage is collected meanwhile: it takes a tenth of a check, a quarter of a hostile one, and can wait until the answer is there."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def answer_of(text: str, board: Board, report: Report) -> str:
    """The answer to a board that has been judged already."""
    return encode(_said(text, report) | {"drawings": dict(drawn(board, report))})


def in_parts(text: str) -> Iterator[str]:
    """The same answer piece by piece, so that a reader need not wait for drawings, nor drawings be made of an old text.

    Args:
        text: the board as written.

    Yields:
        JSON: first everything but ``drawings``, then for each drawing a list of its name and its SVG.
    """
    with _undisturbed():
        board, report = judge(text)
        yield encode(_said(text, report))  # from within: the garbage waits until the answer has been handed on
    yield from map(encode, drawn(board, report))


def first_part(text: str) -> str:
    """Of an answer in parts, the first alone.

    Args:
        text: the board as written.
    """
    return next(in_parts(text))


def _said(text: str, report: Report) -> dict[str, Any]:
    if not _ASTRAL.search(text):
        return by_field(report)
    plain: dict[str, Any] = to_plain(report)
    _recount(plain, lines_of(text))
    return plain


def hunt(text: str, asked: str) -> str:
    """One state of a hunt for a fault, for the page.

    Args:
        text: the board as written.
        asked: JSON of what is heard, when, and the answers so far (see ``report.hunt.hunt_state``).

    Returns:
        JSON: the next test, the record, the suspects, or why there is no hunt.
    """
    return encode(hunt_state(*_assembled(text), json.loads(asked)))


@lru_cache(maxsize=1)
def _assembled(text: str) -> tuple[Board, Outcome]:
    """The board of a hunt and what the check found: of one text many states are asked."""
    board = assemble(read(text))
    return board, run(board)


def book(text: str) -> Iterator[str]:
    """The handover book, for a page that says how far it is.

    Yields:
        JSON: before each chapter a list of its title, how many are done, and of how many; in the end the book as a string of HTML.
    """
    from boardwright.report.book import in_stages  # of no use to a check

    making = in_stages(*judge(text))
    while True:
        try:
            stage = next(making)
        except StopIteration as made:
            yield encode(made.value)
            return
        yield encode([stage.title, stage.done, stage.count])


def write(text: str, form: str, base: str = "") -> str:
    """What a reader takes away from the page, the same as at the command line.

    Args:
        text: the board as written.
        form: one of ``FORMS``.
        base: address of the site, ending in a slash, for links to lessons.

    Raises: KeyError, naming a form that does not exist.
    """
    return FORMS[form](*judge(text), base)


FORMS: dict[str, Callable[[Board, Report, str], str]] = {
    "json": lambda board, report, base: to_json(report) + "\n",
    "markdown": lambda board, report, base: to_markdown(report, base),
    "cut-list": lambda board, report, base: to_csv(cut_list(board)),
}


def warm_up(text: str) -> None:
    """Do what is otherwise done when a board first needs it, in a Python whose memory will be saved.

    Args:
        text: any board.
    """
    for section in _kinds_of(Section):
        section.model_rebuild()
    answer(text)
    gc.collect()
    gc.freeze()  # what is there to stay need not be looked through again and again


def _kinds_of(base: type[Section]) -> Iterator[type[Section]]:
    for kind in base.__subclasses__():
        yield kind
        yield from _kinds_of(kind)


def _recount(value: Any, lines: list[str]) -> None:
    """Turn the columns of every span below ``value`` into UTF-16 units."""
    if isinstance(value, list):
        for each in value:
            _recount(each, lines)
    elif isinstance(value, dict):
        if "end_column" in value and "line" in value:
            for line, column in (("line", "column"), ("end_line", "end_column")):
                value[column] = in_utf16(lines, value[line], value[column])
        else:
            for each in value.values():
                _recount(each, lines)
