"""What a browser keeps of the site, for reading and checking without a network.

``offline.js`` (its code is in ``checker/browser/offline.js``) is the service worker. It names one version of the site: the hash
of ``offline.json``, which lists all files to keep with the hash of each. So nothing can change without the version changing, and
no file of another version can be taken for one of this.
"""

from __future__ import annotations

import hashlib
import json
import re
from pathlib import Path

_NOT_KEPT = re.compile(
    r"404\.html|sitemap\.xml(\.gz)?|offline\.js(on)?"
    r"|boards/.+/.*|boards/.*\.answer\.json|reference/.*\.schema\.json"  # hundreds of small pieces, or large and for tools
    r"|frames/.+"  # for other people's pages
    r"|assets/checker/pyodide-.*|assets/checker/packed/.*"  # unless a visit loads it
)
_WITH_CHECKER = re.compile(r"reference/rules/.+/.+|.*/saver\.mjs")
"""Pages that the checker's findings lead to, and what is fetched once it has started: kept with it."""


def write_offline(site: Path, dist: Path, checker: str) -> None:
    """Write the service worker and its list into a built site.

    Args:
        dist: the built checker.
        checker: where the site serves it, below its root.
    """
    listed = json.dumps(kept(site, dist, checker), indent=0, sort_keys=True)
    (site / "offline.json").write_text(listed, "utf-8")
    version = _hash(listed.encode())
    (site / "offline.js").write_text(f'const VERSION = "{version}";\n{(dist / "offline.mjs").read_text("utf-8")}', "utf-8")


def kept(site: Path, dist: Path, checker: str) -> dict[str, dict[str, str]]:
    """The files to keep, each with its hash, by address below the site's root.

    "pages" is for everybody, and small. "checker" is for those who have started the checker; it has what they have fetched
    anyway, and the pages of the rules.
    """
    runtime = {f"{checker}/{name}" for name in json.loads((dist / "manifest.json").read_text("utf-8"))["first_visit"]}
    parts: dict[str, dict[str, str]] = {"pages": {}, "checker": {}}
    for file in sorted(each for each in site.rglob("*") if each.is_file()):
        path = file.relative_to(site).as_posix()
        if path in runtime or _WITH_CHECKER.fullmatch(path):
            part = "checker"
        elif _NOT_KEPT.fullmatch(path):
            continue
        else:
            part = "pages"
        parts[part][re.sub(r"(^|/)index\.html$", r"\1", path)] = _hash(file.read_bytes())
    return parts


def _hash(data: bytes) -> str:
    """The first half of its SHA-256, as hexadecimal."""
    return hashlib.sha256(data).hexdigest()[:32]
