"""A hunt for its readers: begun from what the check has found, told in words, and as plain data for the page and the report."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from boardwright.board.assemble import Board
from boardwright.board.hunt import Ending, Explained, Hunt, NoHunt, Probe, Step, Suspect
from boardwright.board.hunt.causes import OTHER_FIRST, SIGNATURES, explains
from boardwright.board.signal import SwitchKind
from boardwright.rules.run import Outcome
from boardwright.rules.verdict import Severity
from boardwright.rules.wall import DEFER
from boardwright.spec.figure import tell
from boardwright.spec.sections.symptom import CHANGES, HEARD, Symptom

_SHOWN = 12
"""Suspects and tests that a report lists."""

STOP = f"Stop here, and ask a qualified person. {DEFER}"


def begin(board: Board, outcome: Outcome, symptom: Symptom) -> Hunt:
    """A hunt that knows what the check has found.

    Raises: NoHunt, with the reason in words.
    """
    return Hunt(board, symptom, _explained(board, outcome, symptom.kind or ""))


def _explained(board: Board, outcome: Outcome, kind: str) -> list[Explained]:
    """Dangers first; then what explains the symptom."""
    found = []
    for finding in outcome.findings:
        judged = finding.judgement
        danger = judged.severity is Severity.DANGER
        about = judged.things[0].name
        if danger or explains(board, kind, finding.rule.id, about):
            found.append(Explained(finding.rule.id, judged.sentence, judged.remedy, about, danger))
    return found


# --- in the report --------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class HuntSuspect:
    """Something that may be to blame."""

    name: str
    share: float
    mend: str


@dataclass(frozen=True, slots=True)
class HuntTest:
    """A test of the plan, with where its answers lead: to another test by its number, or to what is to blame."""

    number: int
    do: str
    ask: str
    minutes: float
    good: str
    bad: str


@dataclass(frozen=True, slots=True)
class HuntPlan:
    """The plan that follows from a board's symptom."""

    heard: str
    where: str
    reason: str | None
    """Why there is no plan."""
    stops: list[str]
    found_already: list[str]
    suspects: list[HuntSuspect]
    tests: list[HuntTest]
    """The first tests."""
    tests_expected: float | None
    minutes_expected: float | None
    minutes_front_to_back: float | None


def hunt_plan(board: Board, outcome: Outcome) -> HuntPlan | None:
    """The plan for the symptom that the board's text states; ``None`` where it states none."""
    symptom = board.spec.symptom
    if symptom is None:
        return None
    heard = symptom.kind or "unknown"
    try:
        hunt = begin(board, outcome, symptom)
    except NoHunt as reason:
        return HuntPlan(heard, "", str(reason), [], [], [], [], None, None, None)
    tests, minutes = hunt.expected() if not hunt.stops else (None, None)
    return HuntPlan(
        heard=heard,
        where=hunt.situation.words,
        reason=None,
        stops=[each.sentence for each in hunt.stops],
        found_already=[each.sentence for each in hunt.explained if not each.danger],
        suspects=[HuntSuspect(each.words, share, each.mend) for each, share in hunt.suspects[:_SHOWN]],
        tests=[HuntTest(n, step.probe.do, step.probe.ask, step.probe.minutes, good, bad) for n, step, good, bad in numbered(hunt)][:_SHOWN],
        tests_expected=tests,
        minutes_expected=minutes,
        minutes_front_to_back=hunt.looked().front_to_back() if not hunt.stops else None,
    )


def numbered(hunt: Hunt) -> list[tuple[int, Step, str, str]]:
    """The plan's tests, nearest first, each with where its answers lead."""
    first = hunt.plan()
    steps = [first] if isinstance(first, Step) else []
    numbers = {id(step): 1 for step in steps}
    for step in steps:  # grows as it goes
        for branch in (step.good, step.bad):
            if isinstance(branch, Step) and id(branch) not in numbers:
                steps.append(branch)
                numbers[id(branch)] = len(steps)
    return [(number, step, _leads_to(step.good, numbers), _leads_to(step.bad, numbers)) for number, step in enumerate(steps, 1)]


def _leads_to(branch: Step | tuple[Suspect, ...], numbers: dict[int, int]) -> str:
    if isinstance(branch, Step):
        return f"go to {numbers[id(branch)]}"
    return _named(branch) if branch else "nothing is left: one answer does not fit"


def _named(found: Sequence[Suspect]) -> str:
    return " or ".join(each.words for each in found)


# --- in words -------------------------------------------------------------------------------------------------------


def plan_in_words(hunt: Hunt) -> Iterator[str]:
    """The whole plan, a numbered line for each test."""
    yield f"Heard: {hunt.situation.kind}, {hunt.situation.words}."
    for each in hunt.stops:
        yield f"Stop: {each.sentence} {each.remedy}"
    if hunt.stops:
        yield STOP
        return
    yield OTHER_FIRST
    for number, step, good, bad in numbered(hunt):
        yield f"{number}. {step.probe.do} {step.probe.ask}"
        yield f"   good: {good}; bad: {bad}"
    tests, minutes = hunt.expected()
    yield f"On average {tell(tests, '')} tests, {tell(minutes, 'min')}; from the front, part by part, {tell(hunt.looked().front_to_back(), 'min')}."
    yield "The shares are judgement, with no published source."


def record_in_words(hunt: Hunt) -> Iterator[str]:
    """What was tried, and what it came to."""
    yield f"Heard: {hunt.situation.kind}, {hunt.situation.words}."
    for number, (probe, answer) in enumerate(hunt.record, 1):
        yield f"{number}. {probe.do} {probe.ask} {answer.value}"
    yield from outcome_in_words(hunt)


def outcome_in_words(hunt: Hunt) -> Iterator[str]:
    """How it ended, or who is most likely to blame so far."""
    match hunt.ending:
        case Ending.OPEN:
            for each, share in hunt.suspects[:3]:
                yield f"{tell(share, '%')}: {each.words}"
        case Ending.LOST:
            yield "Nothing is left that fits all answers. Take one back; or there are two faults, and the first is mended already."
        case Ending.STOP:
            for each in hunt.stops:
                yield f"{each.sentence} {each.remedy}"
            yield from _blamed(hunt.found)
            yield STOP
        case _:
            yield from _blamed(hunt.found)


def _blamed(found: Sequence[Suspect]) -> Iterator[str]:
    for each in found:
        yield f"{'It is' if len(found) == 1 else 'It may be'} {each.words}. {each.mend}"


# --- for the page ---------------------------------------------------------------------------------------------------


def hunt_state(board: Board, outcome: Outcome, asked: dict[str, Any]) -> dict[str, Any]:
    """A hunt as the page shows it.

    Args:
        asked: ``heard``, ``when``, ``at``, ``changes``, ``comes_and_goes``, ``another_amp`` and ``answers`` so far. What is
            known to be good is what the board's text says.

    Returns:
        What can be chosen, the record, the next test, suspects with shares, and how it ended; or ``reason``, why there is no hunt.
    """
    state: dict[str, Any] = {"choices": _choices(board), "reason": None, "symptom": _stated(board)}
    if asked.get("heard") not in HEARD:
        return state
    symptom = Symptom.model_construct(
        kind=asked["heard"],
        when=[str(each) for each in asked.get("when") or ["always"]],
        at=[str(each) for each in asked.get("at") or ()] or None,
        changes_with=[each for each in asked.get("changes") or () if each in CHANGES] or None,
        comes_and_goes=bool(asked["comes_and_goes"]) if "comes_and_goes" in asked else None,
        another_amp=bool(asked.get("another_amp")),
        good=board.spec.symptom.good if board.spec.symptom else None,
    )
    try:
        hunt = begin(board, outcome, symptom)
    except NoHunt as reason:
        return {**state, "reason": str(reason)}
    for answer in asked.get("answers") or ():
        if hunt.next_test is None:
            break
        hunt.answer(answer)
    return {**state, **_told(hunt)}


def _told(hunt: Hunt) -> dict[str, Any]:
    test = hunt.next_test
    return {
        "where": hunt.situation.words,
        "heard": hunt.situation.kind,
        "found_already": [each.sentence for each in hunt.explained if not each.danger],
        "record": [{**_test(probe), "answer": answer.value} for probe, answer in hunt.record],
        "test": _test(test) if test else None,
        "suspects": [{"name": each.words, "share": share} for each, share in hunt.suspects[:_SHOWN]],
        "more": max(0, len(hunt.suspects) - _SHOWN),
        "ending": hunt.ending.value,
        "said": list(outcome_in_words(hunt)) if test is None else [],
        "minutes": hunt.expected()[1] if test is not None and not hunt.comes_and_goes else None,
    }


def _test(probe: Probe) -> dict[str, Any]:
    return {"do": probe.do, "ask": probe.ask, "minutes": probe.minutes, "first": OTHER_FIRST if probe.is_cut else None}


def _stated(board: Board) -> dict[str, Any] | None:
    symptom = board.spec.symptom
    if symptom is None or symptom.kind not in HEARD:
        return None
    stated = {"heard": symptom.kind, "when": symptom.when, "at": symptom.at, "changes": symptom.changes_with}
    flags = {"comes_and_goes": symptom.comes_and_goes, "another_amp": symptom.another_amp}
    return {key: value for key, value in stated.items() if value} | {key: bool(flag) for key, flag in flags.items() if flag is not None}


def _choices(board: Board) -> dict[str, Any]:
    """What a page can offer: kinds of symptom with what they may mean, and when it can be."""
    signal = board.signal
    loops = [f"{each.thing}.{each.name}" for each in signal.switches.ordered if each.kind is SwitchKind.LOOP]
    boxes = [name for name in signal.stages if signal.effect_edges(name) and name not in signal.amps]
    return {
        "heard": [{"kind": kind, "signs": [[each.heard, each.means] for each in SIGNATURES if each.kind == kind]} for kind in HEARD],
        "presets": [name for name, preset in signal.switches.presets.items() if not preset.quiet],
        "loops": loops,
        "boxes": boxes,
        "amps": list(signal.amps),
        "changes": list(CHANGES),
    }
