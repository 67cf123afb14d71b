"""Shortcodes: what prose asks the checker for, between double braces.

    {{ limit NAME }}                a threshold, as prose says it
    {{ figure FILE ABOUT NAME WHAT }}    a figure that the checker works out (see figure.py)
    {{ board FILE }}                the text of a board
    {{ drawing NAME FILE }}         a drawing of it
    {{ answer FILE }}               everything that the checker says about it
    {{ plan FILE }}                 its build plan, with the readings to expect
    {{ exercise FILE }}             a board to be mended in the page
    {{ progress }}                  how far the reader has come in all exercises
    {{ opening FILE }}              the comment at its top, as paragraphs
    {{ open FILE }}                 a link that opens it in the checker
    {{ hunt FILE }}                 the tests that find the fault of a board with a symptom
    {{ weights FILE }}              its parts, and how likely each is to blame
    {{ case RULE NAME }}            a case of a rule, with what the rule says about it
    {{ measured RESULT NAME }}      a figure that a command has measured (see results_page.py)
    {{ result RESULT }}             all that it has measured

Each page of the reference adds one that writes its tables. FILE is relative to ``docs/`` or to the project's root.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable
from typing import TypeAlias

from markupsafe import Markup

from boardwright.limits import LIMITS
from boardwright.report.drawings import DRAWINGS
from boardwright.report.prose import say_limit
from boardwright.rules.registry import RULES
from boardwright.site import answer as answers
from boardwright.site import (
    countries_page,
    hunts,
    language,
    limits_page,
    parts_page,
    plan_view,
    published_page,
    report_page,
    results_page,
    rule_pages,
    sources_page,
    worked_examples,
)  # fmt: skip
from boardwright.site.boards import ShownBoard
from boardwright.site.code import board_text, checker_link
from boardwright.site.exercise import KEYS, progress, read_key
from boardwright.site.exercise import exercise as workbench
from boardwright.site.figure import figure as worked_out
from boardwright.site.markup import prose, scrolling, tag, text
from boardwright.site.page import Page
from boardwright.site.unfit import Unfit, choose

Shortcode: TypeAlias = "Callable[..., Markup | str]"
"""Takes the page and the words behind the name; gives HTML, or Markdown that may hold marks of ``Page.slot``."""

_UNSEARCHED = {"board", "drawing", "answer", "plan", "exercise", "case", "hunt", "weights", "board-choices"}
"""Would bury a page's own words in the search under names and figures."""

_SHORTCODE = re.compile(r"\{\{ *(?P<name>[\w-]*)(?P<words>[^{}\n]*)\}\}")


def expand(page: Page, markdown: str, first_line: int = 1) -> str:
    """Carry out every shortcode of a page.

    Args:
        first_line: where ``markdown`` begins in its file, for messages.

    Raises: Unfit, naming the page and the line.
    """
    _look_ahead(page, markdown)

    def carry_out(found: re.Match[str]) -> str:
        try:
            said = _carry_out(page, found["name"], found["words"].split())
        except Unfit as error:
            raise Unfit(f"docs/{page.name}, line {_line(found, first_line)}: {error}") from None
        return page.slot(said, searched=found["name"] not in _UNSEARCHED) if isinstance(said, Markup) else said

    for number, line in enumerate(_SHORTCODE.sub("", markdown).splitlines(), first_line):
        if "{{" in line:
            raise Unfit(f"docs/{page.name}, line {number}: a shortcode is not closed on the line on which it begins.")
    return _SHORTCODE.sub(carry_out, markdown)


def _line(found: re.Match[str], first_line: int) -> int:
    return first_line + found.string.count("\n", 0, found.start())


def _look_ahead(page: Page, markdown: str) -> None:
    """Note what the page shows, so that lines and findings can point at each other."""
    for found in _SHORTCODE.finditer(markdown):
        names = {"board": page.shown, "answer": page.answered}.get(found["name"])
        if names is not None and (shown := page.boards.by_path.get(found["words"].strip())):
            names.add(shown.name)


def _carry_out(page: Page, name: str, words: list[str]) -> Markup | str:
    shortcode = choose(SHORTCODES, name, "a shortcode")
    takes = [each.name.upper() for each in inspect.signature(shortcode).parameters.values()][1:]
    if len(words) != len(takes):
        raise Unfit(f"Write it as `{{{{ {' '.join([name, *takes])} }}}}`.")
    return shortcode(page, *words)


def _find(page: Page, file: str) -> ShownBoard:
    return choose(page.boards.by_path, file, "a board of this site")


def limit(page: Page, name: str) -> str:
    choose(LIMITS, name, "a limit")
    return _unbroken(say_limit(name))


def figure(page: Page, file: str, about: str, name: str, what: str) -> str:
    return _unbroken(worked_out(_find(page, file), about, name, what))


def board(page: Page, file: str) -> Markup:
    return board_text(page, _find(page, file))


def drawing(page: Page, name: str, file: str) -> Markup:
    draw = choose(DRAWINGS, name, "a drawing")
    shown = _find(page, file)
    source = draw(shown.board, shown.report)
    caption = f"{name.replace('-', ' ').capitalize()} of {shown.title}"
    # ids are made once for each drawing; a page may hold several
    unique = re.sub(r'\b(id|aria-labelledby)="[^"]*"', lambda found: found[0].replace(name, f"{shown.name}-{name}"), source)
    return tag(
        "figure",
        {"class": "bw-drawing"},
        tag("figcaption", {}, caption),
        scrolling(caption, Markup(_SIZE.sub(_fit, unique, count=1))),
    )


COLUMN = 688
"""Width (px) of the theme's column of text on a wide screen."""

_SIZE = re.compile(r'(?<= )width="(?P<width>[\d.]+)" height="(?P<height>[\d.]+)"')


def _fit(size: re.Match[str]) -> str:
    """As wide as the column, but never below four fifths of a drawing's size: its labels must be read, and it can scroll."""
    width, height = float(size["width"]), float(size["height"])
    shown = min(width, max(COLUMN, 0.8 * width))
    return f'width="{shown:g}" height="{height * shown / width:.0f}"'


def answer(page: Page, file: str) -> Markup:
    return answers.answer(page, _find(page, file))


def exercise(page: Page, file: str) -> Markup:
    shown = _find(page, file)
    key = page.boards.docs / KEYS / f"{shown.name}.yaml"
    if not key.is_file():
        raise Unfit(f"There is no key for this exercise: docs/{KEYS}/{shown.name}.yaml is due.")
    read = read_key(key)
    path = read.mended.relative_to(page.boards.docs).as_posix()
    solution = board(page, path) + (drawing(page, read.drawing, path) if read.drawing else "")
    return workbench(page, shown, read, _find(page, path), solution)


def opening(page: Page, file: str) -> Markup:
    return text(tag("p", {}, prose(paragraph)) for paragraph in _find(page, file).opening)


def open_in_checker(page: Page, file: str) -> Markup:
    return checker_link(page, _find(page, file))


def case(page: Page, rule: str, name: str) -> Markup:
    shown = choose(choose(page.boards.cases, rule, "a rule"), name, f"a case of {rule}")
    page.shown.add(shown.name)
    return board_text(page, shown) + answers.verdict(page, shown)


def _unbroken(quantity: str) -> str:
    """No line ends between a number and its unit."""
    return quantity.replace(" ", "\N{NO-BREAK SPACE}")


SHORTCODES: dict[str, Shortcode] = {
    "limit": limit,
    "figure": figure,
    "board": board,
    "drawing": drawing,
    "answer": answer,
    "plan": lambda page, file: plan_view.plan(_find(page, file)),
    "exercise": exercise,
    "progress": progress,
    "opening": opening,
    "open": open_in_checker,
    "case": case,
    "hunt": lambda page, file: hunts.plan(_find(page, file)),
    "weights": lambda page, file: hunts.weights(_find(page, file)),
    "signs": hunts.signs,
    "board-choices": hunts.board_choices,
    "rule": lambda page, rule: rule_pages.head(page, choose(RULES, rule, "a rule")),
    "thresholds": lambda page, rule: rule_pages.thresholds(page, choose(RULES, rule, "a rule")),
    "rules": rule_pages.index,
    "language": language.sections,
    "units": language.units,
    "limits": limits_page.limits,
    "judgement": limits_page.judgement,
    "countries": countries_page.countries_table,
    "report": report_page.report,
    "sources": sources_page.sources,
    "formulas": sources_page.formulas,
    "parts": parts_page.parts_tables,
    "published-values": published_page.published_values,
    "result": results_page.result,
    "measured": lambda page, result, name: _unbroken(results_page.figure(page, result, name)),
    "examples": worked_examples.index,
}
