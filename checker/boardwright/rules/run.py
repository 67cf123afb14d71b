"""Every rule over one board: judgements, what was accepted, and what was said already."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Iterable
from dataclasses import dataclass, field

import boardwright.rules.build
import boardwright.rules.earth
import boardwright.rules.faults
import boardwright.rules.layout
import boardwright.rules.mains
import boardwright.rules.power
import boardwright.rules.routing
import boardwright.rules.signal  # noqa: F401
from boardwright.board.assemble import Board
from boardwright.board.signal.diagrams import TooManyStates
from boardwright.board.signal.promises import too_many
from boardwright.rules.registry import RULES, Rule
from boardwright.rules.verdict import Judgement, Severity, Thing, Verdict, cannot_tell
from boardwright.spec.problem import MOST_SHOWN, Path, Problem
from boardwright.spec.wording import nearest, shown

NOTHING_TO_ACCEPT = "There is no such finding to accept."
DANGER_STANDS = "A danger can never be accepted."


@dataclass(slots=True)
class Finding:
    """A judgement that trips, with what was folded under it."""

    rule: Rule
    judgement: Judgement
    folded: list[tuple[Rule, Judgement]] = field(default_factory=list)


@dataclass(slots=True)
class Outcome:
    """What all rules said about one board."""

    judgements: list[tuple[Rule, Judgement]] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    accepted: list[tuple[Rule, Judgement, str]] = field(default_factory=list)
    """With the reason given."""
    unused: list[tuple[str, Path, str]] = field(default_factory=list)
    """Accepts that silenced nothing: the rule's name, where the accept stands, and why."""


def run(board: Board, only: Iterable[str] | None = None) -> Outcome:
    """Judge a board by all rules, or by ``only`` those named."""
    outcome = Outcome()
    rules = [RULES[name] for name in only] if only is not None else list(RULES.values())
    for rule in rules:
        outcome.judgements += [(rule, judgement) for judgement in _judge(rule, board)]
    _accept(board, outcome)
    outcome.findings = _fold([Finding(rule, judged) for rule, judged in outcome.judgements if judged.verdict is Verdict.TRIPS])
    outcome.findings.sort(key=lambda finding: (finding.judgement.severity.rank, _line(board, finding.judgement)))
    return outcome


def _judge(rule: Rule, board: Board) -> list[Judgement]:
    """What a rule says; where there are too many states or ways to go through, that it cannot tell the rest."""
    said: list[Judgement] = []
    try:
        for judgement in rule.judge(board):
            said.append(judgement)  # and stays said, whatever comes
    except TooManyStates as error:
        said.append(cannot_tell(rule.severities[0], [Thing("audio", ("audio",))], too_many(error)))
    return said


def _line(board: Board, judgement: Judgement) -> tuple[int, int]:
    span = board.locate(judgement.at)
    return (span.line, span.column) if span else (0, 0)


def _accept(board: Board, outcome: Outcome) -> None:
    used, refused = set(), set()
    wanted: dict[tuple[str | None, str | None], list[int]] = defaultdict(list)
    for number, accept in board.spec.accept.items():
        wanted[accept.rule, accept.for_[0] if accept.for_ else None].append(number)
    for position, (rule, judged) in enumerate(outcome.judgements):
        if judged.verdict is not Verdict.TRIPS:
            continue
        names = {thing.name for thing in judged.things}
        about = (number for name in (None, *names) for number in wanted.get((rule.id, name), ()))
        meant = min((number for number in about if set(board.spec.accept[number].for_ or ()) <= names), default=None)
        if meant is None:
            continue
        if judged.severity is Severity.DANGER:
            refused.add(meant)
            continue
        used.add(meant)
        outcome.judgements[position] = (rule, judged._replace(verdict=Verdict.ACCEPTED))
        outcome.accepted.append((rule, judged, board.spec.accept[meant].because or "no reason given"))
    for number, accept in board.spec.accept.items():
        where: Path = ("accept", number)
        if accept.rule is None:
            said = "Nothing is accepted here: `rule` does not say which finding is meant."
            board.spec.problems.append(Problem("value", said, where, board.locate(where), "`rule: ` and the rule's name"))
        elif accept.rule not in RULES and accept.rule != "unknown":
            guess = nearest(accept.rule, RULES) if len(board.spec.problems) < MOST_SHOWN else None
            message = f"There is no rule {shown(accept.rule)}." + (f" Did you mean `{guess}`?" if guess else "")
            edits = board.spec.edits((*where, "rule"), accept.rule, guess)
            board.spec.problems.append(Problem("name", message, where, board.locate((*where, "rule")), "a rule's name", edits))
        elif number not in used:
            outcome.unused.append((accept.rule, where, DANGER_STANDS if number in refused else NOTHING_TO_ACCEPT))


def _fold(findings: list[Finding]) -> list[Finding]:
    """Say one cause once: a finding that another of no less severity explains goes under it. A danger always stands by itself."""
    above: dict[int, Finding] = {}
    known: dict[tuple[str, Hashable], Finding] = {}
    for finding in findings:
        for subject in (_subject(finding), _matter(finding)):
            known.setdefault((finding.rule.id, subject), finding)
    for finding in findings:
        subject = _matter(finding) if finding.rule.whole_matter else _subject(finding)
        explains = (known.get((name, subject)) for name in finding.rule.explained_by)
        other = next((each for each in explains if each and each.judgement.severity.rank <= finding.judgement.severity.rank), None)
        if other is not None and finding.judgement.severity is not Severity.DANGER:
            above[id(finding)] = other
    for finding in findings:
        if id(finding) in above:
            top = above[id(finding)]
            while id(top) in above:
                top = above[id(top)]
            top.folded.append((finding.rule, finding.judgement))
    return [finding for finding in findings if id(finding) not in above]


def _subject(finding: Finding) -> str:
    """The first thing: the one that a finding is really about."""
    return finding.judgement.things[0].name


def _matter(finding: Finding) -> frozenset[str]:
    """All that a finding is about, as of a pair of boxes."""
    return frozenset(thing.name for thing in finding.judgement.things)
