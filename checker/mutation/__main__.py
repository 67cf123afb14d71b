"""Tries mutants of limits, physics and rules, and writes the result down for the site: `make mutation COUNT=300`, or `COUNT=all`."""

from __future__ import annotations

import argparse
import datetime
import fnmatch
import os
import sys
from pathlib import Path

import pytest
from hypothesis import Phase, settings

from measuring.results import keep, tell
from mutation.result import explained, summary
from mutation.sample import all_mutants, sample
from mutation.trial import AnyMutant, traced, try_all

ROOT = Path(__file__).parents[2]
BOARD = ("origins", "power_network", "mains", "ground", "ground_hum", "layout_numbers", "layout_coupling", "expected_readings")
TESTS = ("tests/physics", "tests/limits", "tests/rules", "tests/demo_boards", "tests/report/test_edits.py", "tests/report/test_accept.py", "tests/site/test_boards.py", *(f"tests/board/test_{each}.py" for each in BOARD))
"""Those that ask rules and formulas for their answers; the others ask the same again by longer ways."""


class Session:
    """Stands in for pytest's loop over its tests."""

    def __init__(self, chosen: list[AnyMutant], jobs: int):
        self.chosen, self.jobs = chosen, jobs
        self.outcomes: dict[AnyMutant, str] = {}

    def pytest_exception_interact(self, node: pytest.Item, call: pytest.CallInfo) -> None:
        if hasattr(node, "_raised"):
            node._raised.append(call.excinfo.type)

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        trace = traced(session.items, {mutant.file for mutant in self.chosen})
        print(f"{len(session.items)} tests, {len(self.chosen)} mutants", flush=True)
        for mutant, outcome in try_all(self.chosen, session.items, trace, self.jobs):
            self.outcomes[mutant] = outcome
            if outcome in ("survived", "unseen"):
                print(f"{outcome:9} {mutant.name}{'  (explained)' if mutant.name in explained() else ''}", flush=True)
        return True


def main() -> None:
    parser = argparse.ArgumentParser(prog="mutation", description=__doc__, epilog="With a part of the files or of the tests it only prints.")
    parser.add_argument("count", nargs="?", default="300", help="how many mutants, drawn by chance from all of them; or `all`")
    parser.add_argument("--seed", type=int, default=1, help="which draw")
    parser.add_argument("--only", metavar="PATTERN", help="files below the package, for example rules/power/*")
    parser.add_argument("--tests", nargs="*", default=TESTS, help="the tests that may kill")
    parser.add_argument("--keyword", default="", help="only the tests that this chooses, as for pytest -k")
    parser.add_argument("--jobs", type=int, default=os.cpu_count(), help="processes that share the work")
    parser.add_argument("--dry", action="store_true", help="only print; keep the result on the site as it is")
    asked = parser.parse_args()
    possible = [mutant for mutant in all_mutants() if fnmatch.fnmatch(mutant.file, asked.only or "*")]
    chosen = possible if asked.count == "all" else sample(possible, int(asked.count), asked.seed)
    os.chdir(ROOT)
    settings.register_profile("mutation", derandomize=True, database=None, phases=[Phase.explicit, Phase.generate])
    settings.load_profile("mutation")
    session = Session(chosen, asked.jobs)
    options = ["-p", "no:terminal", "-p", "no:cacheprovider", "-p", "no:xdist", "-p", "no:faulthandler", "--capture=no", "-o", "addopts=--import-mode=importlib"]
    code = pytest.main([*options, "-k", asked.keyword, *asked.tests], plugins=[session])
    if code not in (pytest.ExitCode.OK, pytest.ExitCode.NO_TESTS_COLLECTED) or not session.outcomes:
        sys.exit(f"the tests could not be run: {code}")
    made_by = f"make mutation COUNT={asked.count}" + (f" SEED={asked.seed}" if asked.seed != 1 else "")
    result = summary(session.outcomes, len(possible), made_by, datetime.date.today())
    tell(result["tables"][:2])
    if not (asked.dry or asked.only or asked.keyword or asked.tests is not TESTS):
        keep("mutation", result)


if __name__ == "__main__":
    main()
