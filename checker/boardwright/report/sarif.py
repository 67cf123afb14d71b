"""Reports as SARIF 2.1.0, the open format in which checkers hand what they found to editors and code hosts.

Section numbers are those of the standard: OASIS, Static Analysis Results Interchange Format (SARIF) Version 2.1.0.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from boardwright.report.columns import in_utf16, lines_of
from boardwright.report.prose import with_limits
from boardwright.report.report import Accepted, Finding, Problem, Question, Report, Thing, UnusedAccept
from boardwright.rules.registry import RULES
from boardwright.rules.verdict import Severity
from boardwright.spec.problem import Edit, Span
from boardwright.version import VERSION

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"

LEVELS = {Severity.DANGER: "error", Severity.FAULT: "error", Severity.RISK: "warning", Severity.ADVICE: "note"}
"""What the standard's levels (3.27.10) make of our severities. The severity itself is kept in the ``properties`` of a finding's
or a question's result."""

UNREADABLE, UNUSED_ACCEPT = "unreadable-text", "unused-accept"
_OF_THE_TEXT = {
    UNREADABLE: "The text cannot be read here, and what it would have said is not judged",
    UNUSED_ACCEPT: "An accept silences nothing",
}
"""What is said about the text by no rule."""

FINGERPRINT = "boardwright/v1"

_Json = dict[str, Any]
_Said = Problem | Finding | Question | Accepted | UnusedAccept


@dataclass(frozen=True, slots=True)
class Judged:
    """A board's file and what was found about it."""

    address: str
    """A URI reference: relative, percent-encoded and with slashes for a file of the project."""
    text: str
    report: Report


def to_sarif(boards: Iterable[Judged], site: str | None = None) -> str:
    """One SARIF log with one run over all ``boards``.

    Findings are of the kind ``fail``, what could not be decided is ``open`` (3.27.9), and what the board's text accepts is a finding
    suppressed in source: missing knowledge is never silence here either.

    Args:
        site: where the built site is served, for links to the rules' pages.
    """
    boards = list(boards)
    found = [(rule, result) for place, judged in enumerate(boards) for rule, result in _results(judged, place)]
    named = [name for name in (*_OF_THE_TEXT, *RULES) if name in {rule for rule, _ in found}]
    for rule, result in found:
        result["ruleIndex"] = named.index(rule)
    driver = {"name": "Boardwright", "version": VERSION, "semanticVersion": VERSION, "rules": [_descriptor(name, site) for name in named]}
    if site:
        driver["informationUri"] = site
    run = {
        "tool": {"driver": driver},
        "invocations": [{"executionSuccessful": True}],
        "artifacts": [_artifact(judged) for judged in boards],
        "results": [result for _, result in found],
        "columnKind": "utf16CodeUnits",
        "newlineSequences": ["\r\n", "\n", "\r"],
    }
    return json.dumps({"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}, ensure_ascii=False, indent=2)


def _message(text: str) -> _Json:
    """A message string, in which braces that mean themselves are doubled (3.11.5)."""
    return {"text": text.replace("{", "{{").replace("}", "}}")}


def _artifact(judged: Judged) -> _Json:
    looked_at = {each.rule: {"trips": each.trips, "clear": each.clear, "cannotTell": each.cannot_tell, "accepted": each.accepted}
                 for each in judged.report.coverage if not each.not_applicable}  # fmt: skip
    return {
        "location": {"uri": judged.address},
        "encoding": "utf-8",
        "sourceLanguage": "yaml",
        "properties": {"headline": judged.report.headline, "coverage": looked_at},
    }


# --- rules ------------------------------------------------------------------------------------------------------------


def _descriptor(name: str, site: str | None) -> _Json:
    if name in _OF_THE_TEXT:
        level = "error" if name == UNREADABLE else "none"
        return {"id": name, "shortDescription": _message(f"{_OF_THE_TEXT[name]}."), "defaultConfiguration": {"level": level}}
    rule = RULES[name]
    page = _message(with_limits(rule.page))["text"]
    described = {
        "id": name,
        "shortDescription": _message(f"{rule.title}."),
        "help": {"text": page, "markdown": page},
        "defaultConfiguration": {"level": _default_level(name)},
        "properties": {"tags": [rule.family], "severities": [severity.value for severity in rule.severities]},
    }
    if site:
        described["helpUri"] = f"{site.rstrip('/')}/{rule.page_link}"
    return described


def _default_level(name: str) -> str:
    return LEVELS[min(RULES[name].severities, key=lambda severity: severity.rank)]


# --- results ----------------------------------------------------------------------------------------------------------


def _results(judged: Judged, place: int) -> Iterator[tuple[str, _Json]]:
    """Every result about one board, with the name of its rule."""
    report, writer = judged.report, _Writer(judged, place)
    for problem in report.problems:
        said = problem.message + (f" May stand here: {problem.expected}" if problem.expected else "")
        yield UNREADABLE, writer.result(UNREADABLE, problem, said, level="error") | writer.fixes(problem.edits)
    for finding in report.findings:
        said = " ".join([finding.sentence, *([f"Seen {finding.witness}."] if finding.witness else []), f"Mend: {finding.remedy}"])
        result = writer.result(finding.rule, finding, said, level=LEVELS[Severity(finding.severity)], severity=finding.severity)
        yield finding.rule, result | writer.fixes(finding.edits)
    for question in (*report.check_first, *report.undecided):
        yield question.rule, writer.result(question.rule, question, question.question, kind="open", severity=question.severity)
    for accepted in report.accepted:
        result = writer.result(accepted.rule, accepted, accepted.sentence, level=_default_level(accepted.rule))
        result["suppressions"] = [{"kind": "inSource", "status": "accepted", "justification": accepted.because}]
        yield accepted.rule, result
    for unused in report.unused_accepts:
        said = f"`{unused.rule}` is accepted for nothing. {unused.why}"
        yield UNUSED_ACCEPT, writer.result(UNUSED_ACCEPT, unused, said, kind="informational")


class _Writer:
    """Writes what is said about one board as results, in the standard's places and columns."""

    def __init__(self, judged: Judged, place: int) -> None:
        self._artifact = {"uri": judged.address, "index": place}
        self._lines = lines_of(judged.text)
        self._seen: Counter[str] = Counter()

    def result(self, rule: str, said: _Said, text: str, *, kind: str = "fail", level: str = "none", severity: str | None = None) -> _Json:
        things: list[Thing] = getattr(said, "things", [])
        main = self._location(said.at)
        if names := dict.fromkeys(thing.where for thing in things if thing.where):
            main["logicalLocations"] = [{"fullyQualifiedName": name} for name in names]
        result: _Json = {
            "ruleId": rule,
            "kind": kind,
            "level": level,
            "message": _message(text),
            "locations": [main],
            "partialFingerprints": {FINGERPRINT: self._fingerprint(rule, kind, said)},
        }
        others = dict.fromkeys((thing.at, thing.name) for thing in things if thing.at and thing.at != said.at)
        if others:
            result["relatedLocations"] = [{**self._location(at), "message": _message(name)} for at, name in others]
        if severity:
            result["properties"] = {"severity": severity}
        return result

    def fixes(self, edits: list[Edit]) -> _Json:
        """Offers to mend, for what takes them (3.55)."""
        fixes = [
            {
                "description": _message(edit.title),
                "artifactChanges": [
                    {
                        "artifactLocation": self._artifact,
                        "replacements": [
                            {"deletedRegion": self._region(change.at), "insertedContent": {"text": change.text}} for change in edit.edits
                        ],
                    }
                ],
            }
            for edit in edits
        ]
        return {"fixes": fixes} if fixes else {}

    def _location(self, at: Span | None) -> _Json:
        physical: _Json = {"artifactLocation": self._artifact}
        if at:
            physical["region"] = self._region(at)
        return {"physicalLocation": physical}

    def _region(self, at: Span) -> _Json:
        return {
            "startLine": at.line,
            "startColumn": in_utf16(self._lines, at.line, at.column),
            "endLine": at.end_line,
            "endColumn": in_utf16(self._lines, at.end_line, at.end_column),
        }

    def _fingerprint(self, rule: str, kind: str, said: _Said) -> str:
        """The same for the same matter after edits elsewhere: made of names, never of lines, nor of places in a list."""
        things: list[Thing] = getattr(said, "things", [])
        about = [f"{thing.name} {_unnumbered(thing.where)}" for thing in things]
        if isinstance(said, Problem):
            written = self._lines[said.at.line - 1].strip() if said.at and said.at.line <= len(self._lines) else ""
            about = [said.kind, _unnumbered(said.where), written]
        elif isinstance(said, UnusedAccept):
            about = [said.rule]
        digest = hashlib.sha256("\n".join([rule, kind, *about]).encode("utf-8", "surrogatepass")).hexdigest()[:32]
        self._seen[digest] += 1
        return f"{digest}:{self._seen[digest]}"


def _unnumbered(where: str) -> str:
    return re.sub(r"\[\d+\]", "[]", where)
