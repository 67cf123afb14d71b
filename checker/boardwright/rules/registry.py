"""The rules, and what every one of them must bring along to be one."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from boardwright.board.assemble import Board
from boardwright.rules.verdict import Judgement, Severity

HEADINGS = ("What it finds", "Why it matters", "How it decides", "How to mend it", "Source")
"""The sections of a rule's docstring, in order: its page in the reference."""

LESSONS = {
    "labels": "Read the label",
    "current": "Add the sips",
    "quiet-power": "Quiet power",
    "thin-wires": "Thin wires and warm boxes",
    "feet-and-lids": "Feet, plugs, lids and backs",
    "leads-and-routes": "Leads, routes and the cut list",
    "follow-the-sound": "Follow the sound",
    "pickup-and-cable": "Pickup, cable, buffer",
    "awkward-characters": "Awkward characters",
    "levels": "Levels and ceilings",
    "loops-and-presets": "Loops, switchers and presets",
    "control-and-midi": "Control leads and MIDI",
    "two-paths": "Two paths at once",
    "three-amplifiers": "Three amplifiers",
    "one-earth": "One earth, always one",
    "the-wall": "The wall",
    "row-by-row": "Build row by row, then hand it over",
    "when-it-goes-quiet": "When it goes quiet, or loud",
}
"""Lessons by the name of their page."""


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule: its name is its file, its case file, its page and its place in a lesson."""

    id: str
    family: str
    title: str
    severities: tuple[Severity, ...]
    lesson: str
    judge: Callable[[Board], Iterator[Judgement]]
    explained_by: tuple[str, ...]
    """Rules whose finding on the same first thing already says what this one would."""
    whole_matter: bool
    """Whether that takes a finding on the same things altogether."""
    page: str
    """Its docstring below the title, Markdown."""

    @property
    def lesson_link(self) -> str:
        return f"lessons/{self.lesson}/#{self.id}"

    @property
    def page_link(self) -> str:
        return f"reference/rules/{self.id}/"


RULES: dict[str, Rule] = {}


class BadRule(Exception):
    """A rule that lacks something. Raised when it is imported, so that it cannot be shipped."""


def rule(
    *severities: Severity, lesson: str, explained_by: tuple[str, ...] = (), whole_matter: bool = False
) -> Callable[[Callable[[Board], Iterator[Judgement]]], Callable[[Board], Iterator[Judgement]]]:
    """Register the function as the rule of its file.

    Args:
        severities: every severity that it can give.
        lesson: the lesson that teaches it, one of ``LESSONS``.
        explained_by: rules under whose finding this one is folded when both are about the same first thing.
        whole_matter: fold only where both are about the same things altogether, as for a pair of boxes.

    Raises:
        BadRule: in plain words, what is missing.
    """

    def register(judge: Callable[[Board], Iterator[Judgement]]) -> Callable[[Board], Iterator[Judgement]]:
        module = sys.modules[judge.__module__]
        *_, family, file = judge.__module__.split(".")
        name = file.replace("_", "-")
        title, _, page = (module.__doc__ or "").strip().partition("\n")
        _refuse(judge.__name__ != file, name, f"the function is called `{judge.__name__}`; call it `{file}`, like its file")
        _refuse(name in RULES, name, "another rule has this name")
        _refuse(not title, name, "the file has no docstring; its first line is the rule's title")
        _refuse(not severities, name, "it states no severity")
        _refuse(lesson not in LESSONS, name, f"there is no lesson `{lesson}`")
        found = [line[3:].strip() for line in page.splitlines() if line.startswith("## ")]
        _refuse(tuple(found) != HEADINGS, name, f"its docstring has the headings {found}; due are {list(HEADINGS)}")
        RULES[name] = Rule(name, family, title.strip().rstrip("."), severities, lesson, judge, explained_by, whole_matter, page.strip())
        return judge

    return register


def _refuse(wrong: bool, name: str, why: str) -> None:
    if wrong:
        raise BadRule(f"rule `{name}`: {why}")
