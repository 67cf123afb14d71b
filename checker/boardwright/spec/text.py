"""A board's text to a tree: part by part, so that a slip in one part does not hide what the others say.

A part is a section, and inside a section an entry. Each is read by itself and remembered, so that an edit re-reads only
the part that it touched. A part that ends inside a bracket or a quotation mark is read together with those that follow,
up to where that closes. A text with anchors or document marks is read in one piece.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import lru_cache
from itertools import accumulate, pairwise

from boardwright.spec.parse import BRACKETS, Parsed, parse, twice
from boardwright.spec.problem import Path, Problem, Span
from boardwright.spec.quick import quick
from boardwright.spec.tree import Child, Lines, Node, Slip, Tree
from boardwright.spec.wording import DASH_AMONG_NAMES, NAME_AMONG_DASHES, NO_COLON, TAB, WRONG_COLUMN

MAX_BYTES = 1_000_000
MAX_INTRICATE = 100_000
"""Characters in all that may go the long way, as often as they do: about a second's work, and more than any board has of them."""
_EACH_COSTS = 100
"""Characters that count for each time: they could be read while it begins."""
MAX_SECTIONS = 200
MAX_ENTRIES = 5000
"""In one section, one below the other."""
_MOST_JOINED = 500_000

_TIED = re.compile(r"^(?:---|\.\.\.|%)|(?:^|[\s\[{,:])[&*][^\s&*]", re.M)
"""What ties parts together: document marks, anchors and aliases."""
_FIRST_MARK = re.compile(r"\A((?:[ ]*(?:#.*)?\n)*)---(?=[ ]*(?:\n|\Z))")
_LINE = re.compile(r"^(?P<indent>[ \t]*)(?:(?P<dash>-)(?=[ ]|$)|(?P<closing>[\]}])?(?=[^\s#]))", re.M)
"""A line that says something."""
_HEAD = re.compile(r"(?P<quote>['\"]?)(?P<name>[^\s#:'\"\\{}\[\],&*!|>%@`]+)(?P=quote):[ ]*(?:#.*)?\n")
"""``section:`` on a line of its own."""
_NAME = re.compile(r"[ ]*(?P<name>[^\s:'\"{}\[\],#&*]+):")
_LEADING = re.compile(r"^[ \t]+", re.M)


def read_text(text: str) -> Tree:
    """Read a board's text. Never raises for bad text: the problems are in the result."""
    if len(text.encode("utf-8", "surrogatepass")) > MAX_BYTES:
        message = f"The text is longer than {MAX_BYTES // 1_000_000} MB. A board of 250 pedals takes about 50 kB."
        return Tree(Node(0, 0, items={}), [Problem("bound", message, span=Span(1, 1, 1, 2))], Lines(""))
    text = _FIRST_MARK.sub(r"\1   ", as_counted(text))
    reader = _Reader()
    root = reader.board(text)
    lines = Lines(text)
    return Tree(root, [lines.problem(slip) for slip in reader.slips], lines)


def as_counted(text: str) -> str:
    """The text in which lines and columns are counted: no byte order mark, and every line end a plain line feed."""
    return text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")


_remembered_quick = lru_cache(maxsize=8192)(quick)
_remembered_parse = lru_cache(maxsize=1024)(parse)
_LONGEST_REMEMBERED = 10_000

Part = tuple[int, str]
"""A stretch of the text, with the place where it starts."""


class _Reader:
    """One reading of one text."""

    def __init__(self) -> None:
        self.slips: list[Slip] = []
        self._intricate = 0
        self._joined = 0
        self._said_tab = False

    def board(self, text: str) -> Node:
        root = Node(0, len(text), items={})
        first = _LINE.search(text)
        if first is None:
            return root
        if first["indent"] or first["dash"] or _TIED.search(text):
            self._take(root, 0, self._read(text, keep=2), 0)
        else:
            starts = [line.start() for line in _LINE.finditer(text) if not (line["indent"] or line["dash"] or line["closing"])]
            self._sections(root, _cut(text, starts))
        if not root.items and all(slip.message in (NO_COLON, DASH_AMONG_NAMES) for slip in self.slips):
            message = "This is not a board yet: a board is a list of sections such as `pedals:` and `supplies:`."
            start = first.end("indent")
            self.slips = [Slip("syntax", message, (), start, start + 1)]
        return root

    def _sections(self, root: Node, parts: list[Part]) -> None:
        number = 0
        while number < len(parts):
            start, part = parts[number]
            if number >= MAX_SECTIONS:
                message = f"More than {MAX_SECTIONS} sections: no board has that many. From here on nothing is read."
                self.slips.append(Slip("bound", message, (), start, start + 1))
                break
            head = _HEAD.match(part)
            entries = _entries(part, head.end()) if head else []
            if head and entries:
                self._section(root, start, head, entries)
                number += 1
            else:
                parsed, taken = self._read_on(parts, number, keep=2)
                self._take(root, 0, parsed, start)
                number += taken

    def _section(self, root: Node, start: int, head: re.Match[str], parts: list[Part]) -> None:
        """A section whose entries stand one below the other; ``parts`` are these, placed from its ``start``."""
        name, first = head["name"], _LINE.match(parts[0][1])
        assert first is not None
        body = Node(parts[0][0] + len(first["indent"]), 0, items={}, is_list=bool(first["dash"]))
        number = 0
        while number < len(parts):
            offset, entry = parts[number]
            line = _LINE.match(entry)
            assert line is not None
            if number >= MAX_ENTRIES:
                place = start + offset + len(line["indent"])
                message = f"More than {MAX_ENTRIES} lines of entries stand here: no board has that many. The rest of `{name}` is not read."
                self.slips.append(Slip("bound", message, (name,), place, place + 1))
                break
            if line["indent"] != first["indent"]:
                place = start + offset + len(line["indent"])
                self.slips.append(Slip("syntax", WRONG_COLUMN, (name,), place, place + 1))
            parsed, taken = self._read_on(parts, number, keep=1)
            self._take(body, start, parsed, offset, (name,))
            number += taken
            body.end = offset + (parsed.node.end if parsed.node else len(entry.rstrip()))
        place = head.start("name") - len(head["quote"]), head.end("name") + len(head["quote"])
        self._put(root, 0, name, Child(*place, body, start))

    def _read_on(self, parts: list[Part], number: int, keep: int) -> tuple[Parsed, int]:
        """A part, together with those after it that it needs to be whole; and how many these are in all."""
        parsed = self._read(parts[number][1], keep)
        if parsed.broken and self._joined < _MOST_JOINED:
            texts = [part for _, part in parts[number:]]
            self._joined += sum(map(len, texts))
            many = _needed(texts)
            if many > 1 and not (together := self._read("".join(texts[:many]), keep)).broken:
                return together, many
        return parsed, 1

    def _read(self, text: str, keep: int) -> Parsed:
        remember = len(text) <= _LONGEST_REMEMBERED
        node = (_remembered_quick if remember else quick)(text)
        if node is not None:
            return Parsed(node)
        self._intricate += len(text) + _EACH_COSTS
        if self._intricate > MAX_INTRICATE:
            message = (
                "Too much of the text cannot be read the simple way, and any other takes too long. "
                "Mend what is broken, and do without anchors, tabs and text over several lines."
            )
            return Parsed(None, (Slip("bound", message, _name_in(text), 0, 1),), broken=True)
        parsed = (_remembered_parse if remember else parse)(text, keep)
        if parsed.broken and "\t" in text:
            parsed = self._without_tabs(text, parsed)
        if parsed.broken and not parsed.slips[0].where:
            return replace(parsed, slips=(replace(parsed.slips[0], where=_name_in(text)), *parsed.slips[1:]))
        return parsed

    def _without_tabs(self, text: str, parsed: Parsed) -> Parsed:
        """A part that tabs indent: it is said once that they are wrong, and read as if they were spaces."""
        mended = _LEADING.sub(lambda leading: " " * len(leading[0]), text)
        again = quick(mended)
        if again is None:
            return parsed
        place = text.index("\t")
        slips = () if self._said_tab else (Slip("syntax", TAB, (), place, place + 1),)
        self._said_tab = True
        return Parsed(again, slips)

    def _take(self, target: Node, base: int, parsed: Parsed, offset: int, under: Path = ()) -> None:
        """Put what was read at ``offset`` into ``target``, whose own places count from ``base``."""
        items, node = target.items, parsed.node
        assert items is not None
        for slip in parsed.slips:
            where = (len(items), *slip.where[1:]) if target.is_list else slip.where
            self.slips.append(replace(slip.moved(base + offset), where=(*under, *where)))
        if node is None:
            return
        if node.items is None or node.is_list is not target.is_list:
            place = base + offset + node.start
            message = NO_COLON if node.items is None else DASH_AMONG_NAMES if node.is_list else NAME_AMONG_DASHES
            self.slips.append(Slip("syntax", message, under, place, base + offset + node.end))
            return
        for key, child in node.items.items():
            moved = child._replace(shift=child.shift + offset)
            self._put(target, base, len(items) if target.is_list else key, moved, under)

    def _put(self, target: Node, base: int, key: str | int, child: Child, under: Path = ()) -> None:
        items = target.items
        assert items is not None
        if key in items:
            place = child.start + child.shift + base, child.end + child.shift + base
            self.slips.append(twice(str(key), (*under, key), place, items[key].start + items[key].shift + base))
        else:
            items[key] = child


def _cut(text: str, starts: list[int]) -> list[Part]:
    return [(start, text[start:end]) for start, end in pairwise([*starts, len(text)])]


def _entries(section: str, start: int) -> list[Part]:
    """The entries of a section, which stand below its head in one column, or should."""
    lines = list(_LINE.finditer(section, start))
    if not lines:
        return []
    first = lines[0]
    starts = [
        line.start()
        for line in lines
        if len(line["indent"]) <= len(first["indent"]) and not line["closing"] and (not line["dash"] or first["dash"])
    ]
    return _cut(section, starts)


def _needed(parts: list[str]) -> int:
    """How many parts, from the first on, it takes until every bracket and quotation mark of the first is closed."""
    first_end, depth = len(parts[0]), 0
    for found in BRACKETS.finditer("".join(parts)):
        if found.start() >= first_end and not depth:
            break
        depth += {"[": 1, "{": 1, "]": -1, "}": -1}.get(found[0][0], 0)
        if found.end() > first_end and depth <= 0:
            ends = accumulate(map(len, parts))
            return next(number for number, end in enumerate(ends, 1) if end >= found.end())
    return 1


def _name_in(text: str) -> Path:
    found = _NAME.match(text)
    return (found["name"],) if found else ()
