"""``{{ exercise FILE }}``: a board with planted faults, to be mended in the page.

It is a workbench like that of the checker's page, asleep until the reader shows that it is wanted, and below it hints and
the key, folded away:

    <div class="bw-bench bw-exercise" data-bench data-start="intent" data-base="…the site's root…"
         data-exercise="current-exercise" data-key='[{"rule", "about", "severity", "title", …}, …]'
         data-keeps='["echo", …]' data-mended="boards/current-exercise-mended.yaml">
      <div class="bw-bench__panes">
        <section class="bw-bench__text">    <label for=…>, <textarea id=…> with the board
        <section class="bw-bench__answer" data-answer>    what stands here until an answer does
      <div data-hints>    folds: how to look, where to look, the key

``data-key`` holds every fault that was planted, so that the page can say which are left; its script takes the hints from
there, one step at a time, and the key from its fold. A test holds the checker to the key. Without JavaScript it is still an
exercise: the board can be read, and a link opens it in the checker.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path

from markupsafe import Markup
from ruamel.yaml import YAML

from boardwright.rules.registry import RULES
from boardwright.site.boards import ShownBoard
from boardwright.site.code import checker_link
from boardwright.site.markup import fold, prose, tag, text
from boardwright.site.page import Page

KEYS = "lessons/keys"

_EXERCISE = re.compile(r"\{\{ exercise lessons/boards/([\w-]+)\.yaml \}\}")


@dataclass(frozen=True, slots=True)
class Planted:
    """One fault of an exercise: the rule that finds it, the thing that it is about, and three hints, one stronger than the other."""

    rule: str
    about: str
    severity: str
    look: str
    """Where to look; it does not give the thing away."""
    because: str
    """What is wrong: the sum behind it, worked out by hand."""
    mend: str
    """One way to mend it."""


@dataclass(frozen=True, slots=True)
class Key:
    """Everything that the checker should say about an exercise, and a board that leaves nothing to say."""

    planted: list[Planted]
    mended: Path
    how: str
    """How to look at this board at all."""
    note: str | None = None
    """What there is to say about the key as a whole."""
    drawing: str | None = None
    """A drawing of the mended board that shows more than its text."""


def read_key(file: Path) -> Key:
    """A key as it stands below ``docs/lessons/keys``."""
    written = YAML(typ="safe", pure=True).load(file.read_text("utf-8"))
    planted = [Planted(**{name: " ".join(words.split()) for name, words in each.items()}) for each in written["expect"]]
    return Key(planted, file.parents[1] / written["mended"], written["how"], written.get("note"), written.get("drawing"))


def exercise(page: Page, shown: ShownBoard, key: Key, mended: ShownBoard, solution: Markup) -> Markup:
    """The workbench of an exercise, with its hints.

    Args:
        solution: the mended board as the key shows it.
    """
    box = f"{shown.name}-text"
    rows = shown.text.count("\n") + 1
    textarea = tag("textarea", {"id": box, "rows": rows, "spellcheck": "false", "autocapitalize": "off", "autocomplete": "off"}, "\n", shown.text)
    board = tag(
        "section",
        {"class": "bw-bench__text", "aria-label": "The board"},
        tag("label", {"class": "bw-bench__label", "for": box}, shown.title),
        textarea,
    )
    waiting = tag("p", {}, "Change the board, and what the checker still finds is listed here."), tag("p", {}, checker_link(page, shown))
    answer = tag("section", {"class": "bw-bench__answer", "aria-label": "What is left to find", "data-answer": True}, waiting)
    return tag(
        "div",
        {
            "class": "bw-bench bw-exercise",
            "data-bench": True,
            "data-start": "intent",
            "data-base": page.link(""),
            "data-exercise": shown.name,
            "data-key": _json([{**asdict(each), "title": RULES[each.rule].title, "lesson": RULES[each.rule].lesson_link} for each in key.planted]),
            "data-keeps": _json([row.name for row in shown.report.power.devices]),
            "data-mended": mended.address,
        },
        tag("div", {"class": "bw-bench__panes"}, board, answer),
        tag("div", {"class": "bw-hints", "data-hints": True}, _hints(page, key, solution)),
    ) + tag("script", {"type": "module", "src": page.link("assets/checker/page.mjs")})


def progress(page: Page) -> Markup:
    """A place where the page tells how far the reader has come, in each lesson that has an exercise."""
    lessons = {}
    for file in sorted((page.boards.docs / "lessons").glob("*.md")):
        for name in _EXERCISE.findall(file.read_text("utf-8")):
            key = read_key(page.boards.docs / KEYS / f"{name}.yaml")
            lessons[f"lessons/{file.stem}/"] = {"exercise": name, "count": len(key.planted)}
    place = tag("p", {"class": "bw-soft", "data-progress": _json(lessons), "data-base": page.link("")})
    return place + tag("script", {"type": "module", "src": page.link("assets/checker/lessons_index.mjs")})


def _hints(page: Page, key: Key, solution: Markup) -> Iterator[Markup]:
    yield fold("Hint: how to look", tag("p", {}, prose(key.how)))
    yield fold("Hint: where to look", tag("ul", {"class": "bw-list"}, [tag("li", {}, prose(each.look)) for each in key.planted]))
    faults = [
        tag("li", {}, tag("code", {}, each.about), ": ", prose(each.because), " ", prose(each.mend), " ", _rule_link(page, each.rule))
        for each in key.planted
    ]
    note = tag("p", {}, prose(key.note)) if key.note else None
    yield fold("The key", text([tag("ul", {"class": "bw-list"}, faults), note, solution]))


def _rule_link(page: Page, rule: str) -> Markup:
    return tag("a", {"href": page.link(RULES[rule].lesson_link)}, RULES[rule].title)


def _json(data: object) -> str:
    return json.dumps(data, ensure_ascii=False)
