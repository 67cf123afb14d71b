"""The text of a board as HTML: coloured, numbered, and with marks that lead to what was found."""

from __future__ import annotations

from markupsafe import Markup
from pygments import highlight
from pygments.formatters import HtmlFormatter
from pygments.lexers import YamlLexer

from boardwright.site.boards import ShownBoard
from boardwright.site.markup import tag
from boardwright.site.page import Page

MARKED = ("danger", "fault", "risk", "advice")


def board_text(page: Page, shown: ShownBoard) -> Markup:
    """A board with a link that opens it in the checker; marks beside its lines if the page has its answer."""
    marks = _marks(page, shown) if shown.name in page.answered else {}
    each_line = coloured(shown.text).rstrip("\n").split("\n")
    lines = [_line(shown, number, Markup(line), marks.get(number)) for number, line in enumerate(each_line, start=1)]
    caption = tag("figcaption", {}, tag("span", {"class": "bw-board__name"}, shown.title), checker_link(page, shown))
    code = tag("div", {"class": "highlight"}, tag("pre", {}, tag("code", {"tabindex": 0, "aria-label": shown.title}, lines)))
    return tag("figure", {"class": "bw-board"}, caption, code)


def coloured(text: str) -> Markup:
    """The text of a board, or of a part of one, in the theme's colours; line by line as it was."""
    return Markup(highlight(text, YamlLexer(stripnl=False), HtmlFormatter(nowrap=True)))


def line_name(shown: ShownBoard, number: int) -> str:
    """The anchor of a line."""
    return f"{_plain(shown.name)}-line-{number}"


def finding_name(shown: ShownBoard, index: int) -> str:
    """The anchor of a finding."""
    return f"{answer_name(shown)}-finding-{index}"


def answer_name(shown: ShownBoard) -> str:
    """What the anchors of a board's answer begin with."""
    return f"{_plain(shown.name)}-answer"


def checker_link(page: Page, shown: ShownBoard) -> Markup:
    return tag("a", {"class": "bw-open", "href": page.link(shown.checker_link)}, "Open in the checker")


def _plain(name: str) -> str:
    return name.replace("/", "-")


def _line(shown: ShownBoard, number: int, line: Markup, mark: tuple[str, Markup] | None) -> Markup:
    kind, link = mark or (None, None)
    classes = f"bw-line bw-line--{kind}" if kind else "bw-line"
    return tag("span", {"class": classes, "id": line_name(shown, number)}, link, line, "\n")


def _marks(page: Page, shown: ShownBoard) -> dict[int, tuple[str, Markup]]:
    """For each line the worst finding that is mainly about it: its severity, and a link to it."""
    marks: dict[int, tuple[str, Markup]] = {}
    for index, finding in enumerate(shown.report.findings):
        if finding.at and finding.at.line not in marks:
            kind = page.kinds[finding.severity]
            label = f"{kind.word}: {finding.title}"
            link = tag("a", {"class": "bw-line__mark", "href": f"#{finding_name(shown, index)}", "aria-label": label, "title": label}, kind.shape)
            marks[finding.at.line] = (finding.severity, link)
    return marks
