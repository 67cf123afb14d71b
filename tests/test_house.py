"""What holds the house together: imports go one way, and what is installed is what the locks say."""

import re
import subprocess
import sys
from pathlib import Path

import pytest
from importlinter.cli import lint_imports

ROOT = Path(__file__).parents[1]
LOCKS = {path.stem: path.read_text("utf-8") for path in (ROOT / "checker/setup").glob("*.lock")}


def versions(lock):
    return dict(re.findall(r"^([\w.-]+)==(\S+)", LOCKS[lock], re.MULTILINE))


def test_imports_go_one_way(capsys, monkeypatch):
    monkeypatch.chdir(ROOT)
    failed = lint_imports(config_filename=str(ROOT / "pyproject.toml"), cache_dir=None)
    assert not failed, capsys.readouterr().out


def test_the_linter_is_content():
    done = subprocess.run([sys.executable, "-m", "ruff", "check", "--quiet", "--output-format=concise", "."], cwd=ROOT, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout


@pytest.mark.parametrize("lock", LOCKS)
def test_every_locked_package_has_hashes_and_no_address(lock):
    packages = re.split(r"\n(?=[\w.-]+==)", LOCKS[lock])[1:]
    assert packages
    assert all("--hash=sha256:" in package for package in packages)
    assert "://" not in LOCKS[lock]


def test_npm_lock_has_hashes_and_no_address():
    lock = (ROOT / "checker/browser/package-lock.json").read_text("utf-8")
    assert lock.count('"integrity": "sha') == lock.count('"node_modules/') and "://" not in lock


def test_page_command_line_and_tests_have_the_same_versions():
    assert versions("serve").items() <= versions("test").items()
    assert versions("browser").items() <= versions("serve").items()


@pytest.mark.parametrize("lock", ["serve", "test"])
def test_what_is_installed_is_what_is_locked(lock):
    from importlib.metadata import version

    # Markers leave a few packages out on some systems.
    for name, locked in versions(lock).items():
        if not re.search(rf"^{re.escape(name)}==\S+ ;", LOCKS[lock], re.MULTILINE):
            assert version(name) == locked
