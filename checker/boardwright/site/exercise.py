"""``{{ exercise FILE }}``: a board with planted faults, to be mended in the page.

It is a workbench like that of the checker's page, asleep until the reader shows that it is wanted:

    <div class="bw-bench bw-exercise" data-bench data-start="intent" data-base="…the site's root…"
         data-exercise="current-exercise" data-key='[{"rule", "about", "severity", "because"}, …]'>
      <div class="bw-bench__panes">
        <section class="bw-bench__text">    <label for=…>, <textarea id=…> with the board
        <section class="bw-bench__answer" data-answer>    what stands here until an answer does

``data-key`` holds every fault that was planted, so that the page can say which are left: one is mended when no finding of
that ``rule`` names ``about`` any more. A test holds the checker to the key. Without JavaScript it is still an exercise:
the board can be read, and a link opens it in the checker. Hints and the key in words follow in the lesson, folded away.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from pathlib import Path

from markupsafe import Markup
from ruamel.yaml import YAML

from boardwright.site.boards import ShownBoard
from boardwright.site.code import checker_link
from boardwright.site.markup import tag
from boardwright.site.page import Page

KEYS = "lessons/keys"


@dataclass(frozen=True, slots=True)
class Planted:
    """One fault of an exercise: the rule that finds it, the thing that it is about, and the sum behind it."""

    rule: str
    about: str
    severity: str
    because: str


@dataclass(frozen=True, slots=True)
class Key:
    """Everything that the checker should say about an exercise, and a board that leaves nothing to say."""

    planted: list[Planted]
    mended: Path


def read_key(file: Path) -> Key:
    """A key as it stands below ``docs/lessons/keys``."""
    written = YAML(typ="safe", pure=True).load(file.read_text("utf-8"))
    planted = [Planted(each["rule"], each["about"], each["severity"], " ".join(each["because"].split())) for each in written["expect"]]
    return Key(planted, file.parents[1] / written["mended"])


def exercise(page: Page, shown: ShownBoard, key: Key) -> Markup:
    """The workbench of an exercise."""
    box = f"{shown.name}-text"
    rows = shown.text.count("\n") + 1
    textarea = tag("textarea", {"id": box, "rows": rows, "spellcheck": "false", "autocapitalize": "off", "autocomplete": "off"}, "\n", shown.text)
    text = tag(
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
            "data-key": json.dumps([asdict(each) for each in key.planted], ensure_ascii=False),
        },
        tag("div", {"class": "bw-bench__panes"}, text, answer),
    ) + tag("script", {"type": "module", "src": page.link("assets/checker/page.mjs")})
