"""The page that something is being written for."""

from __future__ import annotations

import posixpath
import re
from dataclasses import dataclass, field

from markupsafe import Markup

from boardwright.site.boards import Boards
from boardwright.site.kinds import Kind

_MARK = re.compile(r"<p>\ue000(\d+)\ue001</p>|\ue000(\d+)\ue001")
_COMMENT = re.compile(r"<!--slot (\d+)-->")


@dataclass(eq=False)
class Page:
    """One page while it is built.

    HTML does not go through Markdown, which would take it for text as soon as it stands indented or holds an empty line.
    It waits in ``slots`` and is put in its place when Markdown is done, or, if the search is not to find it, when the search
    has read the page.
    """

    name: str
    """Its source below ``docs/``."""
    url: str
    """Its address below the site's root."""
    boards: Boards
    kinds: dict[str, Kind]
    shown: set[str] = field(default_factory=set)
    """Names of the boards whose text is on this page: answers link to their lines."""
    answered: set[str] = field(default_factory=set)
    """Names of the boards whose answer is on this page: lines link to it."""
    slots: list[Markup] = field(default_factory=list)
    unsearched: set[int] = field(default_factory=set)

    def link(self, path: str) -> str:
        """From this page to a path below the site's root."""
        address, mark, anchor = path.partition("#")
        relative = posixpath.relpath(address or ".", posixpath.dirname(self.url) or ".")
        slash = "/" if address.endswith("/") or not address else ""
        return f"{relative}{slash}{mark}{anchor}"

    def slot(self, html: Markup, searched: bool = True) -> str:
        """A mark to stand in Markdown for a piece of HTML."""
        if not searched:
            self.unsearched.add(len(self.slots))
        self.slots.append(html)
        return f"\ue000{len(self.slots) - 1}\ue001"

    def fill(self, html: str) -> str:
        """Put what is to be searched where its marks stand, and comments for the rest."""

        def piece(found: re.Match[str]) -> str:
            number = int(found[1] or found[2])
            return f"<!--slot {number}-->" if number in self.unsearched else self.slots[number]

        return _MARK.sub(piece, html)

    def fill_rest(self, html: str) -> str:
        """Put the rest in."""
        return _COMMENT.sub(lambda found: self.slots[int(found[1])], html)
