"""The report: everything that was found about one board, ready to be written down in any form.

These classes are the JSON answer too: field by field, in this order. Their schema is generated from them.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import combinations

from boardwright.board.assemble import Board
from boardwright.board.bench.taken import Taken, taken
from boardwright.board.signal.promises import Answer, Kept
from boardwright.report.figures import PowerFigures, power_figures
from boardwright.report.hunt import HuntPlan, hunt_plan
from boardwright.rules.registry import RULES, Rule
from boardwright.rules.run import Finding as RunFinding
from boardwright.rules.run import Outcome
from boardwright.rules.verdict import Judgement, Number, Severity, Verdict
from boardwright.rules.verdict import Thing as RuleThing
from boardwright.spec.problem import MOST_SHOWN, Edit, Span, dotted
from boardwright.spec.problem import Problem as SpecProblem

SCHEMA = "boardwright-report/1"


@dataclass(slots=True)
class Thing:
    """Something in the board's text."""

    name: str
    where: str
    at: Span | None


@dataclass(slots=True)
class Problem:
    """An error of the text itself."""

    kind: str
    message: str
    expected: str | None
    where: str
    at: Span | None
    edits: list[Edit]
    """Ways to mend it that can be offered, each by itself."""


@dataclass(slots=True)
class Folded:
    """A finding that another one already explains."""

    rule: str
    sentence: str


@dataclass(slots=True)
class Finding:
    """Something that is wrong, and how to mend it."""

    rule: str
    title: str
    severity: str
    sentence: str
    remedy: str
    things: list[Thing]
    at: Span | None
    numbers: list[Number]
    lesson: str
    page: str
    witness: str | None
    folded: list[Folded]
    edits: list[Edit]
    """Changes of the plan that would mend it, each by itself; what is built is to follow."""


@dataclass(slots=True)
class Question:
    """Something that could not be decided, and the one question that would decide it."""

    rule: str
    title: str
    severity: str
    question: str
    things: list[Thing]
    at: Span | None
    lesson: str
    page: str
    before_power: bool


@dataclass(slots=True)
class Accepted:
    """A finding that the board's text accepts."""

    rule: str
    title: str
    sentence: str
    because: str
    things: list[Thing]
    at: Span | None


@dataclass(slots=True)
class UnusedAccept:
    """An accept that silenced nothing."""

    rule: str
    at: Span | None
    why: str


@dataclass(slots=True)
class Promise:
    """A promise of the board's text, answered."""

    promise: str
    kept: str
    """``holds``, ``broken`` or ``cannot tell``."""
    how: str | None
    """What a promise that holds rests on: ``by wiring``, or ``whatever you switch``."""
    proof: list[str]
    witness: str | None
    """A state in which a broken one breaks."""
    question: str | None
    things: list[Thing]
    at: Span | None


@dataclass(slots=True)
class Reading:
    """A reading of the board's text beside what was to be expected."""

    where: list[str]
    what: str
    got: str
    due: str | None
    """In words; ``None`` where nothing is to be expected."""
    agrees: bool | None
    at: Span | None


@dataclass(slots=True)
class Coverage:
    """What one rule came to, over everything that it looked at."""

    rule: str
    title: str
    family: str
    page: str
    trips: int
    clear: int
    cannot_tell: int
    accepted: int
    not_applicable: bool


@dataclass(slots=True)
class BoardName:
    name: str | None
    purpose: str | None


@dataclass(slots=True)
class Report:
    """Everything that was found about one board."""

    board: BoardName
    headline: str
    problems: list[Problem]
    skipped: list[str]
    findings: list[Finding]
    check_first: list[Question]
    """Dangers that could not be decided: to be checked before anything is switched on."""
    undecided: list[Question]
    accepted: list[Accepted]
    unused_accepts: list[UnusedAccept]
    promises: list[Promise]
    readings: list[Reading]
    coverage: list[Coverage]
    power: PowerFigures
    hunt: HuntPlan | None
    """How to find the fault, where the board's text states a symptom."""
    schema: str = field(default=SCHEMA)

    def count(self, severity: Severity) -> int:
        return sum(1 for finding in self.findings if finding.severity == severity)


def build(board: Board, outcome: Outcome) -> Report:
    """The report on a judged board."""
    spec = board.spec
    questions = [
        (rule, judged) for rule, judged in outcome.judgements if judged.verdict is Verdict.CANNOT_TELL and _is_asked(board, rule, judged)
    ]
    report = Report(
        board=BoardName(spec.board.name if spec.board else None, board.purpose),
        headline="",
        problems=_problems(spec.problems),
        skipped=_skipped(board),
        findings=[_finding(board, finding) for finding in outcome.findings],
        check_first=_questions(board, [q for q in questions if q[1].severity is Severity.DANGER]),
        undecided=_questions(board, [q for q in questions if q[1].severity is not Severity.DANGER]),
        accepted=[_accepted(board, rule, judged, because) for rule, judged, because in outcome.accepted],
        unused_accepts=[UnusedAccept(rule, board.locate(path), why) for rule, path, why in outcome.unused],
        promises=[_promise(board, answer) for answer in board.promises],
        readings=[_reading(board, each) for each in taken(board)],
        coverage=_coverage(outcome),
        power=power_figures(board),
        hunt=hunt_plan(board, outcome),
    )
    report.headline = _headline(report, len(spec.problems))
    return report


def _is_asked(board: Board, rule: Rule, judged: Judgement) -> bool:
    """An advice that cannot be decided is counted, not asked about; nor is power whose label stands among the problems above."""
    if judged.severity is Severity.DANGER:
        return True
    return judged.severity is not Severity.ADVICE and not (rule.family == "power" and any(_is_unread(board, thing) for thing in judged.things))


def _is_unread(board: Board, thing: RuleThing) -> bool:
    """Whether a thing's power label, or that of one of its outlets, was written and could not be read."""
    ends = ("needs", "gives", "outlets")
    is_outlet = len(thing.path) > 2 and thing.path[2] == "outlets"
    return (is_outlet and board.spec.unread(thing.path)) or any(board.spec.unread((*thing.path, end)) for end in ends)


def _things(board: Board, things: tuple[RuleThing, ...]) -> list[Thing]:
    return [Thing(thing.name, dotted(thing.path), board.locate(thing.path)) for thing in things]


def _problems(problems: list[SpecProblem]) -> list[Problem]:
    """The problems to show: of a great many, the first, and how many more there are."""
    problems = sorted(problems, key=lambda problem: (problem.span.line, problem.span.column) if problem.span else (0, 0))
    shown = [_problem(problem) for problem in problems[:MOST_SHOWN]]
    if more := len(problems) - len(shown):
        said = f"There are {more} more things like these. Mend the first ones, and look again."
        shown.append(Problem("bound", said, None, "", problems[MOST_SHOWN].span, []))
    return shown


def _problem(problem: SpecProblem) -> Problem:
    return Problem(problem.kind, problem.message, problem.expected, dotted(problem.where), problem.span, list(problem.edits))


def _finding(board: Board, finding: RunFinding) -> Finding:
    rule, judged = finding.rule, finding.judgement
    return Finding(
        rule=rule.id,
        title=rule.title,
        severity=judged.severity.value,
        sentence=judged.sentence,
        remedy=judged.remedy,
        things=_things(board, judged.things),
        at=board.locate(judged.at),
        numbers=list(judged.numbers),
        lesson=rule.lesson_link,
        page=rule.page_link,
        witness=judged.witness,
        folded=[Folded(other.id, said.sentence) for other, said in finding.folded],
        edits=list(judged.edits),
    )


def _questions(board: Board, asked: list[tuple[Rule, Judgement]]) -> list[Question]:
    """One line for each question, however many rules ask it, with reasons or without; what could break something comes first."""
    seen: dict[str, Question] = {}
    for rule, judged in asked:
        if judged.question not in seen:
            seen[judged.question] = Question(
                rule=rule.id,
                title=rule.title,
                severity=judged.severity.value,
                question=judged.question,
                things=_things(board, judged.things),
                at=board.locate(judged.at),
                lesson=rule.lesson_link,
                page=rule.page_link,
                before_power=judged.before_power,
            )
    order = list(Severity)
    for text, longer in list(seen.items()):
        if (asked_already := next((seen[part] for part in _parts(text) if part in seen), None)) is not None:
            worst = min(longer.severity, asked_already.severity, key=lambda severity: order.index(Severity(severity)))
            before = longer.before_power or asked_already.before_power
            seen[asked_already.question] = replace(asked_already, severity=worst, before_power=before)
            del seen[text]
    return sorted(seen.values(), key=lambda q: (not q.before_power, order.index(Severity(q.severity)), q.at.line if q.at else 0))


_SENTENCES = re.compile(r"(?<=[.?]) ")


def _parts(question: str) -> Iterator[str]:
    """Every run of whole sentences in a question, but for the whole: what it asks without the reasons that one rule gives."""
    sentences = _SENTENCES.split(question)
    for first, last in combinations(range(len(sentences) + 1), 2):
        if last - first < len(sentences):
            yield " ".join(sentences[first:last])


def _accepted(board: Board, rule: Rule, judged: Judgement, because: str) -> Accepted:
    return Accepted(rule.id, rule.title, judged.sentence, because, _things(board, judged.things), board.locate(judged.at))


def _promise(board: Board, answer: Answer) -> Promise:
    return Promise(
        promise=answer.promise,
        kept=answer.kept.value,
        how=answer.how.value if answer.kept is Kept.HOLDS and answer.how else None,
        proof=list(answer.proof),
        witness=answer.state.words if answer.state else None,
        question=answer.question or None,
        things=_things(board, tuple(RuleThing(name, board.names.get(name, answer.path)) for name in answer.things)),
        at=board.locate(answer.path),
    )


def _reading(board: Board, each: Taken) -> Reading:
    reading = each.reading
    parts = (reading.what, reading.of, reading.condition, reading.preset and f"preset {reading.preset}")
    return Reading(list(each.where), ", ".join(part for part in parts if part), str(each.got), each.due, each.agrees, board.locate(each.path))


def _coverage(outcome: Outcome) -> list[Coverage]:
    counts = Counter((rule.id, judged.verdict) for rule, judged in outcome.judgements)
    applied = {name for name, _ in counts}
    return [
        Coverage(
            rule=name,
            title=rule.title,
            family=rule.family,
            page=rule.page_link,
            trips=counts[name, Verdict.TRIPS],
            clear=counts[name, Verdict.CLEAR],
            cannot_tell=counts[name, Verdict.CANNOT_TELL],
            accepted=counts[name, Verdict.ACCEPTED],
            not_applicable=name not in applied,
        )
        for name, rule in RULES.items()
    ]


def _skipped(board: Board) -> list[str]:
    """What was written and could not be read, so that nothing was judged by it."""
    broken = dict.fromkeys(
        dotted(problem.where[:2]) for problem in board.spec.problems if problem.where and problem.kind != "name"
    )
    return list(broken)


_PLURALS = {Severity.DANGER: "dangers", Severity.FAULT: "faults", Severity.RISK: "risks", Severity.ADVICE: "pieces of advice"}
_SINGULARS = {Severity.ADVICE: "piece of advice"}


def _headline(report: Report, problems: int) -> str:
    counts = [(severity, report.count(severity)) for severity in Severity]
    found = [f"{n} {_SINGULARS.get(s, s.value) if n == 1 else _PLURALS[s]}" for s, n in counts if n]
    open_questions = len(report.check_first) + len(report.undecided)
    asks = f" {open_questions} question{'s' if open_questions != 1 else ''} could not be decided." if open_questions else ""
    places = f"{problems} place{'s' if problems != 1 else ''}"
    unread = f"The text cannot be read in {places}, and only the rest is judged. " if problems else ""
    if found:
        said = found[0] if len(found) == 1 else ", ".join(found[:-1]) + " and " + found[-1]
        return f"{unread}Found {said}.{asks}"
    looked_at = any(not each.not_applicable for each in report.coverage)
    if not looked_at:
        return f"{unread}Nothing is described yet that a rule could judge."
    return f"{unread}Nothing wrong found in {'the rest' if problems else 'what was described'}.{asks}"
