"""Many boards through the gauntlet, spread over the machine's cores, and what came out."""

from __future__ import annotations

import os
import zlib
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field
from random import Random
from typing import TypeAlias

from gauntlet.faults import FAULTS, Fault
from gauntlet.judges import JUDGES
from gauntlet.trial import alarms, misses

Task: TypeAlias = "tuple[str, int, int]"
"""What to do (``clean``, ``fault``, ``pair`` or ``judge``), which fault or judge, and the number of the repetition."""

_SEARCH = 400
"""So many boards are looked through for one that has a place for a fault."""


@dataclass(frozen=True)
class Answer:
    task: Task
    seed: int | None
    """The board that was made; None where none had a place for the fault."""
    said: list[str]
    """False alarms, faults not found, or what a judge finds otherwise."""
    faults: tuple[str, ...] = ()
    looked_at: int = 1
    """How many things a judge compared."""


@dataclass
class Tally:
    """What came out, by task."""

    clean: list[Answer] = field(default_factory=list)
    faults: dict[int, list[Answer]] = field(default_factory=dict)
    pairs: list[Answer] = field(default_factory=list)
    judges: dict[int, list[Answer]] = field(default_factory=dict)

    def add(self, answer: Answer) -> None:
        kind, which, _ = answer.task
        match kind:
            case "clean":
                self.clean.append(answer)
            case "pair":
                self.pairs.append(answer)
            case "fault":
                self.faults.setdefault(which, []).append(answer)
            case _:
                self.judges.setdefault(which, []).append(answer)

    def found(self, which: int) -> tuple[int, int]:
        """Of one fault: how often it was found, and how often it was put in."""
        put_in = [answer for answer in self.faults.get(which, []) if answer.seed is not None]
        return sum(not answer.said for answer in put_in), len(put_in)


def tasks(clean: int, each: int, pairs: int, judged: int) -> Iterator[Task]:
    """So many clean boards, each fault so often, so many pairs, so many boards before each judge."""
    yield from (("clean", 0, number) for number in range(clean))
    yield from (("fault", which, number) for which, _ in enumerate(FAULTS) for number in range(each))
    yield from (("pair", 0, number) for number in range(pairs))
    yield from (("judge", which, number) for which, _ in enumerate(JUDGES) for number in range(judged))


def carry_out(task: Task) -> Answer:
    kind, which, number = task
    match kind:
        case "clean":
            return Answer(task, number, alarms(number))
        case "fault":
            return _with_faults(task, (FAULTS[which],), _first_seed(FAULTS[which].name, number))
        case "pair":
            return _pair(task, number)
        case _:
            seed = _first_seed(JUDGES[which].name, number)
            looked_at, differs = JUDGES[which].judge(seed)
            return Answer(task, seed, differs, looked_at=looked_at)


def _first_seed(name: str, number: int) -> int:
    """By name, so that a fault keeps its boards when others come and go."""
    return zlib.crc32(f"{name} {number}".encode())


def _with_faults(task: Task, faults: tuple[Fault, ...], first: int) -> Answer:
    names = tuple(fault.name for fault in faults)
    for seed in range(first, first + _SEARCH):
        said = misses(faults, seed)
        if said is not None:
            return Answer(task, seed, said, names)
    return Answer(task, None, [], names)


def _pair(task: Task, number: int) -> Answer:
    """Two faults of different families: of one family, the one may well leave nothing for the other to be."""
    random = Random(number)
    while True:
        one, other = random.sample(FAULTS, 2)
        if one.family == other.family or "advice" in (one.severity, other.severity):
            continue
        seed = random.randrange(2**32)
        said = misses((one, other), seed)
        if said is not None:
            return Answer(task, seed, said, (one.name, other.name))


def run(clean: int, each: int, pairs: int, judged: int, jobs: int | None = None) -> Tally:
    """Carry out all of it. The answers do not depend on how many jobs share the work."""
    tally = Tally()
    work = list(tasks(clean, each, pairs, judged))
    with ProcessPoolExecutor(jobs or os.cpu_count()) as pool:
        for answer in pool.map(carry_out, work, chunksize=8):
            tally.add(answer)
    return tally


def by_rule(tally: Tally) -> dict[tuple[str, str], tuple[int, int]]:
    """Found and put in, by rule and severity."""
    found: Counter[tuple[str, str]] = Counter()
    put_in: Counter[tuple[str, str]] = Counter()
    for which, fault in enumerate(FAULTS):
        one, all_ = tally.found(which)
        found[fault.rule, fault.severity] += one
        put_in[fault.rule, fault.severity] += all_
    return {key: (found[key], put_in[key]) for key in put_in}
