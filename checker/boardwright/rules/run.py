"""Every rule over one board: judgements, what was accepted, and what was said already."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

import boardwright.rules.earth  # noqa: F401
import boardwright.rules.layout  # noqa: F401
import boardwright.rules.mains  # noqa: F401
import boardwright.rules.power  # noqa: F401  (registers the family)
import boardwright.rules.routing  # noqa: F401
import boardwright.rules.signal  # noqa: F401
from boardwright.board.assemble import Board
from boardwright.board.signal.diagrams import TooManyStates
from boardwright.board.signal.promises import TOO_MANY
from boardwright.rules.registry import RULES, Rule
from boardwright.rules.verdict import Judgement, Severity, Thing, Verdict, cannot_tell
from boardwright.spec.problem import Path, Problem
from boardwright.spec.wording import nearest


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
    unused: list[tuple[str, Path]] = field(default_factory=list)
    """Accepts that met no finding: the rule's name, and where the accept stands."""


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
    """What a rule says; where there are too many states to go through, that it cannot tell."""
    try:
        return list(rule.judge(board))
    except TooManyStates:
        return [cannot_tell(rule.severities[0], [Thing("audio", ("audio",))], TOO_MANY)]


def _line(board: Board, judgement: Judgement) -> tuple[int, int]:
    span = board.locate(judgement.at)
    return (span.line, span.column) if span else (0, 0)


def _accept(board: Board, outcome: Outcome) -> None:
    used = set()
    for position, (rule, judged) in enumerate(outcome.judgements):
        if judged.verdict is not Verdict.TRIPS or judged.severity is Severity.DANGER:
            continue
        names = {thing.name for thing in judged.things}
        for number, accept in board.spec.accept.items():
            if accept.rule == rule.id and (accept.for_ is None or set(accept.for_) <= names):
                used.add(number)
                outcome.judgements[position] = (rule, replace(judged, verdict=Verdict.ACCEPTED))
                outcome.accepted.append((rule, judged, accept.because or "no reason given"))
                break
    for number, accept in board.spec.accept.items():
        where: Path = ("accept", number)
        if accept.rule is not None and accept.rule not in RULES:
            guess = nearest(accept.rule.replace("-", "_"), [name.replace("-", "_") for name in RULES])
            hint = f" Did you mean `{guess.replace('_', '-')}`?" if guess else ""
            message = f"There is no rule `{accept.rule}`.{hint}"
            board.spec.problems.append(Problem("name", message, where, board.locate((*where, "rule")), "a rule's name"))
        elif number not in used and accept.rule is not None:
            outcome.unused.append((accept.rule, where))


def _fold(findings: list[Finding]) -> list[Finding]:
    """Say one cause once: a finding that another explains goes under it. A danger always stands by itself."""
    above: dict[int, Finding] = {}
    for finding in findings:
        if finding.rule.explained_by and finding.judgement.severity is not Severity.DANGER:
            explains = (other for other in findings if other.rule.id in finding.rule.explained_by and _same_matter(other, finding))
            if (other := next(explains, None)) is not None:
                above[id(finding)] = other
    for finding in findings:
        if id(finding) in above:
            top = above[id(finding)]
            while id(top) in above:
                top = above[id(top)]
            top.folded.append((finding.rule, finding.judgement))
    return [finding for finding in findings if id(finding) not in above]


def _same_matter(one: Finding, other: Finding) -> bool:
    """Whether both are about the same first thing: the one that each finding is really about."""
    return one.judgement.things[0].name == other.judgement.things[0].name
