"""How to read the book: marks, lines, labels, and how well a figure is known."""

from __future__ import annotations

from boardwright.board.layout.leads import LETTERS
from boardwright.report import svg
from boardwright.report.book.chapter import Book
from boardwright.report.book.markup import Html, paragraph, points, tag
from boardwright.report.plan import DASHES
from boardwright.report.text import HEADINGS
from boardwright.rules.verdict import Severity

CARRIED = {"audio": "sound", "dc": "power", "ac-low": "low alternating voltage", "mains": "mains", "midi": "MIDI", "usb": "computer", "control": "control"}


def pieces(book: Book) -> list[Html]:
    letters = ", ".join(f"{letter} {CARRIED[carries]}" for carries, letter in LETTERS.items())
    return [
        paragraph("Everything here was worked out from the text that describes the board. Where a meter says otherwise, believe the meter, and correct the text."),
        points(
            [
                "Names are those of the text; `hub.dry` is the socket `dry` of `hub`. A question mark stands for what nobody stated.",
                "A figure is measured, stated (read off a label), or assumed; what is assumed says so.",
                f"A lead has the label that the text gives it, or a letter and a number: {letters}.",
                "Empty lines and boxes are there to be written on.",
            ]
        ),
        tag("p", [_line(use, dash) for use, dash in DASHES.items()], "  in the layout.", class_="lines"),
        tag("p", "A mark in a drawing is a finding:", class_="lead-in"),
        tag("ul", [tag("li", mark(each), f" {each.value}: {HEADINGS[each].lower()}") for each in Severity], class_="marks"),
    ]


def mark(severity: Severity) -> Html:
    """A severity's shape, by itself."""
    return Html(f'<svg viewBox="-10 -10 20 20" width="12" height="12" aria-hidden="true">{svg.mark(0, 0, severity, " ")}</svg>')


def _line(use: str, dash: str) -> list[Html | str]:
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    drawn = f'<svg viewBox="0 0 40 6" width="40" height="6" aria-hidden="true"><path d="M0 3h40" stroke="#000" stroke-width="1.3" fill="none"{dashed}/></svg>'
    return [Html(drawn), f" {use}   "]
