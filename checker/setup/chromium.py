"""Finds, installs and starts the Chromium of tests and benchmarks.

Debian's packages or any other on the PATH come first; then what Playwright has downloaded. ``CHROMIUM=/path/to/chromium``
in the environment settles it. The shell without windows opens a page in less than half of the time that the whole browser
takes, which makes its window's own pages, too.
"""

from __future__ import annotations

import os
import shutil
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, BrowserContext, Playwright, sync_playwright

NAMES = ("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome-stable", "google-chrome")

ARGUMENTS = [
    # A test asks no host but its own, and waits for no other.
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-quic",
    "--disable-sync",
    "--no-first-run",
    "--disable-gpu",
    # Chromium's sandbox refuses to run as root, as it would in most containers.
    *(["--no-sandbox"] if os.geteuid() == 0 else []),
]


def find(playwright: Playwright) -> str | None:
    """Path of a Chromium, or None."""
    named = os.environ.get("CHROMIUM")
    on_path = (shutil.which(name) for name in NAMES)
    downloaded = playwright.chromium.executable_path
    return named or next(filter(None, on_path), None) or (downloaded if Path(downloaded).exists() else None)


def launch(playwright: Playwright, **options: Any) -> Browser:
    """A headless Chromium; ``options`` are those of Playwright's ``launch``."""
    return playwright.chromium.launch(executable_path=_found(playwright), args=ARGUMENTS, **options)


def launch_profile(playwright: Playwright, folder: Path, **options: Any) -> BrowserContext:
    """A headless Chromium that keeps cache and storage in ``folder``."""
    return playwright.chromium.launch_persistent_context(folder, executable_path=_found(playwright), args=ARGUMENTS, **options)


def _found(playwright: Playwright) -> str:
    path = find(playwright)
    if path is None:
        raise RuntimeError("There is no Chromium here. `make outside` installs one, or says how to.")
    return path


def works() -> bool:
    """Whether there is a Chromium and it starts."""
    with sync_playwright() as playwright:
        if find(playwright) is None:
            return False
        try:
            browser = launch(playwright, timeout=60_000)
        except Exception as error:
            print(f"{find(playwright)} does not start: {str(error)[:500]}")
            return False
        browser.close()
        return True
