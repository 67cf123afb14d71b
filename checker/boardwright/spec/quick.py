"""The short way for simply written YAML: names, lists, brackets, and scalars that stand on one line.

Nearly every board is written so, and reads ten times as fast. What is not simple (an anchor, a tag, a scalar over
several lines, a tab, an empty value, a name twice, anything wrong) makes this way give up, and ``parse`` takes the long
one: here nothing is ever said to be wrong. A property test holds both ways to one answer.
"""

from __future__ import annotations

import json
import re

from boardwright.spec.parse import EMPTY, MAX_DEPTH, whole_characters
from boardwright.spec.tree import Child, Node

_ODD = re.compile("[^\n\x20-\x7e\xa0-\u2027\u202a-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]")
"""Characters that YAML refuses or gives a meaning of their own."""

_LONGEST_NAME = 1000  # YAML allows 1024
_END = "\n\0"


def _scalar(closing: str) -> re.Pattern[str]:
    """One scalar and the blanks after it: plain, in single or in double quotes. ``closing`` ends a plain one too."""
    inner = rf"[^\s\0:#{closing}]*+"
    glue = rf"[ ]++(?![\s\0#{closing}]|:[\s\0])|:(?![\s\0{closing}])|\#"
    plain = rf"(?!\.\.\.)(?:[^\s\0\-?:,\[\]{{}}#&*!|>'\"%@`]|-(?=[\w.])){inner}(?:(?:{glue}){inner})*+"
    double = r'"(?:[^"\\\n\0]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*+"'
    return re.compile(rf"(?:(?P<plain>{plain})|'(?P<single>(?:[^'\n\0]|'')*+)'|(?P<double>{double}))[ ]*+")


_IN_BLOCK = _scalar("")
_IN_BRACKETS = _scalar(r",\[\]{}")
_GAP = re.compile(r"(?:[ \n]++|(?<=[ \n])#[^\n\0]*+)*+")
"""What may stand between two things in brackets."""
_FIRST = re.compile(r"(?:[ ]*+(?:#[^\n\0]*+)?\n)*+(?P<indent>[ ]*+)")
_NEXT = re.compile(rf"[ ]*+(?:(?<=[ ])#[^\n\0]*+)?\n{_FIRST.pattern}")
"""From the end of a value to the first thing on a later line."""
_DASH = re.compile(r"-[ ]++")


_BLANKS = re.compile("[ ]*+")


class _GiveUp(Exception):
    pass


def quick(text: str) -> Node | None:
    """The tree of a simply written text; ``None`` for any other."""
    if _ODD.search(text):
        return None
    try:
        return _Quick(text).whole()
    except _GiveUp:
        return None


class _Quick:
    def __init__(self, text: str) -> None:
        self._text = text + _END

    def whole(self) -> Node:
        first = _FIRST.match(self._text)
        assert first is not None
        position = first.end()
        if self._text[position] in "[{":
            node = self._brackets(position, 1)
            position = self._next(node.end)[0]
        else:
            node, position, _ = self._lines(position, len(first["indent"]), 1)
        if self._text[position] != "\0":
            raise _GiveUp
        return node

    def _next(self, position: int) -> tuple[int, int]:
        """The first thing on a later line, and its column from 0; at the end of the text the column is −1."""
        found = _NEXT.match(self._text, position)
        if not found:
            raise _GiveUp
        return found.end(), -1 if self._text[found.end()] == "\0" else len(found["indent"])

    def _lines(self, position: int, column: int, depth: int) -> tuple[Node, int, int]:
        """The mapping or list whose lines start in ``column``; then the first thing after it, and its column."""
        if depth > MAX_DEPTH:
            raise _GiveUp
        if _DASH.match(self._text, position):
            node, position, following = self._dashes(position, column, depth)
        else:
            node, position, following = self._names(position, column, depth)
        if following > column:
            raise _GiveUp  # a scalar that goes on, or a line that stands wrong
        return node, position, following

    def _names(self, position: int, column: int, depth: int) -> tuple[Node, int, int]:
        items: dict[str | int, Child] = {}
        node, following = Node(position, position, items=items), column
        while following == column:
            name, end, colon = self._name(_IN_BLOCK, position, items)
            if self._text[colon + 1] not in " \n":
                raise _GiveUp
            value, after, following = self._value(colon + 1, column, depth)
            items[name] = Child(position, end, value)
            node.end, position = value.end, after
        return node, position, following

    def _value(self, position: int, column: int, depth: int) -> tuple[Node, int, int]:
        """What follows a name's colon: on its line, or indented below."""
        here = _BLANKS.match(self._text, position).end()  # type: ignore[union-attr]
        if self._text[here] not in "\n#":
            return self._one(here, depth)
        below, its_column = self._next(here)
        if its_column == column and _DASH.match(self._text, below):
            return self._dashes(below, its_column, depth + 1)
        if its_column <= column:
            raise _GiveUp
        if self._text[below] in "[{":
            return self._one(below, depth)
        return self._lines(below, its_column, depth + 1)

    def _dashes(self, position: int, column: int, depth: int) -> tuple[Node, int, int]:
        items: dict[str | int, Child] = {}
        node, following = Node(position, position, items=items, is_list=True), column
        while following == column and (dash := _DASH.match(self._text, position)):
            value, position, following = self._item(dash.end(), column + dash.end() - position, depth)
            items[len(items)] = Child(value.start, value.end, value)
            node.end = value.end
        return node, position, following

    def _item(self, position: int, column: int, depth: int) -> tuple[Node, int, int]:
        """What follows a dash: one thing, or a mapping whose first name stands on the dash's line."""
        found = _IN_BLOCK.match(self._text, position)
        if found and self._text[found.end()] == ":":
            return self._lines(position, column, depth + 1)
        return self._one(position, depth)

    def _one(self, position: int, depth: int) -> tuple[Node, int, int]:
        """A scalar on one line, or something in brackets; then what comes on a later line."""
        if self._text[position] in "[{":
            node = self._brackets(position, depth + 1)
            return node, *self._next(node.end)
        node, end = self._scalar(_IN_BLOCK, position)
        return node, *self._next(end)

    def _brackets(self, position: int, depth: int) -> Node:
        if depth > MAX_DEPTH:
            raise _GiveUp
        text, items = self._text, {}
        is_list = text[position] == "["
        closing = "]" if is_list else "}"
        node = Node(position, position, items=items, is_list=is_list)
        here = _gap(text, position + 1)
        while text[here] != closing:
            start = here
            if not is_list:
                name, end, colon = self._name(_IN_BRACKETS, here, items)
                if text[colon + 1] not in " \n" and text[end - 1] not in "\"'":
                    raise _GiveUp
                here = _gap(text, colon + 1)
            if text[here] in "[{":
                value = self._brackets(here, depth + 1)
                here = value.end
            else:
                value, here = self._scalar(_IN_BRACKETS, here)
            if is_list:
                items[len(items)] = Child(value.start, value.end, value)
            else:
                items[name] = Child(start, end, value)
            here = _gap(text, here)
            if text[here] == ",":
                here = _gap(text, here + 1)
            elif text[here] != closing:
                raise _GiveUp
        node.end = here + 1
        return node

    def _scalar(self, pattern: re.Pattern[str], position: int) -> tuple[Node, int]:
        """A scalar, and where the blanks after it end."""
        found = pattern.match(self._text, position)
        if not found:
            raise _GiveUp
        said, end = _said(found)
        if said in EMPTY and found.lastgroup == "plain":
            raise _GiveUp
        return Node(position, end, text=said), found.end()

    def _name(self, pattern: re.Pattern[str], position: int, known: dict[str | int, Child]) -> tuple[str, int, int]:
        """A name that is not ``known`` yet, its end, and the colon after it."""
        found = pattern.match(self._text, position)
        if not found or self._text[found.end()] != ":":
            raise _GiveUp
        said, end = _said(found)
        if said in known or said == "<<" or end - position > _LONGEST_NAME:
            raise _GiveUp
        return said, end, found.end()


def _gap(text: str, position: int) -> int:
    return _GAP.match(text, position).end()  # type: ignore[union-attr]


def _said(found: re.Match[str]) -> tuple[str, int]:
    """What a scalar says, and where it ends."""
    kind = found.lastgroup
    assert kind is not None
    said, end = found[kind], found.end(kind)
    if kind == "single":
        return said.replace("''", "'"), end + 1
    if kind == "double":
        said = json.loads(said, strict=False) if "\\" in said else said[1:-1]
        return whole_characters(said), end
    return said, end
