"""Builds a release into dist/: wheel, source and the site as a zip, with their hashes: `make release`.

Whoever builds the same commit gets the same bytes: all times are that of the commit. The site is built twice and must come out alike.
"""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import subprocess
import sys
import tempfile
import zipfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
DIST = ROOT / "dist"
SUMS = "SHA256SUMS"
_LONG_AGO = 315532800
"""1980-01-01, where a zip's time begins; for a tree that is no git repository."""


def version() -> str:
    (found,) = re.findall(r'^VERSION = "(.+)"$', (ROOT / "checker/boardwright/version.py").read_text("utf-8"), re.MULTILINE)
    return found


def main() -> None:
    if f"\n## {version()} " not in (ROOT / "docs/changes.md").read_text("utf-8"):
        sys.exit(f"docs/changes.md says nothing of {version()}: write what changed, or choose the version in checker/boardwright/version.py.")
    shutil.rmtree(DIST, ignore_errors=True)
    packages(DIST)
    print("Building the site, twice …", flush=True)
    bundle = DIST / f"boardwright-site-{version()}.zip"
    with tempfile.TemporaryDirectory() as folder:
        again = Path(folder) / "again.zip"
        for number, archive in enumerate((bundle, again)):
            site = Path(folder) / str(number)
            build_site(site)
            zip_site(site, archive)
        if bundle.read_bytes() != again.read_bytes():
            sys.exit("Two builds of the site differ, and nobody could check a release: " + ", ".join(differing(bundle, again)))
    (DIST / SUMS).write_text(sums(DIST), "utf-8")
    print((DIST / SUMS).read_text("utf-8"), end="")


def commit_time() -> int:
    """Seconds since 1970 of the commit that is built."""
    told = subprocess.run(["git", "log", "-1", "--format=%ct"], cwd=ROOT, capture_output=True, text=True)
    return int(told.stdout) if told.returncode == 0 and told.stdout.strip() else _LONG_AGO


def _surroundings() -> dict[str, str]:
    return {**os.environ, "SOURCE_DATE_EPOCH": str(commit_time()), "NO_MKDOCS_2_WARNING": "1"}


def packages(folder: Path) -> list[Path]:
    """Wheel and source, built by hatchling into ``folder``."""
    folder.mkdir(parents=True, exist_ok=True)
    command = [sys.executable, "-m", "hatchling", "build", "--target=wheel", "--target=sdist", f"--directory={folder}"]
    subprocess.run(command, cwd=ROOT, check=True, capture_output=True, env=_surroundings())
    return sorted(folder.iterdir())


def build_site(folder: Path) -> None:
    command = [sys.executable, "-m", "mkdocs", "build", "--strict", "--quiet", f"--site-dir={folder}"]
    subprocess.run(command, cwd=ROOT, check=True, env=_surroundings())


def zip_site(site: Path, archive: Path) -> None:
    """All files of a built site in order, with one time and one mode, so that equal files make equal bytes."""
    with zipfile.ZipFile(archive, "w") as out:
        for file in sorted(path for path in site.rglob("*") if path.is_file()):
            entry = zipfile.ZipInfo(file.relative_to(site).as_posix(), (1980, 1, 1, 0, 0, 0))
            entry.external_attr = 0o644 << 16
            out.writestr(entry, file.read_bytes(), zipfile.ZIP_DEFLATED, 9)


def differing(first: Path, second: Path) -> list[str]:
    """Names of the entries that are not in both, or not alike."""
    contents = []
    for each in (first, second):
        with zipfile.ZipFile(each) as archive:
            contents.append({name: archive.read(name) for name in archive.namelist()})
    return sorted(name for name in contents[0].keys() | contents[1].keys() if contents[0].get(name) != contents[1].get(name))


def sums(folder: Path) -> str:
    """A line for each file, as ``sha256sum --check`` reads them."""
    files = [path for path in sorted(folder.iterdir()) if path.name != SUMS and not path.name.startswith(".")]
    return "".join(f"{hashlib.sha256(path.read_bytes()).hexdigest()}  {path.name}\n" for path in files)


if __name__ == "__main__":
    main()
