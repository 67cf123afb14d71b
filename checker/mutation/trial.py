"""Trying mutants: which tests come by the place of each, and whether one of them fails."""

from __future__ import annotations

import os
import resource
import sys
import time
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import ClassVar

import pytest
from _pytest.runner import runtestprotocol

from boardwright.limits import LIMITS
from measuring.copies import in_copy
from mutation.mutants import Mutant
from mutation.put_in import PACKAGE, forget, put_in, set_limit, watch_limits

KILLED, SURVIVED, SENSELESS, UNSEEN = "killed", "survived", "senseless", "unseen"
"""Senseless is arithmetic that Python itself refuses to do (list less list); unseen is a place that no test comes by."""
SECONDS = 60
"""Of processor time for all tests of a mutant. More of it counts as killed: nobody would wait for such a checker."""


@dataclass(frozen=True)
class LimitMutant:
    """A limit with another value."""

    limit: str
    value: float
    is_arithmetic: ClassVar[bool] = False

    @property
    def file(self) -> str:
        return "limits.py"

    @property
    def name(self) -> str:
        return f"limits.py: {self.limit}: {LIMITS[self.limit].value:g} → {self.value:g}"


AnyMutant = Mutant | LimitMutant


@dataclass(frozen=True)
class Trace:
    """What each test came by: places as ``file:line``, limits by their names, and the seconds it took."""

    came_by: dict[str, set[str]]
    seconds: dict[str, float]


def traced(items: list[pytest.Item], files: Iterable[str]) -> Trace:
    """Run every test once, in a copy of this process, so that this one has nothing to remember."""
    return Trace(*in_copy(lambda: _trace(items, {str(PACKAGE / file): file for file in files})))


def _trace(items: list[pytest.Item], files: dict[str, str]) -> tuple[dict[str, set[str]], dict[str, float]]:
    came_by, seconds = {}, {}
    places: set[str] = set()

    def line(frame, event, _):
        places.add(f"{files[frame.f_code.co_filename]}:{frame.f_lineno}")
        return line

    def call(frame, event, _):
        return line(frame, event, _) if frame.f_code.co_filename in files else None

    watch_limits(places.add)
    for item in items:
        forget()
        places.clear()
        began = time.process_time()
        sys.settrace(call)
        try:
            failed = _fails(item)
        finally:
            sys.settrace(None)
        if failed:
            raise RuntimeError(f"{item.nodeid} fails without any mutant")
        seconds[item.nodeid] = time.process_time() - began
        came_by[item.nodeid] = set(places)
    return came_by, seconds


def tests_of(mutant: AnyMutant, items: list[pytest.Item], trace: Trace) -> list[pytest.Item]:
    """The tests that come by a mutant, its own first, then the quickest."""
    if isinstance(mutant, LimitMutant):
        places = {mutant.limit}
    elif mutant.in_function:
        places = {f"{mutant.file}:{line}" for line in mutant.lines}
    else:
        places = None  # seen by whoever comes by its file at all
    own = mutant.file.rpartition("/")[2].removesuffix(".py")

    def comes_by(item: pytest.Item) -> bool:
        seen = trace.came_by[item.nodeid]
        return any(place.startswith(mutant.file + ":") for place in seen) if places is None else bool(places & seen)

    names = (f"[{own.replace('_', '-')}: ", f"test_{own}.py")
    return sorted(filter(comes_by, items), key=lambda item: (not any(name in item.nodeid for name in names), trace.seconds[item.nodeid]))


def try_all(mutants: list[AnyMutant], items: list[pytest.Item], trace: Trace, jobs: int) -> Iterator[tuple[AnyMutant, str]]:
    """What becomes of each mutant, in the order in which they are done."""
    running: dict[int, AnyMutant] = {}
    waiting = list(reversed(mutants))
    while waiting or running:
        while waiting and len(running) < jobs:
            mutant = waiting.pop()
            tests = tests_of(mutant, items, trace)
            if not tests:
                yield mutant, UNSEEN
                continue
            running[_copy(lambda mutant=mutant, tests=tests: _try(mutant, tests))] = mutant
        if running:
            pid, status = os.wait()
            yield running.pop(pid), {0: SURVIVED, 2: SENSELESS}.get(os.waitstatus_to_exitcode(status), KILLED)


def _try(mutant: AnyMutant, tests: list[pytest.Item]) -> int:
    resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))

    def noticed(error: type[BaseException] = AssertionError) -> int:
        return 2 if mutant.is_arithmetic and issubclass(error, TypeError) else 1

    try:
        set_limit(mutant.limit, mutant.value) if isinstance(mutant, LimitMutant) else put_in(mutant)
    except Exception as error:
        return noticed(type(error))
    for item in tests:
        item._raised = raised = []
        if _fails(item):
            return noticed(*raised[:1])
    return 0


def _fails(item: pytest.Item) -> bool:
    return any(report.failed for report in runtestprotocol(item, log=False, nextitem=None))


def _copy(work: Callable[[], int]) -> int:
    pid = os.fork()
    if pid:
        return pid
    code = 3
    try:
        with open(os.devnull, "w") as nowhere:
            os.dup2(nowhere.fileno(), 1)
            os.dup2(nowhere.fileno(), 2)
        code = work()
    finally:
        os._exit(code)
