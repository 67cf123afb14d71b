"""What a release consists of: the wheel installs and runs by itself, and equal sources make equal bytes."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import sysconfig
import tarfile
import venv
import zipfile
from pathlib import Path

import pytest
import release

from boardwright.version import VERSION

ROOT = Path(__file__).parents[1]


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    folder = tmp_path_factory.mktemp("release")
    release.packages(folder)
    return folder


@pytest.fixture(scope="module")
def installed(built, tmp_path_factory):
    """Runs Python or a command of a new environment that has the wheel, and of ours only what it depends on."""
    place = tmp_path_factory.mktemp("installed")
    venv.create(place, with_pip=False)
    (wheel,) = built.glob("*.whl")
    pip = [sys.executable, "-m", "pip", "--python", str(place / "bin/python"), "install", "-qq", "--no-deps", "--no-index"]
    subprocess.run([*pip, "--disable-pip-version-check", str(wheel)], check=True)
    surroundings = {**os.environ, "PYTHONPATH": sysconfig.get_path("purelib"), "PYTHONIOENCODING": "utf-8"}

    def run(command: str, *arguments: str) -> subprocess.CompletedProcess:
        return subprocess.run([place / "bin" / command, *arguments], cwd=place, capture_output=True, text=True, env=surroundings)

    where = run("python", "-c", "import boardwright; print(boardwright.__file__)").stdout
    assert where.startswith(str(place)), where
    return run


def test_two_builds_give_equal_bytes(built, tmp_path):
    again = release.packages(tmp_path)
    assert [path.name for path in again] == [f"boardwright-{VERSION}-py3-none-any.whl", f"boardwright-{VERSION}.tar.gz"]
    assert release.sums(tmp_path) == release.sums(built)


def test_the_wheel_runs_where_nothing_else_of_ours_is(installed):
    assert installed("boardwright", "--version").stdout.split()[-1] == VERSION
    boards = [str(path) for path in sorted((ROOT / "demo_boards").glob("spare-room-*.yaml"))]
    done = installed("boardwright", "check", *boards, "--json")
    assert done.returncode in (0, 1), done.stderr
    assert list(json.loads(done.stdout)) == boards


def test_the_hooks_entry_is_a_command_of_the_wheel(installed):
    entry = re.search(r"^  entry: (.+)$", (ROOT / ".pre-commit-hooks.yaml").read_text("utf-8"), re.MULTILINE)[1].split()
    board = str(ROOT / "demo_boards/spare-room-five-before.yaml")
    assert installed(*entry, board).returncode == 0  # it has risks, and no fault
    assert installed(*entry[:2], board).returncode == 1


def test_the_wheel_has_all_that_the_package_has(built):
    (wheel,) = built.glob("*.whl")
    package = ROOT / "checker/boardwright"
    ours = {f"boardwright/{path.relative_to(package).as_posix()}" for path in package.rglob("*") if path.is_file() and "__pycache__" not in path.parts}
    assert {name for name in zipfile.ZipFile(wheel).namelist() if ".dist-info/" not in name} == ours


def test_the_source_can_be_built_again(built, tmp_path):
    (source,) = built.glob("*.tar.gz")
    with tarfile.open(source) as archive:
        names = {name.partition("/")[2] for name in archive.getnames()}
        archive.extractall(tmp_path, filter="data")
    assert {"Makefile", "pyproject.toml", "mkdocs.yml", "docs/index.md", "checker/browser/build.py", "tests/test_release.py"} <= names
    assert not [name for name in names if name.startswith((".venv", "site/", "dist/")) or "node_modules" in name]
    (top,) = tmp_path.iterdir()
    subprocess.run([sys.executable, "-m", "hatchling", "build", "--target=wheel", f"--directory={tmp_path}"], cwd=top, check=True, capture_output=True)
    (again,), (wheel,) = tmp_path.glob("*.whl"), built.glob("*.whl")
    assert release.differing(again, wheel) == []


def test_the_newest_change_told_is_this_version():
    told = re.findall(r"^## (\S+) ", (ROOT / "docs/changes.md").read_text("utf-8"), re.MULTILINE)
    assert told[0] == VERSION == release.version() and re.fullmatch(r"\d+\.\d+\.\d+", VERSION)
    assert told == sorted(told, key=lambda each: [*map(int, each.split("."))], reverse=True)


def test_sums_are_what_sha256sum_checks(built, tmp_path):
    (built / release.SUMS).write_text(release.sums(built), "utf-8")
    done = subprocess.run(["sha256sum", "--check", "--quiet", release.SUMS], cwd=built, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout
