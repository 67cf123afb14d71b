"""The built site as tests read it, with the standard library's own HTML parser."""

from __future__ import annotations

import os
import posixpath
import subprocess
import sys
from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

ROOT = Path(__file__).parents[1]

_VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "param", "source", "track", "wbr"}


@dataclass
class Element:
    tag: str
    attributes: dict[str, str | None]
    page_text: list[str]
    """Of the whole page, in pieces."""
    begins: int
    ends: int | None = None
    """Which of them are inside it."""

    @property
    def text(self) -> str:
        """With that of everything inside it."""
        return "".join(self.page_text[self.begins : self.ends])

    @property
    def classes(self) -> set[str]:
        return set((self.attributes.get("class") or "").split())


class Document(HTMLParser):
    """A page as a flat list of its elements."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: list[Element] = []
        self._open: list[Element] = []
        self._text: list[str] = []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append(Element(tag, dict(attrs), self._text, len(self._text)))
        if tag in _VOID:
            self.elements[-1].ends = len(self._text)
        else:
            self._open.append(self.elements[-1])

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append(Element(tag, dict(attrs), self._text, len(self._text), len(self._text)))

    def handle_endtag(self, tag: str) -> None:
        for place in range(len(self._open) - 1, -1, -1):
            if self._open[place].tag == tag:
                for element in self._open[place:]:
                    element.ends = len(self._text)
                del self._open[place:]
                return

    def handle_data(self, data: str) -> None:
        self._text.append(data)

    @property
    def ids(self) -> list[str]:
        return [each.attributes["id"] or "" for each in self.elements if "id" in each.attributes]

    def all(self, tag: str) -> list[Element]:
        return [each for each in self.elements if each.tag == tag]


@dataclass
class Site:
    """A built site. Pages by their address below its root: ``""``, ``lessons/current/``."""

    folder: Path
    pages: dict[str, Document] = field(default_factory=dict)

    def file(self, address: str) -> Path:
        return self.folder / address / "index.html" if address.endswith("/") or not address else self.folder / address

    def resolve(self, page: str, link: str) -> tuple[str, str]:
        """The address below the root that a link of a page leads to, and its anchor."""
        parts = urlsplit(link)
        path = unquote(parts.path)
        if not path:
            return page, parts.fragment
        joined = posixpath.normpath(posixpath.join(posixpath.dirname(page), path))
        slash = "/" if path.endswith(("/", ".")) and joined != "." else ""
        return ("" if joined == "." else joined + slash), parts.fragment


SOURCES = ("mkdocs.yml", "pyproject.toml", "docs", "demo_boards", "tests/rules", "checker/boardwright", "checker/browser/dist", "checker/results")


def built(folder: Path) -> Site:
    """The site as it is published: the one that stands there already if nothing has changed since, else one built into ``folder``."""
    there = ROOT / "site/sitemap.xml"
    if there.exists() and all(file.stat().st_mtime <= there.stat().st_mtime for source in SOURCES for file in _files(ROOT / source)):
        return _read(there.parent)
    _build(folder)
    return _read(folder)


def _files(path: Path) -> list[Path]:
    return [path] if path.is_file() else [file for file in path.rglob("*") if file.is_file() and file.suffix != ".pyc"]


def _build(folder: Path) -> None:
    """Without the checker's runtime where that has not been built."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "checker"), "NO_MKDOCS_2_WARNING": "1"}
    if not (ROOT / "checker/browser/dist").is_dir():
        environment["BOARDWRIGHT_SITE_WITHOUT_CHECKER"] = "1"
    command = [sys.executable, "-m", "mkdocs", "build", "--strict", "--quiet", "--site-dir", str(folder)]
    done = subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


def _read(folder: Path) -> Site:
    pages = {}
    for file in sorted(folder.rglob("index.html")):
        address = file.parent.relative_to(folder).as_posix()
        pages["" if address == "." else address + "/"] = Document(file.read_text("utf-8"))
    return Site(folder, pages)
