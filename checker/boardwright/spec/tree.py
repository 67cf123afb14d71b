"""What a board's text turns into: a tree in which every key and value knows its place."""

from __future__ import annotations

import re
from bisect import bisect_right
from dataclasses import dataclass, field, replace
from typing import Any, NamedTuple

from boardwright.spec.problem import Change, Kind, Path, Problem, Span

_LINE_END = re.compile("\n")


class Child(NamedTuple):
    """A value under its key. Of a list, the key's place is the value's.

    A part of the text that was read by itself counts from its own start: ``shift`` is to be added to every place from
    here on down, the key's included.
    """

    start: int
    end: int
    node: Node
    shift: int = 0


@dataclass(slots=True)
class Node:
    """A scalar (``text``), a mapping (``items``) or a list (``items`` keyed 0, 1, …), from ``start`` up to ``end``."""

    start: int
    end: int
    text: str | None = None
    items: dict[str | int, Child] | None = None
    is_list: bool = False
    _plain: Any = field(default=None, repr=False, compare=False)

    def plain(self) -> Any:
        """The value as ``str``, ``dict`` and ``list``. Shared between calls: not to be changed."""
        if self.items is None:
            return self.text
        if self._plain is None:
            values = [child.node.plain() for child in self.items.values()]
            self._plain = values if self.is_list else dict(zip(self.items, values, strict=True))
        return self._plain


@dataclass(frozen=True, slots=True)
class Slip:
    """An error of the text, with its place still counted in characters."""

    kind: Kind
    message: str
    where: Path = ()
    start: int = 0
    end: int = 0
    expected: str | None = None
    first: int | None = None
    """For a name that is written twice: where it stands first. The message is that name."""

    def moved(self, shift: int) -> Slip:
        first = None if self.first is None else self.first + shift
        return replace(self, start=self.start + shift, end=self.end + shift, first=first)


class Lines:
    """Places in a text, from characters to lines and columns."""

    def __init__(self, text: str) -> None:
        self.text = text
        self._starts = [0, *(found.end() for found in _LINE_END.finditer(text))]

    def span(self, start: int, end: int) -> Span:
        first, last = bisect_right(self._starts, start), bisect_right(self._starts, end)
        return Span(first, start - self._starts[first - 1] + 1, last, end - self._starts[last - 1] + 1)

    def problem(self, slip: Slip) -> Problem:
        message = slip.message
        if slip.first is not None:
            line = bisect_right(self._starts, slip.first)
            message = f"`{message}` is written twice, first at line {line}. Only the first is read: rename or remove this one."
        return Problem(slip.kind, message, slip.where, self.span(slip.start, slip.end), slip.expected)


@dataclass(slots=True)
class Tree:
    """A board's text as read: its sections, and the errors met on the way."""

    root: Node
    problems: list[Problem]
    lines: Lines
    _spans: dict[tuple[Path, bool], Span | None] = field(default_factory=dict, repr=False, compare=False)

    def locate(self, path: Path, by_name: bool = False) -> Span | None:
        """Where ``path`` stands; where its nearest parent stands if it is not there itself.

        A scalar is shown by its value; a mapping or a list, and ``by_name`` anything, by its key, where it has one.
        """
        if (path, by_name) not in self._spans:
            self._spans[path, by_name] = self._look_up(path, by_name)
        return self._spans[path, by_name]

    def _look_up(self, path: Path, by_name: bool) -> Span | None:
        node, shift, place = self.root, 0, None
        for step in path:
            child = _child(node, step)
            if child is None:
                break
            node, shift = child.node, shift + child.shift
            shown = child if by_name or node.items is not None else node
            place = (shown.start + shift, shown.end + shift)
        return self.lines.span(*place) if place else None

    def rewrite(self, path: Path, wrong: str, right: str) -> tuple[Change, ...]:
        """The changes that write ``right`` for ``wrong``: a key, a value, or a name wherever it stands within a value.

        Empty where that cannot be done in one place: no such value, or one that is not written as it is read.
        """
        node, shift, parent, key = self.root, 0, self.root, None
        for step in path:
            if (child := _child(node, step)) is None:
                break  # a short form has no keys in the text
            key, parent, node, shift = child, node, child.node, shift + child.shift
        if key is None or not _PLAIN.fullmatch(right):
            return ()
        if child is key and not parent.is_list and str(path[-1]) == wrong:
            start, end = key.start + shift, key.end + shift
            taken = _child(parent, right) is not None
            return () if taken or _unquoted(self.lines.text[start:end]) != wrong else (Change(self.lines.span(start, end), right),)
        start, end = node.start + shift, node.end + shift
        written = self.lines.text[start:end]
        if node.text is None or _unquoted(written) != node.text:
            return ()
        if node.text.strip() == wrong.strip():
            quote = written[0] if written != node.text else ""
            return (Change(self.lines.span(start, end), f"{quote}{right}{quote}"),)
        names = re.finditer(rf"(?<![\w.-]){re.escape(wrong)}(?![\w-])", written)
        return tuple(Change(self.lines.span(start + name.start(), start + name.end()), right) for name in names)


_PLAIN = re.compile(r"[A-Za-z0-9](?:[\w .,>°Ω%µ²/+-]*[\w°Ω%²])?")
"""What means itself wherever in a text it stands."""


def _unquoted(written: str) -> str:
    return written[1:-1] if len(written) > 1 and written[0] == written[-1] and written[0] in "'\"" else written


def _child(node: Node, step: str | int) -> Child | None:
    """The value under a key. Keys that differ by capitals or hyphens alone are the same, as they are to the models."""
    items = node.items or {}
    if step in items or not isinstance(step, str):
        return items.get(step)
    return next((child for key, child in items.items() if str(key).lower().replace("-", "_") == step), None)
