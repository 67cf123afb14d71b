"""The hunt itself: suspects and their shares, the next best test, answers, undo, the whole plan."""

from __future__ import annotations

import math
from collections.abc import Sequence
from copy import copy
from dataclasses import dataclass, field, replace
from enum import StrEnum
from itertools import pairwise
from typing import TYPE_CHECKING

from boardwright import limits
from boardwright.board.hunt.causes import causes
from boardwright.board.hunt.probes import Probe, ProbeKind, probes
from boardwright.board.hunt.situation import NoHunt, situation
from boardwright.board.hunt.suspects import MOST, Suspect, What, suspects
from boardwright.physics.search import half_split, one_by_one_cost
from boardwright.spec.sections.symptom import Symptom

if TYPE_CHECKING:
    from boardwright.board.assemble import Board

_FIRST = (ProbeKind.MEND, ProbeKind.LOOK)
"""Done before anything is moved, in this order; then the lamps."""
_EXACT = (ProbeKind.LOOK, ProbeKind.LAMPS)
"""Looks are not fooled by a fault that comes and goes."""
_CHAIN_AT_MOST = 80
"""Parts of a chain up to which the best plan is worked out; its time grows with the cube."""


class Answer(StrEnum):
    GOOD = "good"
    BAD = "bad"
    CANNOT = "cannot"


class Ending(StrEnum):
    """How a hunt stands."""

    OPEN = "open"
    FOUND = "found"
    SEVERAL = "one of several"
    STOP = "stop"
    LOST = "no suspect left"


@dataclass(frozen=True, slots=True)
class Explained:
    """A finding of the check that explains the symptom, or a danger that forbids any test."""

    rule: str
    sentence: str
    remedy: str
    about: str
    danger: bool = False


@dataclass(frozen=True, slots=True)
class Step:
    """A test of the plan and what follows each answer: another, or the suspects that are left."""

    probe: Probe
    good: Step | tuple[Suspect, ...]
    bad: Step | tuple[Suspect, ...]


@dataclass(eq=False)
class Hunt:
    """One hunt. Deterministic: the same board, symptom and answers bring the same next test.

    Args:
        board: the board.
        symptom: what is heard, and when.
        explained: what the check of the board has found that explains it. A danger ends the hunt before it begins.

    Raises:
        NoHunt: there is nothing to hunt, with the reason in words.
    """

    board: Board
    symptom: Symptom
    explained: Sequence[Explained] = ()
    record: list[tuple[Probe, Answer]] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.situation = situation(self.board, self.symptom)
        self.explained = [each for each in self.explained if each.danger or self._can_matter(each)]
        good = self.symptom.good or ()
        made_for = [cause for cause in causes(self.situation) if cause.suspect.id not in good]
        changes = set(self.symptom.changes_with or ())
        found = suspects(self.situation, good, changes)
        found += [_told(cause.suspect) if cause.tells in changes else cause.suspect for cause in made_for]
        mended = [each for each in self.explained if not each.danger]
        found = [_explained(number, each) for number, each in enumerate(mended)] + found
        if len(found) > MOST:
            raise NoHunt(f"{len(found)} parts are too many to hunt through. Describe the rig that is playing, and no other.")
        if not found:
            raise NoHunt("Nothing that is described here can be to blame.")
        self.all = found
        self.probes = [*self._mends(mended), *probes(self.situation, found, made_for, bool(self.symptom.another_amp))]
        self.stops = [each for each in self.explained if each.danger]
        self._by_id = {each.id: each for each in found}

    def _can_matter(self, each: Explained) -> bool:
        """Whether a finding is about something on the way: a flat battery in a loop that is out silences nobody."""
        live = {edge.stage.name for edge in self.situation.live if edge.stage is not None}
        return not self.situation.goes_silent or each.about not in self.board.signal.stages or each.about in live

    def _mends(self, mended: Sequence[Explained]) -> list[Probe]:
        everything = frozenset(each.id for each in self.all)
        return [
            Probe(f"mend {number}", ProbeKind.MEND, each.remedy, "Is it right now?", limits.TEST_TIME.value, everything - {_explained(number, each).id}, each.about)
            for number, each in enumerate(mended)
        ]

    # --- how it stands ----------------------------------------------------------------------------------------------

    @property
    def comes_and_goes(self) -> bool:
        """Whether a test that passes proves little. A crackle is taken to come and go."""
        said = self.symptom.comes_and_goes
        return bool(said) if said is not None else self.situation.kind == "crackle"

    @property
    def weights(self) -> dict[str, float]:
        """Every suspect's weight after all answers; all 0 if they contradict each other."""
        weights = {each.id: each.weight for each in self.all}
        for probe, answer in self.record:
            weights = self._after(weights, probe, answer)
        return weights

    @property
    def suspects(self) -> list[tuple[Suspect, float]]:
        """Who may still be to blame, with shares that add up to 1, the likeliest first."""
        weights = self.weights
        total = math.fsum(weights.values())
        found = [(each, weights[each.id] / total) for each in self.all if weights[each.id] > 0] if total else []
        return sorted(found, key=lambda pair: -pair[1])

    @property
    def ending(self) -> Ending:
        if self.stops:
            return Ending.STOP
        weights = self.weights
        if not any(weights.values()):
            return Ending.LOST
        if self._next(weights) is not None:
            return Ending.OPEN
        left = self.found
        if any(each.stop for each in left):
            return Ending.STOP
        return Ending.FOUND if len(left) == 1 else Ending.SEVERAL

    @property
    def found(self) -> list[Suspect]:
        """What is left when no test can tell more; nothing before that."""
        weights = self.weights
        return [] if self._next(weights) is not None else self._left(weights)

    def _left(self, weights: dict[str, float]) -> list[Suspect]:
        total = math.fsum(weights.values())
        if not total:
            return []
        sure = [each for each in self.all if weights[each.id] / total >= limits.HUNT_SURE.value]
        return sure or [each for each in self.all if weights[each.id] > 0]

    @property
    def next_test(self) -> Probe | None:
        """The test that tells most for its time; ``None`` when the hunt is over."""
        return None if self.stops else self._next(self.weights)

    # --- answers ----------------------------------------------------------------------------------------------------

    def answer(self, answer: Answer | str) -> None:
        """Answer the next test.

        Raises:
            ValueError: no test is open, or the answer is none of `good`, `bad` and `cannot`.
        """
        test = self.next_test
        if test is None:
            raise ValueError("The hunt is over: there is no test to answer.")
        self.record.append((test, Answer(answer)))

    def undo(self) -> None:
        """Take the last answer back; nothing happens where there is none."""
        if self.record:
            self.record.pop()

    # --- reasoning --------------------------------------------------------------------------------------------------

    def _false_pass(self, probe: Probe) -> float:
        if not self.comes_and_goes or probe.kind in _EXACT:
            return 0.0
        return (limits.FALSE_PASS_FLEXED if probe.flexed else limits.FALSE_PASS).value

    def _after(self, weights: dict[str, float], probe: Probe, answer: Answer) -> dict[str, float]:
        """Bayes: what a test says of each suspect."""
        if answer is Answer.CANNOT:
            return weights
        missed = self._false_pass(probe)
        inside, outside = (missed, 1.0) if answer is Answer.GOOD else (1 - missed, 0.0)
        return {name: weight * (inside if name in probe.covers else outside) for name, weight in weights.items()}

    def _usable(self, weights: dict[str, float]) -> list[Probe]:
        """Tests whose answer is not known before."""
        live = {name for name, weight in weights.items() if weight > 0}
        done = {probe.id for probe, answer in self.record if answer is Answer.CANNOT or not self.comes_and_goes or probe.kind in _EXACT}
        return [probe for probe in self.probes if probe.id not in done and probe.covers & live and live - probe.covers]

    def _next(self, weights: dict[str, float]) -> Probe | None:
        total = math.fsum(weights.values())
        if not total or max(weights.values()) / total >= (limits.HUNT_SURE.value if self.comes_and_goes else 1.0):
            return None
        if all(each.what is What.SETTING for each in self.all if weights[each.id] > 0):
            return None  # whoever looks sees which
        usable = self._usable(weights)
        for kind in _FIRST:
            first = next((probe for probe in usable if probe.kind is kind), None)
            if first is not None:
                return first
        lamps = next((probe for probe in usable if probe.id == "lamps"), None)
        if lamps is not None:
            return lamps
        chain = None if self.comes_and_goes else self._chain(weights, usable)
        if chain is not None:
            return chain.first_cut()
        return max(usable, key=lambda probe: self._rate(weights, total, probe), default=None)

    def _rate(self, weights: dict[str, float], total: float, probe: Probe) -> float:
        """Information for the time (bit/min)."""
        share = math.fsum(weight for name, weight in weights.items() if name in probe.covers) / total
        missed = self._false_pass(probe)
        return (_bits(share * (1 - missed)) - share * _bits(missed)) / probe.minutes

    def _chain(self, weights: dict[str, float], usable: Sequence[Probe]) -> _Chain | None:
        """The suspects as one chain, if every cut that can be made divides it in two runs; ``None`` where ways are parallel."""
        live = [each.id for each in self.all if weights[each.id] > 0]
        runs: dict[frozenset[str], Probe] = {}
        everything = frozenset(live)
        for probe in usable:
            if probe.is_cut:
                run = everything & probe.covers
                run = run if live[0] in run else everything - run
                if run not in runs or probe.minutes < runs[run].minutes:
                    runs[run] = probe
        ordered = sorted(runs, key=len)
        if not ordered or len(ordered) >= _CHAIN_AT_MOST or not all(a < b for a, b in pairwise(ordered)):
            return None
        blocks = [ordered[0], *(b - a for a, b in pairwise(ordered)), everything - ordered[-1]]
        return _Chain([math.fsum(weights[name] for name in live if name in block) for block in blocks], [runs[run] for run in ordered])

    # --- the whole plan ---------------------------------------------------------------------------------------------

    def looked(self) -> Hunt:
        """The same hunt once the first looks have found nothing wrong."""
        other = copy(self)
        other.record = list(self.record)
        while (test := other.next_test) is not None and (test.kind in _FIRST or test.id == "lamps"):
            other.answer(Answer.GOOD)
        return other

    def plan(self) -> Step | tuple[Suspect, ...]:
        """Every test from here on, by answers. Of a fault that comes and goes it shows one pass, as if tests told the truth."""
        return self._plan(self.weights, {})

    def _plan(self, weights: dict[str, float], known: dict[frozenset[str], Step | tuple[Suspect, ...]]) -> Step | tuple[Suspect, ...]:
        live = frozenset(name for name, weight in weights.items() if weight > 0)
        if live not in known:
            probe = None if self.stops else self._next(weights)
            if probe is None:
                known[live] = tuple(self._left(weights))
            else:
                good = {name: 0.0 if name in probe.covers else weight for name, weight in weights.items()}
                bad = {name: weight if name in probe.covers else 0.0 for name, weight in weights.items()}
                known[live] = Step(probe, self._plan(good, known), self._plan(bad, known))
        return known[live]

    def expected(self) -> tuple[float, float]:
        """How many tests the plan takes on average from here, and how long (min)."""
        weights = self.weights
        return _expected(self.plan(), weights)

    def front_to_back(self) -> float:
        """How long it takes on average (min) to listen behind one part after the other, from the guitar on."""
        weights = self.weights
        chain = self._chain(weights, self._usable(weights))
        if chain is not None:
            return one_by_one_cost(chain.weights, [probe.minutes for probe in chain.cuts])
        live = [weight for weight in weights.values() if weight > 0]
        return one_by_one_cost(live, [limits.TEST_TIME.value] * (len(live) - 1)) if live else 0.0


@dataclass(eq=False)
class _Chain:
    """Suspects in a row, with the test between each and the next."""

    weights: list[float]
    cuts: list[Probe]

    def first_cut(self) -> Probe:
        first = half_split(self.weights, [probe.minutes for probe in self.cuts]).first
        assert not isinstance(first, int)
        return self.cuts[first.after]


def _expected(step: Step | tuple[Suspect, ...], weights: dict[str, float]) -> tuple[float, float]:
    """Over the suspects of ``weights``, tests and minutes to the end of ``step``."""
    if not isinstance(step, Step):
        return 0.0, 0.0
    total = math.fsum(weights.values())
    tests, minutes = 1.0, step.probe.minutes
    for branch, inside in ((step.bad, True), (step.good, False)):
        part = {name: weight for name, weight in weights.items() if (name in step.probe.covers) is inside and weight > 0}
        share = math.fsum(part.values()) / total if total else 0.0
        more, longer = _expected(branch, part) if part else (0.0, 0.0)
        tests, minutes = tests + share * more, minutes + share * longer
    return tests, minutes


def _bits(share: float) -> float:
    """Entropy of a yes or no (bit)."""
    return 0.0 if share <= 0 or share >= 1 else -share * math.log2(share) - (1 - share) * math.log2(1 - share)


def _told(suspect: Suspect) -> Suspect:
    """A cause that the symptom's own changes give away."""
    return replace(suspect, weight=limits.SUSPECT_FOUND.value)


def _explained(number: int, each: Explained) -> Suspect:
    words = f"what the check found: {each.sentence.removesuffix('.')}"  # it stands in the middle of sentences
    return Suspect(f"finding {number}", What.FOUND, words, limits.SUSPECT_FOUND.value, each.remedy, ("symptom",), each.about)
