"""The page of the JSON answer: every class of the report, field by field."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from types import UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from markupsafe import Markup

from boardwright.report.report import Report
from boardwright.site.markup import prose, rows, table, tag, text
from boardwright.site.page import Page

_PLAIN = {str: "text", int: "whole number", float: "number", bool: "true or false", type(None): "null"}

MEANINGS: dict[str, dict[str, str]] = {
    "Report": {
        "board": "Which board it is about.",
        "headline": "One sentence: what was found.",
        "problems": "Errors of the text itself, all at once.",
        "skipped": "What could not be read, so that nothing was judged by it.",
        "findings": "What is wrong: dangers first, then faults, risks and advice; within one, by line.",
        "check_first": "Dangers that could not be decided: to be checked before anything is switched on.",
        "undecided": "Everything else that could not be decided. What could break something comes first.",
        "accepted": "Findings that the board accepts. A danger never is.",
        "unused_accepts": "Accepts that silenced nothing, and why.",
        "readings": "What was read at the bench, beside what was due.",
        "promises": "What the board promises of every state of its switches, each with its answer.",
        "coverage": "What every rule came to. Silence is no answer.",
        "power": "Volts, current and power of everything, also when nothing is wrong.",
        "hunt": "How to find the fault, where the board states a `symptom`; null where it states none.",
        "schema": "The name and version of this form: `boardwright-report/1`.",
    },
    "HuntPlan": {
        "heard": "The kind of symptom.",
        "where": "The state of the switches in which to test.",
        "reason": "Why there is no plan; null where there is one.",
        "stops": "Dangers that the check has found: no test before they are mended.",
        "found_already": "Findings of the check that explain the symptom. They come first.",
        "suspects": "What may be to blame, the likeliest first.",
        "tests": "The first tests of the plan.",
        "tests_expected": "How many tests it takes on average.",
        "minutes_expected": "How long that takes, in minutes.",
        "minutes_front_to_back": "How long it takes to go through part by part from the front, after the first looks.",
    },
    "HuntSuspect": {"name": "What it is.", "share": "How likely, by judgement; all add up to 1.", "mend": "What to do if it is to blame."},
    "HuntTest": {
        "number": "Its number in the plan.",
        "do": "What to do.",
        "ask": "The question.",
        "minutes": "How long it takes.",
        "good": "Where a good answer leads: to another test, or to what is to blame.",
        "bad": "Where a bad answer leads.",
    },
    "BoardName": {"name": "What the board calls itself.", "purpose": "Its `for`: `home`, `studio`, `stage` or `tour`."},
    "Problem": {
        "kind": "`syntax`, `key`, `value`, `name` or `bound`.",
        "message": "What was found, in plain words.",
        "expected": "What may stand there.",
        "where": "The way to it from the top: `pedals.echo.needs`.",
        "at": "Its place in the text.",
        "edits": "Ways to mend it that can be offered, each by itself. Only where one thing can have been meant.",
    },
    "Edit": {"title": "What it does.", "edits": "The changes that do it, in the order of the text, all to be made at once."},
    "Change": {"at": "The stretch of text.", "text": "What to write in its place."},
    "Span": {
        "line": "Counts from 1.",
        "column": "Counts from 1, in characters; in the browser's answer in UTF-16 units.",
        "end_line": "The line in which it ends.",
        "end_column": "The column behind its last character.",
    },
    "Finding": {
        "rule": "The rule's name.",
        "title": "The rule's title.",
        "severity": "`danger`, `fault`, `risk` or `advice`.",
        "sentence": "What is wrong with this board, with its figures. Backticks stand around what the board says.",
        "remedy": "What to change.",
        "things": "What it is about; the first is the one that it is really about.",
        "at": "The place in the text to begin with.",
        "numbers": "The figures and limits that decided.",
        "lesson": "Where it is taught, below the site's root.",
        "page": "The rule in full, below the site's root.",
        "witness": "Where switches matter: a state in which it happens.",
        "folded": "Findings that say less about the same cause.",
        "edits": "Changes of the plan that would mend it, each by itself. What is built has to follow. A danger has none.",
    },
    "Thing": {"name": "As the board calls it.", "where": "The way to it from the top.", "at": "Its place in the text."},
    "Number": {
        "name": "What it is.",
        "text": "Written for a person.",
        "value": "In the unit itself; a share of one for `%`.",
        "unit": "Its unit.",
        "origin": "`measured`, `stated`, `assumed` or `unknown`; or `limit` for a threshold.",
    },
    "Folded": {"rule": "The rule's name.", "sentence": "What it would have said."},
    "Question": {
        "rule": "The rule that asks.",
        "title": "The rule's title.",
        "severity": "How bad it would be.",
        "question": "The one thing to find out that would decide it.",
        "things": "What it is about.",
        "at": "Where the answer could be written.",
        "lesson": "Where it is taught, below the site's root.",
        "page": "The rule in full, below the site's root.",
        "before_power": "Whether to find it out before anything is plugged in, since being wrong would break something.",
    },
    "Accepted": {
        "rule": "The rule's name.",
        "title": "The rule's title.",
        "sentence": "What is accepted.",
        "because": "The reason that the board gives.",
        "things": "What it is about.",
        "at": "Its place in the text.",
    },
    "Promise": {
        "promise": "What is promised, in words.",
        "kept": "`holds`, `broken` or `cannot tell`.",
        "how": "What a promise that holds rests on: `by wiring`, or `whatever you switch`.",
        "proof": "The steps that lead there.",
        "witness": "Of a broken one: a state in which it breaks.",
        "question": "Of one that cannot be told: what would decide it.",
        "things": "What it is about.",
        "at": "Its place in the text.",
    },
    "Reading": {
        "where": "A lead by its label, an outlet, a device, an amplifier; of a resistance between two grounds, both.",
        "what": "What was looked at, and how.",
        "got": "What was read.",
        "due": "What should have been read, in words.",
        "agrees": "Whether it did.",
        "at": "Its place in the text.",
    },
    "UnusedAccept": {"rule": "The rule that is accepted.", "at": "Where the accept stands.", "why": "Why it silences nothing."},
    "Coverage": {
        "rule": "The rule's name.",
        "title": "The rule's title.",
        "family": "The family that it belongs to.",
        "page": "The rule in full, below the site's root.",
        "trips": "How often something was wrong.",
        "clear": "How often all was as it should be.",
        "cannot_tell": "How often something was missing.",
        "accepted": "How often the board accepts it.",
        "not_applicable": "Whether the board has nothing that the rule is about.",
    },
    "PowerFigures": {
        "supplies": "A row for each supply.",
        "outlets": "A row for each outlet.",
        "devices": "A row for each device.",
    },
    "SupplyFigures": {
        "name": "Its name.",
        "at": "Its place in the text.",
        "watts": "The power that it gives (W), by the labels.",
        "total_watts": "The power that it may give in all (W).",
        "lost_watts": "What it turns into warmth (W).",
        "case_celsius": "About how warm its case gets (°C).",
        "complete": "Whether the draw of every device on it is known.",
    },
    "OutletFigures": {
        "name": "Its name, such as `brick.3`.",
        "supply": "The supply that it belongs to.",
        "at": "Its place in the text.",
        "label": "What it gives, as a power phrase.",
        "volts": "What it gives (V).",
        "amps": "What flows (A).",
        "rating_amps": "What it may give (A).",
        "share": "What the labels ask of it, as a share of its rating.",
        "watts": "The power that it gives (W).",
        "devices": "What hangs on it.",
        "complete": "Whether the draw of every device on it is known.",
    },
    "DeviceFigures": {
        "name": "Its name.",
        "at": "Its place in the text.",
        "source": "The outlets that feed it, or `battery`.",
        "label": "What it needs, as a power phrase; `none` if it takes nothing.",
        "volts": "What arrives (V); null where the network cannot settle.",
        "amps": "What it draws there (A).",
        "watts": "The power that it takes (W).",
        "lost_volts": "What was lost on the way (V).",
        "origin": "How well the above is known: the weakest of what it follows from.",
    },
}
"""What each field says; a new field gets a line here. A test holds it to the classes, both ways."""


def report(page: Page) -> str:
    """Every class of the report, the whole first."""
    parts = []
    for kind in classes():
        parts.append(f"### {kind.__name__} {{ #{kind.__name__.lower()} }}")
        each = [(tag("code", {}, name), _written(hint), prose(MEANINGS.get(kind.__name__, {}).get(name, ""))) for name, hint in _hints(kind).items()]
        parts.append(page.slot(table(f"Fields of {kind.__name__}", ("field", "holds", "says"), rows(each), look="bw-table--prose")))
    return "\n\n".join(parts)


def classes(first: type = Report) -> list[type]:
    """The classes that an answer is made of, each once, in the order in which fields name them."""
    found = {first: None}
    for hint in _hints(first).values():
        for inner in _within(hint):
            found |= dict.fromkeys(classes(inner))
    return list(found)


def _hints(kind: type) -> dict[str, Any]:
    hints = get_type_hints(kind)
    return {each.name: hints[each.name] for each in fields(kind)}


def _within(hint: Any) -> Iterator[type]:
    if is_dataclass(hint) and isinstance(hint, type):
        yield hint
    for inner in get_args(hint):
        yield from _within(inner)


def _written(hint: Any) -> Markup:
    """A field's type in words, with links to the classes."""
    if get_origin(hint) in (Union, UnionType):
        parts = [_written(each) for each in get_args(hint)]
        return text([part for place, each in enumerate(parts) for part in ((" or " if place else None), each)])
    if get_origin(hint) in (list, tuple):
        return text(["list of ", _written(get_args(hint)[0])])
    if hint in _PLAIN:
        return text(_PLAIN[hint])
    return tag("a", {"href": f"#{hint.__name__.lower()}"}, hint.__name__)
