"""Measures what we promise, prints it beside its goals and writes it down for the site: `make bench`.

It is no test: a goal missed is said, not failed.
"""

from __future__ import annotations

import argparse
import datetime
import os
import platform
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "setup"))

import chromium
from playwright.sync_api import sync_playwright

from bench import browser, checks, hunt, site_build
from bench.table import show, summary
from measuring.results import keep

PARTS = {"At the command line": checks, "In the browser": browser, "The fault finder": hunt, "The site": site_build}


def machine() -> str:
    with sync_playwright() as playwright:
        version = chromium.launch(playwright).version
    return f"On a machine with {os.cpu_count()} processors, with Python {platform.python_version()} and Chromium {version.partition('.')[0]}; elsewhere the times are others."


def main() -> None:
    parser = argparse.ArgumentParser(prog="bench", description=__doc__)
    parser.add_argument("--dry", action="store_true", help="only print; keep the result on the site as it is")
    asked = parser.parse_args()
    measured = {title: show(part.rows()) for title, part in PARTS.items()}
    if not asked.dry:
        keep("bench", summary(measured, machine(), datetime.date.today()))


main()
