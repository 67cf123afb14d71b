"""The word and the shape of everything that can be said about a line, as the checker's page shows them.

They are read out of the page's own table (``kinds.mjs``), so that a worked example and a live answer look alike.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from markupsafe import Markup

from boardwright.site.markup import tag

TABLE = Path("checker/browser/page/kinds.mjs")
NAMES = ("danger", "problem", "fault", "risk", "advice", "undecided", "accepted", "unused")

_CONSTANT = re.compile(r'^const (?P<name>[A-Z]+) = "(?P<value>[^"]*)";$', re.MULTILINE)
_KIND = re.compile(
    r'^ +(?P<name>\w+): \{\s*word: "(?P<word>[^"]*)",\s*outline: (?P<outline>"[^"]*"|[A-Z]+),\s*'
    r'filled: (?P<filled>true|false),\s*sign: "(?P<sign>[^"]*)",?\s*\}',
    re.MULTILINE,
)


@dataclass(frozen=True, slots=True)
class Kind:
    """How a kind is named and drawn."""

    name: str
    word: str
    outline: str
    filled: bool
    sign: str

    @property
    def shape(self) -> Markup:
        """The shape alone, hidden from screen readers because the word always stands beside it."""
        look = {"class": f"bw-shape bw-shape--{self.name}", "viewBox": "0 0 20 20", "width": 20, "height": 20}
        outline = tag("path", {"class": "bw-shape__solid" if self.filled else "bw-shape__line", "d": self.outline})
        sign = tag("path", {"class": "bw-shape__cut" if self.filled else "bw-shape__sign", "d": self.sign})
        return tag("svg", {**look, "aria-hidden": "true", "focusable": "false"}, outline, sign)

    @property
    def tag(self) -> Markup:
        """Shape and word."""
        return tag("span", {"class": f"bw-tag bw-tag--{self.name}"}, self.shape, self.word)


@lru_cache
def read_kinds(root: Path) -> dict[str, Kind]:
    """All kinds by name.

    Raises: ValueError, if the page's table lacks one or cannot be read any more.
    """
    source = (root / TABLE).read_text("utf-8")
    constants = {found["name"]: found["value"] for found in _CONSTANT.finditer(source)}
    kinds = {}
    for found in _KIND.finditer(source):
        outline = constants.get(found["outline"], found["outline"].strip('"'))
        kinds[found["name"]] = Kind(found["name"], found["word"], outline, found["filled"] == "true", found["sign"])
    if set(kinds) != set(NAMES):
        raise ValueError(f"{TABLE} should draw {', '.join(NAMES)}; read from it: {', '.join(kinds) or 'nothing'}.")
    return kinds
