"""The pre-commit hook: its entry, run in a git repository as pre-commit runs it."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest
from ruamel.yaml import YAML

ROOT = Path(__file__).parents[1]
(HOOK,) = YAML(typ="safe", pure=True).load((ROOT / ".pre-commit-hooks.yaml").read_text("utf-8"))

CLEAN = "supplies: {s: {isolated: yes, total: 5 W, outlets: {1: 9V dc centre-negative 100mA}}}\npedals: {a: {kind: chorus, needs: 9V dc centre-negative 20mA, feed: s.1}}\n"
THIN = CLEAN.replace("20mA", "90mA")
FAULTY = CLEAN.replace("20mA", "200mA")


@pytest.fixture
def repository(tmp_path):
    """A repository whose hook runs the entry on the staged files that the hook is for; returns what commits files."""
    # The entry is run with the package's own environment, where the command may have no script: the module is the same door.
    command = shlex.join([sys.executable, "-m", *shlex.split(HOOK["entry"])])
    place = os.pathsep.join(path for path in sys.path if path)
    script = f"#!/bin/sh\nfiles=$(git diff --cached --name-only --diff-filter=ACMR | grep -E '{HOOK['files']}') || exit 0\nIFS='\n'\nexec {command} $files\n"
    surroundings = {
        **{name: value for name, value in os.environ.items() if not name.startswith("GIT_")},
        "HOME": str(tmp_path), "PYTHONPATH": place, "GIT_CONFIG_NOSYSTEM": "1",
    }  # fmt: skip

    def git(*arguments: str) -> subprocess.CompletedProcess:
        identity = ["-c", "user.name=a", "-c", "user.email=a@example.org", "-c", "commit.gpgsign=false"]
        return subprocess.run(["git", *identity, *arguments], cwd=tmp_path / "rigs", capture_output=True, text=True, env=surroundings)

    def commit(**files: str) -> subprocess.CompletedProcess:
        for name, text in files.items():
            path = tmp_path / "rigs" / name.replace("__", "/").replace("_", ".")
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, "utf-8")
        assert git("add", ".").returncode == 0
        return git("commit", "-m", "A board")

    (tmp_path / "rigs").mkdir()
    assert git("init", "-q").returncode == 0
    hook = tmp_path / "rigs/.git/hooks/pre-commit"
    hook.parent.mkdir(exist_ok=True)
    hook.write_text(script, "utf-8")
    hook.chmod(0o755)
    return commit


def test_a_commit_with_a_fault_is_stopped_and_says_why(repository):
    done = repository(boards__stage_yaml=FAULTY, boards__home_yaml=CLEAN)
    said = done.stdout + done.stderr
    assert done.returncode and "outlet-current-overdrawn" in said and "boards/stage.yaml" in said
    assert not repository(boards__stage_yaml=CLEAN).returncode


def test_a_risk_does_not_stop_it(repository):
    assert not repository(boards__stage_yaml=THIN).returncode


def test_a_text_that_cannot_be_read_does(repository):
    assert repository(my_board_yml="pedals: {a: {kind: fuzz\n").returncode


def test_other_files_are_let_alone(repository):
    assert not repository(notes_yaml="pedals: {a: {kind: fuzz\n").returncode


def test_what_pre_commit_asks_of_a_hook():
    # The keys that pre-commit's documentation lists as required, and how it installs a hook written in Python: with pip, from the
    # top of the repository, together with the additional dependencies. `tests/test_release.py` runs the command as installed.
    assert {"id", "name", "entry", "language"} <= HOOK.keys() and HOOK["language"] == "python"
    assert shlex.split(HOOK["entry"])[0] == "boardwright" and HOOK["additional_dependencies"] == [".[cli]"]
    for name, meant in {"boards/a.yaml": True, "x/boards/y/a.yml": True, "a.board.yaml": True, "mkdocs.yml": False, "keyboards/a.yaml": False}.items():
        assert bool(re.search(HOOK["files"], name)) == meant
