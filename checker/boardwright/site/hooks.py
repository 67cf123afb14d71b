"""What MkDocs calls while it builds the site."""

from __future__ import annotations

import json
import os
import re
from collections.abc import Iterator
from html import escape
from pathlib import Path
from typing import Any

from markupsafe import Markup
from markupsafe import escape as markup_escape
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import event_priority
from mkdocs.structure.files import File, Files
from mkdocs.structure.nav import Navigation
from mkdocs.structure.pages import Page as MkDocsPage

from boardwright.browser import answer_of
from boardwright.report.book import handover_book
from boardwright.report.json import json_schema as report_schema
from boardwright.rules.registry import LESSONS, RULES
from boardwright.site import frames, rule_pages, theme, worked_examples
from boardwright.site.boards import Boards, Case, ShownBoard
from boardwright.site.csp import with_policy
from boardwright.site.editor_words import ADDRESS as EDITOR_WORDS
from boardwright.site.editor_words import editor_words
from boardwright.site.kinds import read_kinds
from boardwright.site.markup import scrolling, tag
from boardwright.site.offline import write_offline
from boardwright.site.page import Page
from boardwright.site.shortcodes import expand
from boardwright.site.unfit import Unfit
from boardwright.spec.schema import json_schema as board_schema

CHECKER = "assets/checker"
"""Where the site keeps the checker: runtime, page script, styles."""

NOT_SERVED = {"manifest.json", "offline.mjs"}
"""What the checker's build made for the site's build."""

WITHOUT_CHECKER = "BOARDWRIGHT_SITE_WITHOUT_CHECKER"
"""Set to ``1`` in the environment to build the site without the checker, for quick work on prose."""


class _Build:
    """One build: what is read once for all pages."""

    def __init__(self, config: MkDocsConfig) -> None:
        self.root = Path(config.config_file_path).parent
        self.boards = Boards(self.root)
        self.kinds = read_kinds(self.root)
        self.pages: dict[str, Page] = {}

    def page(self, page: MkDocsPage) -> Page:
        return self.pages.setdefault(page.file.src_uri, Page(page.file.src_uri, page.url, self.boards, self.kinds))


_build: _Build


def on_config(config: MkDocsConfig) -> MkDocsConfig:
    global _build
    try:
        _build = _Build(config)
    except ValueError as error:
        raise PluginError(str(error)) from None
    _complete(config.nav or [])
    return config


def _complete(nav: list[Any]) -> None:
    """Put the pages that the nav does not name behind the index of their folder: generated ones, and lessons without a group."""
    named = set(_named(nav))
    more = {
        f"{rule_pages.FOLDER}/index.md": [
            {title: [{escape(rule.title): f"{rule_pages.FOLDER}/{rule.id}.md"} for rule in rules]} for title, _, rules in rule_pages.families()
        ],
        f"{worked_examples.FOLDER}/index.md": [f"{worked_examples.FOLDER}/{shown.name}.md" for shown in _in_pairs()],
        "lessons/index.md": [page for name in LESSONS if (page := f"lessons/{name}.md") not in named and (_build.boards.docs / page).is_file()],
    }
    for pages in _lists(nav):
        for index, generated in more.items():
            if index in pages:
                pages += generated


def _lists(nav: list[Any]) -> Iterator[list[Any]]:
    """The nav and every list within it."""
    yield nav
    for entry in nav:
        for inner in entry.values() if isinstance(entry, dict) else ():
            if isinstance(inner, list):
                yield from _lists(inner)


def _named(nav: list[Any]) -> Iterator[str]:
    """Every page that the nav names."""
    for pages in _lists(nav):
        for entry in pages:
            yield from [entry] if isinstance(entry, str) else (page for page in entry.values() if isinstance(page, str))


def _in_pairs() -> list[ShownBoard]:
    """The examples, each followed by its twin of before."""
    return sorted(_build.boards.examples, key=lambda shown: (shown.mended_name, shown.name))


_UNUSED = re.compile(r"assets/javascripts/lunr/|.*\.map$")
"""Of the theme: searching in other languages than English, and what only helps to debug it."""


def on_files(files: Files, *, config: MkDocsConfig) -> Files:
    for file in [file for file in files if _UNUSED.match(file.src_uri)]:
        files.remove(file)
    try:
        made = [*_pages(config), *_boards(config), *_books(config), *_schemas(config), *_frames(config), *_checker(config)]
    except Unfit as error:
        raise PluginError(str(error)) from None
    for file in made:
        files.append(file)
    return files


def _pages(config: MkDocsConfig) -> Iterator[File]:
    boards = _build.boards
    for rule in RULES.values():
        yield File.generated(config, f"{rule_pages.FOLDER}/{rule.id}.md", content=rule_pages.rule_page(rule, boards))
    for shown in boards.examples:
        yield File.generated(config, f"{worked_examples.FOLDER}/{shown.name}.md", content=worked_examples.example_page(shown, boards))


def _boards(config: MkDocsConfig) -> Iterator[File]:
    for shown in _build.boards.everything:
        yield File.generated(config, shown.address, content=shown.text)
        if not isinstance(shown, Case):
            # What the page shows of it until the checker has started.
            yield File.generated(config, shown.answer_address, content=answer_of(shown.text, shown.board, shown.report))


def _books(config: MkDocsConfig) -> Iterator[File]:
    for shown in _build.boards.examples:
        if shown.name in worked_examples.BOOKS:
            yield File.generated(config, worked_examples.book_address(shown), content=with_policy(handover_book(shown.board, shown.report)))


def _schemas(config: MkDocsConfig) -> Iterator[File]:
    for name, schema in (("board", board_schema()), ("report", report_schema())):
        written = json.dumps(schema, indent=2, ensure_ascii=False)
        yield File.generated(config, f"reference/{name}.schema.json", content=written + "\n")
    words = json.dumps(editor_words(_build.boards), ensure_ascii=False, separators=(",", ":"))
    yield File.generated(config, EDITOR_WORDS, content=words + "\n")


def _frames(config: MkDocsConfig) -> Iterator[File]:
    for address, content in frames.pages(_build.boards):
        yield File.generated(config, address, content=content)


def _checker(config: MkDocsConfig) -> Iterator[File]:
    """The built checker, and the styles of its page, which lessons and examples share."""
    dist = _build.root / "checker/browser/dist"
    built = {path.relative_to(dist).as_posix(): path for path in sorted(dist.rglob("*")) if path.is_file()}
    if not built and os.environ.get(WITHOUT_CHECKER) != "1":
        raise PluginError(
            "checker/browser/dist is empty: the checker has not been built, and the site would have a page that does nothing. "
            f"Build it with `make runtime`, or set {WITHOUT_CHECKER}=1 to build the site without it."
        )
    for name, path in built.items():
        if name not in NOT_SERVED:
            yield File.generated(config, f"{CHECKER}/{name}", abs_src_path=str(path))
    if "page.css" not in built:
        yield File.generated(config, f"{CHECKER}/page.css", content=_styles(_build.root / "checker/browser/page/page.css"))


_IMPORT = re.compile(r'@import "\./(?P<name>[\w.-]+)";')


def _styles(file: Path) -> str:
    """A style sheet with those that it imports."""
    return _IMPORT.sub(lambda found: _styles(file.parent / found["name"]), file.read_text("utf-8"))


def on_page_markdown(markdown: str, *, page: MkDocsPage, config: MkDocsConfig, files: Files) -> str:
    whole = page.file.content_string
    for name in ("title", "description"):  # the theme puts them into its pages as they are
        if isinstance(said := page.meta.get(name), str):
            page.meta[name] = markup_escape(said)  # and what is markup already it does not escape once more
    try:
        return expand(_build.page(page), markdown, first_line=1 + whole.count("\n") - markdown.count("\n"))
    except Unfit as error:
        raise PluginError(str(error)) from None


_HEADING_OR_TABLE = re.compile(r"<h[1-6][^>]*>(?P<heading>.*?)</h[1-6]>|<table>(?P<table>.*?)</table>", re.DOTALL)
_PERMALINK = re.compile(r'<a class="headerlink".*?</a>')


def on_page_content(html: str, *, page: MkDocsPage, config: MkDocsConfig, files: Files) -> str:
    return _build.page(page).fill(_with_framed_tables(html))


def _with_framed_tables(html: str) -> str:
    """Tables of the prose, dressed like those of the reference and named after the heading above them; the theme's own frame
    cannot be scrolled by keyboard."""
    heading = "Table"

    def framed(found: re.Match[str]) -> str:
        nonlocal heading
        if found["table"] is not None:
            return str(scrolling(heading, tag("table", {"class": "bw-table bw-table--prose"}, Markup(found["table"]))))
        heading = f"Table: {Markup(_PERMALINK.sub('', found['heading'])).striptags()}"
        return found[0]

    return _HEADING_OR_TABLE.sub(framed, html)


@event_priority(-100)  # behind the search, which reads pages in the same event
def on_page_context(context: dict[str, Any], *, page: MkDocsPage, config: MkDocsConfig, nav: Navigation) -> dict[str, Any]:
    page.content = _build.page(page).fill_rest(page.content or "")
    return context


@event_priority(-100)  # the policy speaks of the page as it leaves
def on_post_page(output: str, *, page: MkDocsPage, config: MkDocsConfig) -> str:
    """Give names to what the theme leaves without, and the page its policy."""
    return _guarded(page.file.src_uri, theme.named(output))


@event_priority(-100)
def on_post_template(output: str, *, template_name: str, config: MkDocsConfig) -> str:
    """Pages that the theme brings along, such as that for an address that leads nowhere."""
    return _guarded(template_name, output) if template_name.endswith(".html") else output


def _guarded(name: str, html: str) -> str:
    try:
        return with_policy(html)
    except Unfit as error:
        raise PluginError(f"{name}: {error}") from None


@event_priority(-100)
def on_post_build(*, config: MkDocsConfig) -> None:
    """Write what keeps the site for reading without a network, now that all of it is there."""
    dist = _build.root / "checker/browser/dist"
    if dist.is_dir():
        write_offline(Path(config.site_dir), dist, CHECKER)
