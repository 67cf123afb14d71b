"""Runs the gauntlet and writes its result down for the site: `make gauntlet COUNT=200`."""

from __future__ import annotations

import argparse
import datetime
import os

from gauntlet.result import summary
from gauntlet.run import run
from measuring.results import keep, tell


def main() -> None:
    parser = argparse.ArgumentParser(prog="gauntlet", description=__doc__)
    parser.add_argument("count", type=int, nargs="?", default=200, help="clean boards; every fault is put into a twentieth as many, two faults into a quarter as many")
    parser.add_argument("--jobs", type=int, default=os.cpu_count(), help="processes that share the work")
    parser.add_argument("--dry", action="store_true", help="only print; keep the result on the site as it is")
    asked = parser.parse_args()
    if asked.count < 1:
        parser.error("at least one board")
    count = asked.count
    tally = run(clean=count, each=max(1, count // 20), pairs=max(1, count // 4), judged=max(1, count // 20), jobs=asked.jobs)
    result = summary(tally, f"make gauntlet COUNT={count}", datetime.date.today())
    tell(result["tables"])
    print("\n" + "\n".join(result["falls_short"] or ["Nothing falls short of its goal."]))
    if not asked.dry:
        keep("gauntlet", result)


if __name__ == "__main__":
    main()
