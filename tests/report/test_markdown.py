"""The report in Markdown, read by a parser of its own (markdown-it-py: CommonMark 0.31 and the tables of GitHub Flavored
Markdown): it says what the plain text says, and nothing of a board turns into markup."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from markdown_it import MarkdownIt
from markdown_it.token import Token

import boardwright
from board_texts import as_text
from boardwright.report.markdown import to_markdown
from boardwright.report.report import Report
from boardwright.report.text import HEADINGS, coverage_rows, figure_tables, seen, to_text
from parity import pieces, report_on, whole_boards

BOARDS = [*whole_boards(), *pieces()]
READER = MarkdownIt("gfm-like", {"linkify": False, "html": True})
OURS = {"heading", "paragraph", "bullet_list", "list_item", "table", "thead", "tbody", "tr", "th", "td"}
"""What a report is made of, beside words in bold, code spans and links to lessons."""


def tokens(markdown: str) -> list[Token]:
    return [inner for token in READER.parse(markdown) for inner in (token, *(token.children or ()))]


def read(markdown: str) -> str:
    """The words that a reader sees, with single spaces."""
    said = []
    for token in READER.parse(markdown):
        said += [inner.content for inner in token.children or () if inner.type in ("text", "code_inline")]
        said.append(" ")
    return " ".join("".join(said).split())


def bare(words: str) -> str:
    """A sentence of the report without the backticks around what the board says."""
    return " ".join(re.sub(r"`([^`\n]+)`", r"\1", seen(words)).split())


def parts(report: Report) -> list[str]:
    """Every sentence that a report says."""
    said = [report.headline]
    for problem in report.problems:
        said += [problem.message, problem.expected or ""]
    for finding in report.findings:
        said += [finding.sentence, finding.remedy, finding.witness or "", finding.rule, finding.lesson, *(number.text for number in finding.numbers)]
        said += [folded.sentence for folded in finding.folded]
    said += [each.question for each in [*report.check_first, *report.undecided]]
    said += [words for each in report.accepted for words in (each.sentence, each.because)]
    said += [each.why for each in report.unused_accepts]
    said += [words for each in report.promises for words in (each.promise, *each.proof, each.question or "")]
    said += [cell for each in report.readings if not each.agrees for cell in (each.what, each.got, each.due or "")]
    if plan := report.hunt:
        said += [plan.reason or "", *plan.stops, *plan.found_already]
        said += [words for test in plan.tests for words in (test.do, test.ask, test.good, test.bad)]
    return said


@pytest.mark.parametrize("text", [pytest.param(text, id=name) for name, text in BOARDS])
def test_it_says_every_sentence_of_the_report(text):
    report = report_on(text)
    words = read(to_markdown(report))
    assert [part for part in map(bare, parts(report)) if part not in words] == []


@pytest.mark.parametrize("text", [pytest.param(text, id=name) for name, text in whole_boards()])
def test_headings_stand_in_the_order_of_the_plain_text_and_figures_are_the_same(text):
    report = report_on(text)
    found = READER.parse(to_markdown(report))
    headings = [found[place + 1].content for place, token in enumerate(found) if token.type == "heading_open" and token.tag == "h2"]
    lines = to_text(report).split("\n")
    # Whatever stands at the left edge of the text, its first paragraph apart, is a heading.
    assert headings == [line for line in lines[lines.index("") :] if line and not line.startswith((" ", "["))]
    assert [each for each in HEADINGS.values() if each in lines] == [each for each in HEADINGS.values() if each in headings]
    words = read(to_markdown(report))
    assert [row for _, _, rows in figure_tables(report) for row in rows if bare(" ".join(row)) not in words] == []
    assert [row for row in coverage_rows(report.coverage) if " ".join(row) not in words] == []


def assert_tame(markdown: str) -> None:
    kinds = {re.sub("_(open|close)$", "", token.type) for token in tokens(markdown)}
    assert kinds <= OURS | {"inline", "text", "text_special", "code_inline", "strong"}, kinds


HOSTILE = {
    "html": "<img src=x onerror=alert(1)><script>alert(1)</script>",
    "a link": "[press](javascript:alert(1)) ![x](https://elsewhere.example/x.png)",
    "an address": "https://elsewhere.example/ <https://elsewhere.example/>",
    "a reference": "[a]: https://elsewhere.example",
    "emphasis": "**bold** _it_ ~~gone~~ `code` ``",
    "a heading": "# big ##",
    "a list": "1. one",
    "a dash": "- one",
    "a table": "a | b",
    "an entity": "&lt;b&gt; &amp;",
    "backslashes": "\\` \\| \\",
    "a rule": "---",
    "a quotation": "> said",
}


@pytest.mark.parametrize("name", [pytest.param(text, id=kind) for kind, text in HOSTILE.items()])
def test_what_a_board_calls_itself_and_its_pedals_stays_text(name):
    board = {"board": {"name": name}, "pedals": {name: {"kind": "fuzz", "needs": "9V dc centre-negative 5mA", "feed": f"{name}.1"}}}
    markdown = to_markdown(report_on(as_text(board)))
    assert_tame(markdown)
    assert " ".join(name.split()) in read(markdown)


@given(st.text(max_size=60))
@settings(deadline=None, max_examples=150)
def test_so_does_any_name(name):
    assert_tame(to_markdown(boardwright.check(as_text({"board": {"name": name}, "pedals": {"a": {"kind": name}}}))))


def test_with_the_address_of_a_site_every_finding_links_to_its_lesson():
    report = next(report_on(text) for name, text in whole_boards() if name == "spare-room-five-before")
    links = [token.attrs["href"] for token in tokens(to_markdown(report, "https://boards.example/here/")) if token.type == "link_open"]
    assert links == [f"https://boards.example/here/{finding.lesson}" for finding in report.findings]
