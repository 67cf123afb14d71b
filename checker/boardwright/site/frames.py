"""Pages that shops show in a frame on a page of their own: one for each whole board, and one for any board in a link.

They are pages without the site's head and menu, light, and keep to a height: at ``HEIGHT`` nothing of them has to scroll but
the drawing in its own box. What the frame's script adds is the title from the link.
"""

from __future__ import annotations

from collections.abc import Iterator

from markupsafe import Markup

from boardwright.report.drawings import drawn
from boardwright.site.boards import Boards, Case, ShownBoard
from boardwright.site.csp import with_policy
from boardwright.site.markup import prose, scrolling, tag, text

FOLDER = "frames"

HEIGHT = 480
"""Of the frame, in px. The checker's page writes it into the frames that it offers, and frame.css keeps to it."""

FIRST_DRAWN = ("layout", "signal-map", "power-map")
"""The picture of a board: the first of these that has something to show."""

_CAUTION = (
    "It follows from a description, not from a look at the wiring. Whatever is at mains voltage: your local electrical code "
    "and a qualified person come first."
)


def pages(boards: Boards) -> Iterator[tuple[str, str]]:
    """Address below the site's root, and content, of every frame and its picture."""
    yield f"{FOLDER}/board.html", _any_board()
    for shown in boards.by_path.values():
        if isinstance(shown, Case):
            continue
        picture = _picture(shown)
        yield f"{FOLDER}/{shown.name}.html", _framed(shown, picture)
        if picture:
            yield f"{FOLDER}/{shown.name}.svg", picture


def _picture(shown: ShownBoard) -> str:
    drawings = dict(drawn(shown.board, shown.report))
    return next((drawings[name] for name in FIRST_DRAWN if name in drawings), "")


def _framed(shown: ShownBoard, picture: str) -> str:
    return _page(
        shown.title,
        shown.checker_link,
        tag("p", {"class": "bw-frame__said"}, prose(shown.report.headline)),
        tag("div", {"class": "bw-frame__drawing"}, scrolling(f"Drawing of {shown.title}", Markup(picture))) if picture else None,
    )


def _any_board() -> str:
    """Empty until the script has unpacked the board of the link; the checker itself is only fetched when a reader asks for it."""
    return _page(
        "A board from a link",
        "checker/",
        tag("p", {"class": "bw-frame__said", "role": "status"}, "The board is in the link and needs JavaScript to be shown."),
        tag("div", {"class": "bw-frame__drawing", "data-place": True}),
        any_board=True,
    )


def _page(title: str, checker: str, *parts: Markup | None, any_board: bool = False) -> str:
    head = (
        Markup('<meta charset="utf-8">\n'),
        Markup('<meta name="viewport" content="width=device-width, initial-scale=1">\n<meta name="robots" content="noindex">\n'),
        Markup('<meta name="referrer" content="no-referrer">\n'),
        tag("title", {}, title),
        Markup('\n<link rel="icon" href="data:,">\n<link rel="stylesheet" href="../assets/checker/frame.css">\n'),
        Markup('<script type="module" src="../assets/checker/frame.mjs"></script>\n'),
    )
    body = tag(
        "body",
        {"class": "bw-frame", "data-md-color-scheme": "default", "data-any-board": any_board},
        tag("header", {}, tag("p", {"class": "bw-frame__title", "hidden": True}), tag("h1", {}, title)),
        tag("main", {}, parts),
        tag(
            "footer",
            {},
            tag("a", {"href": f"../{checker}", "target": "_blank", "rel": "noopener"}, "Open in the checker"),
            " ",
            tag("span", {}, _CAUTION),
        ),
    )
    return with_policy(Markup('<!doctype html>\n<html lang="en">\n') + tag("head", {}, text(head)) + "\n" + body + Markup("\n</html>\n"))
