"""Text to a tree in which every key and value knows its line and column.

YAML 1.2 is scanned and parsed by ruamel.yaml; this module builds a tree from its events. Scalars stay text: what
``no``, ``1:1`` or ``9V`` mean is decided by the field that reads them, so none of YAML's guesses can get in between.

A board is read block by block (a section, and inside a section an entry), for two reasons: a slip in one block does
not hide the others, and an edit re-reads only the block it touched. Whenever that could give another answer than
reading the whole text at once (anchors, flow style across blocks, odd line breaks), the whole text is read at once.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError
from ruamel.yaml.events import (
    AliasEvent,
    DocumentStartEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
)
from ruamel.yaml.reader import ReaderError

from boardwright.spec.problem import Path, Problem, Span
from boardwright.spec.wording import syntax_message

MAX_BYTES = 1_000_000
MAX_DEPTH = 64
MAX_ALIASED = 20_000
"""Values that aliases may add in all; a short text can otherwise unfold into gigabytes."""


@dataclass(slots=True)
class Node:
    """A scalar (``text``), a mapping (``items``) or a sequence (``items`` keyed 0, 1, …), with its place.

    A child is kept as ``(key span, node, lines to add)``: a block read on its own counts lines from its own start, so
    the lines to add hold for the child's key and for all that is in it.
    """

    span: Span
    text: str | None = None
    items: dict[str | int, tuple[Span, Node, int]] | None = None
    is_list: bool = False
    _plain: Any = field(default=None, repr=False)

    def plain(self) -> Any:
        """The value as ``str``, ``dict`` and ``list``. Shared between calls: not to be changed."""
        if self.items is None:
            return self.text
        if self._plain is None:
            values = [child.plain() for _, child, _ in self.items.values()]
            self._plain = values if self.is_list else dict(zip(self.items, values, strict=True))
        return self._plain


@dataclass(slots=True)
class Tree:
    """A board's text as read: its sections, and the errors met on the way."""

    root: Node
    problems: list[Problem]

    def locate(self, path: Path) -> Span | None:
        """Where ``path`` stands; where its nearest parent stands if it is not there itself.

        A scalar is shown by its value; a mapping or a list by its key, where it has one.
        """
        node, lines, span = self.root, 0, None
        for step in path:
            child = (node.items or {}).get(step)
            if child is None:
                break
            key_span, node, shift = child
            lines += shift
            named = node.items is not None and isinstance(step, str)
            span = (key_span if named else node.span).shifted(lines)
        return span


@dataclass(frozen=True, slots=True)
class _Read:
    node: Node | None
    problems: tuple[Problem, ...]


def read_text(text: str) -> Tree:
    """Read a board's text. Never raises for bad text: the problems are in the result."""
    empty = Node(Span(1, 1, 1, 1), items={})
    if len(text.encode("utf-8", "surrogatepass")) > MAX_BYTES:
        message = f"The text is longer than {MAX_BYTES // 1_000_000} MB. A board of 250 pedals takes about 50 kB."
        return Tree(empty, [Problem("bound", message, span=Span(1, 1, 1, 2))])
    text = text.removeprefix("\ufeff")
    blocks = _split(text)
    if blocks and not re.search(r"[&*]", text):
        tree = _read_blocks(blocks)
        if not any(problem.kind == "syntax" for problem in tree.problems):
            return tree
    whole = _parse(text)
    if whole.node is None and blocks:  # something is broken: keep every block that can be read by itself
        tree = _read_blocks(blocks)
        if any(problem.kind == "syntax" for problem in tree.problems):
            return tree
        return Tree(tree.root, [*whole.problems, *tree.problems])
    if whole.node is None or whole.node.items is None or whole.node.is_list:
        problems = list(whole.problems)
        if not problems and text.strip():
            problems.append(
                Problem(
                    "syntax",
                    "This is not a board yet: a board is a list of sections such as `pedals:` and `supplies:`.",
                    span=whole.node.span if whole.node else Span(1, 1, 1, 2),
                )
            )
        return Tree(empty, problems)
    return Tree(whole.node, list(whole.problems))


# --- block by block -----------------------------------------------------------------------------------------------

_HEAD = re.compile(r"[^\s#:'\"{}\[\],&*!|>%@`?-][^\s:{}\[\],&*#]*:(?=[ \t]|$)")
_HEAD_ONLY = re.compile(r"[^\s#:]+:[ \t]*(#.*)?$")
_ITEM = re.compile(r"-[ \t]")


def _split(text: str) -> list[tuple[int, str]] | None:
    """Blocks that start at the left edge, each with its first line's number from 0; ``None`` if that is unsure."""
    if "\r" in text.replace("\r\n", "") or re.search(r"^(---|\.\.\.|%)", text, re.M):
        return None
    lines = text.split("\n")
    starts = [number for number, line in enumerate(lines) if line[:1].strip() and line[0] != "#"]
    if not starts or not all(_HEAD.match(lines[number]) for number in starts):
        return None
    ends = [*starts[1:], len(lines)]
    return [(start, "\n".join(lines[start:end])) for start, end in zip(starts, ends, strict=True)]


def _entries(block: str) -> list[tuple[int, str]] | None:
    """The entries of ``section:`` written one below the other, or ``None`` where it is written otherwise."""
    lines = block.split("\n")
    if not _HEAD_ONLY.match(lines[0].rstrip("\r")):
        return None
    inner = [(number, line) for number, line in enumerate(lines) if number and line.strip() and line.lstrip()[0] != "#"]
    if not inner:
        return None
    indent = len(inner[0][1]) - len(inner[0][1].lstrip(" "))
    starts = []
    kind = _ITEM if _ITEM.match(inner[0][1], indent) else _HEAD
    for number, line in inner:
        depth = len(line) - len(line.lstrip(" "))
        if depth < indent or (depth == indent and not kind.match(line, indent)):
            return None
        if depth == indent:
            starts.append(number)
    ends = [*starts[1:], len(lines)]
    return [(start, "\n".join(lines[start:end])) for start, end in zip(starts, ends, strict=True)]


def _read_blocks(blocks: list[tuple[int, str]]) -> Tree:
    sections: dict[str | int, tuple[Span, Node, int]] = {}
    problems: list[Problem] = []
    for first_line, block in blocks:
        read = _read_block(block)
        problems += [problem.shifted(first_line) for problem in read.problems]
        for name, (key, node, shift) in ((read.node and read.node.items) or {}).items():
            if name in sections:
                first, _, first_shift = sections[name]
                problems.append(_twice(name, first.shifted(first_shift), key.shifted(shift + first_line)))
            else:
                sections[name] = (key, node, shift + first_line)
    return Tree(Node(Span(1, 1, 1, 1), items=sections), problems)


@lru_cache(maxsize=256)
def _read_block(block: str) -> _Read:
    """A block ``section: …``. If its entries cannot be read together, those that can are kept."""
    entries = _entries(block)
    if entries is None or len(entries) < 2:
        return _parse_cached(block)
    parts = [(first, _parse_cached(entry)) for first, entry in entries]
    if any(part.node is None or len(part.node.items or ()) != 1 for _, part in parts):
        whole = _parse_cached(block)
        if whole.node is not None:
            return whole
    head = _parse_cached(block.split("\n", 1)[0] + " x")
    if head.node is None or not head.node.items:
        return head
    ((name, (key_span, _, _)),) = head.node.items.items()
    is_list = any(part.node is not None and part.node.is_list for _, part in parts)
    items: dict[str | int, tuple[Span, Node, int]] = {}
    problems: list[Problem] = []
    for first, part in parts:
        problems += [_under(name, problem, len(items) if is_list else None).shifted(first) for problem in part.problems]
        for key, (span, node, shift) in ((part.node and part.node.items) or {}).items():
            key = len(items) if is_list else key
            if key in items:
                known, _, known_shift = items[key]
                problems.append(_twice(f"{name}.{key}", known.shifted(known_shift), span.shifted(shift + first)))
            else:
                items[key] = (span, node, shift + first)
    body = Node(Span(2, 1, 2, 2), items=items, is_list=is_list)
    return _Read(Node(Span(1, 1, 1, 1), items={name: (key_span, body, 0)}), tuple(problems))


def _under(section: str | int, problem: Problem, position: int | None) -> Problem:
    where = problem.where if position is None else (position, *problem.where[1:])
    return Problem(problem.kind, problem.message, (section, *where), problem.span, problem.expected)


def _twice(name: str | int, first: Span, again: Span) -> Problem:
    return Problem(
        "key",
        f"`{name}` is written twice, first at line {first.line}. Only the first is read: rename or remove this one.",
        tuple(str(name).split(".")),
        again,
    )


# --- events to nodes ----------------------------------------------------------------------------------------------


def _parse(text: str) -> _Read:
    """One text to one node. A text that YAML cannot read gives no node and one problem."""
    builder = _Builder()
    try:
        for event in YAML(typ="safe", pure=True).parse(text):
            builder.take(event)
    except _Bound as bound:
        return _Read(None, (bound.problem,))
    except MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        span = Span(mark.line + 1, mark.column + 1, mark.line + 1, mark.column + 2) if mark else None
        return _Read(None, (Problem("syntax", syntax_message(error, text), span=span), *builder.problems))
    except ReaderError as error:
        before = text[: error.position]
        line, column = before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1
        message = f"A character that no text should hold stands here (U+{error.character:04X})."
        return _Read(None, (Problem("syntax", message, span=Span(line, column, line, column + 1)),))
    return _Read(builder.root, tuple(builder.problems))


_parse_cached = lru_cache(maxsize=4096)(_parse)


class _Bound(Exception):
    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.message)
        self.problem = problem


def _span(event: Any) -> Span:
    start, end = event.start_mark, event.end_mark
    return Span(start.line + 1, start.column + 1, end.line + 1, end.column + 1)


@dataclass(slots=True)
class _Open:
    """A mapping or list whose end has not come yet."""

    node: Node
    path: Path
    anchor: str | None
    key: str | None = None
    key_span: Span | None = None


class _Builder:
    """Builds the tree without recursion, so that depth is a number to check and not a crash."""

    def __init__(self) -> None:
        self.root: Node | None = None
        self.problems: list[Problem] = []
        self._stack: list[_Open] = []
        self._anchors: dict[str, Node] = {}
        self._aliased = 0
        self._documents = 0

    def take(self, event: Any) -> None:
        if self._documents > 1:
            return
        if isinstance(event, ScalarEvent):
            self._scalar(event)
        elif isinstance(event, MappingStartEvent | SequenceStartEvent):
            self._open(event)
        elif isinstance(event, MappingEndEvent | SequenceEndEvent):
            self._close(event)
        elif isinstance(event, AliasEvent):
            self._alias(event)
        elif isinstance(event, DocumentStartEvent):
            self._documents += 1
            if self._documents == 2:
                message = "One text holds one board: everything from this `---` on is not read."
                self.problems.append(Problem("syntax", message, span=_span(event)))

    def _path(self) -> Path:
        if not self._stack:
            return ()
        top = self._stack[-1]
        if top.node.is_list:
            return (*top.path, len(top.node.items or ()))
        return top.path if top.key is None else (*top.path, top.key)

    def _wants_key(self) -> bool:
        return bool(self._stack) and not self._stack[-1].node.is_list and self._stack[-1].key is None

    def _refuse_tag(self, event: Any) -> None:
        tag = getattr(event, "tag", None)
        if tag and not str(tag).startswith("tag:yaml.org,2002:") and str(tag) != "!":
            self.problems.append(
                Problem("syntax", f"`{tag}` is a custom tag; boards have none. Remove it.", self._path(), _span(event))
            )

    def _scalar(self, event: ScalarEvent) -> None:
        self._refuse_tag(event)
        span, text = _span(event), event.value
        if self._wants_key():
            top = self._stack[-1]
            top.key, top.key_span = text, span
            return
        if event.style is None and text in ("", "~", "null"):
            self._add(None, span)
            return
        node = Node(span, text=text)
        if event.anchor:
            self._anchors[event.anchor] = node
        self._add(node, span)

    def _open(self, event: MappingStartEvent | SequenceStartEvent) -> None:
        self._refuse_tag(event)
        if self._wants_key():
            raise _Bound(Problem("syntax", "A name is due here, not a list or a mapping.", self._path(), _span(event)))
        if len(self._stack) >= MAX_DEPTH:
            message = f"More than {MAX_DEPTH} brackets or levels inside each other: no board needs that."
            raise _Bound(Problem("bound", message, (), _span(event)))
        node = Node(_span(event), items={}, is_list=isinstance(event, SequenceStartEvent))
        self._stack.append(_Open(node, self._path(), event.anchor))

    def _close(self, event: Any) -> None:
        done = self._stack.pop()
        start, end = done.node.span, _span(event)
        done.node.span = Span(start.line, start.column, end.end_line, end.end_column)
        if done.anchor:
            self._anchors[done.anchor] = done.node
        self._add(done.node, done.node.span)

    def _alias(self, event: AliasEvent) -> None:
        node = self._anchors.get(event.anchor)
        if node is None:
            self.problems.append(
                Problem("name", f"`*{event.anchor}` points to nothing: no `&{event.anchor}` stands above it.", self._path(), _span(event))
            )
        else:
            self._aliased += _size(node)
            if self._aliased > MAX_ALIASED:
                message = f"Aliases unfold into more than {MAX_ALIASED} values: write the things out, or use fewer."
                raise _Bound(Problem("bound", message, (), _span(event)))
        self._add(node, _span(event), quiet=True)

    def _add(self, node: Node | None, span: Span, quiet: bool = False) -> None:
        """Put a finished value where it belongs. ``None`` is an empty value, which is said unless ``quiet``."""
        if not self._stack:
            self.root = node
            return
        top = self._stack[-1]
        items = top.node.items
        assert items is not None
        if node is None and not quiet:
            message = "Nothing stands here." if top.node.is_list else f"`{top.key}` is empty."
            expected = "a value, or `unknown`"
            self.problems.append(Problem("value", message, self._path(), top.key_span or span, expected))
        if top.node.is_list:
            if node is not None:
                items[len(items)] = (node.span, node, 0)
            return
        key, key_span = top.key, top.key_span
        assert key is not None and key_span is not None
        path = self._path()
        top.key = top.key_span = None
        if node is None:
            return
        if key == "<<" and node.items is not None:
            self._merge(items, node)
        elif key in items:
            again = _twice(key, items[key][0], key_span)
            self.problems.append(Problem(again.kind, again.message, path, again.span))
        else:
            items[key] = (key_span, node, 0)

    @staticmethod
    def _merge(items: dict[str | int, tuple[Span, Node, int]], node: Node) -> None:
        """``<<: *base``: what is written in the place itself stands above what is merged in."""
        sources = [child for _, child, _ in (node.items or {}).values()] if node.is_list else [node]
        for source in sources:
            for key, child in (source.items or {}).items():
                items.setdefault(key, child)


def _size(node: Node) -> int:
    total, work = 0, [node]
    while work:
        current = work.pop()
        total += 1
        if total > MAX_ALIASED:
            break
        work += [child for _, child, _ in (current.items or {}).values()]
    return total


def walk(node: Node, path: Path = ()) -> Iterator[tuple[Path, Node]]:
    """Every node below ``node`` with its path."""
    yield path, node
    for key, (_, child, _) in (node.items or {}).items():
        yield from walk(child, (*path, key))
