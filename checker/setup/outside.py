"""Installs what the tests want from outside of Python: Chromium for the page, ngspice as a second opinion on networks.

Debian's packages are tried first, then Playwright's own download of Chromium. Nothing is skipped in silence: what cannot
be had is said, with what to do about it, and the exit code is 1.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys

import chromium
from playwright.sync_api import sync_playwright

WANTED = {
    "Chromium": "the tests of the page. Debian and Ubuntu: apt-get install chromium. Elsewhere: .venv/bin/playwright install "
    "--with-deps chromium. Or name one: CHROMIUM=/path/to/chromium make test",
    "ngspice": "the tests that compare with it. Debian and Ubuntu: apt-get install ngspice. Elsewhere: its package in your system",
}


def main() -> int:
    missing = []
    if not has_chromium() and not any(install() and chromium.works() for install in WAYS_TO_CHROMIUM):
        missing.append("Chromium")
    if not shutil.which("ngspice") and not (apt("ngspice") and shutil.which("ngspice")):
        missing.append("ngspice")
    for name in missing:
        print(f"{name} is missing and could not be installed here. It is needed for {WANTED[name]}.", file=sys.stderr)
    return 1 if missing else 0


def has_chromium() -> bool:
    with sync_playwright() as playwright:
        return chromium.find(playwright) is not None


_lists_are_fresh = False


def apt(package: str) -> bool:
    """Install a Debian package, if this is Debian and we may."""
    global _lists_are_fresh
    become_root = [] if os.geteuid() == 0 else ["sudo", "-n"]
    if not shutil.which("apt-get") or (become_root and subprocess.run([*become_root, "true"], capture_output=True).returncode):
        return False
    print(f"Installing Debian's package {package} …", flush=True)
    quiet = {"env": {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}, "stdout": subprocess.DEVNULL}
    if not _lists_are_fresh:
        subprocess.run([*become_root, "apt-get", "-qq", "update"], **quiet)
        _lists_are_fresh = True
    return subprocess.run([*become_root, "apt-get", "-qq", "install", "-y", "--no-install-recommends", package], **quiet).returncode == 0


def download_chromium() -> bool:
    print("Downloading Chromium with Playwright …", flush=True)
    libraries = ["--with-deps"] if os.geteuid() == 0 else []
    return subprocess.run([sys.executable, "-m", "playwright", "install", *libraries, "chromium"]).returncode == 0


WAYS_TO_CHROMIUM = (lambda: apt("chromium-headless-shell"), lambda: apt("chromium"), download_chromium)


if __name__ == "__main__":
    sys.exit(main())
