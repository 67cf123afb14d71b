"""Any YAML 1.2 text to a tree, by way of ruamel.yaml's events.

Scalars stay text: what ``no``, ``1:1`` or ``9V`` mean is decided by the field that reads them, so none of YAML's guesses
can get in between.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
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

from boardwright.spec.problem import Path
from boardwright.spec.tree import Child, Node, Slip
from boardwright.spec.wording import shown, syntax_message

MAX_DEPTH = 64
_BRACKETS_BEYOND = 3 * MAX_DEPTH
"""Brackets open at once from which on the scanner is not even shown the rest: it looks through all of them at every step."""
MAX_ALIASED = 20_000
"""Values that aliases may add in all; a short text can otherwise unfold into gigabytes."""

BRACKETS = re.compile(r"\"(?:[^\"\\]|\\.)*+\"|'(?:[^']|'')*+'|(?<!\S)#[^\n]*|[\[\]{}]", re.S)
"""Brackets, and what is written in quotation marks or behind a ``#`` whole, since brackets in there are none."""
_PLAIN_TAGS = ("!", "str", "int", "float", "bool", "null", "map", "seq")
EMPTY = ("", "~", "null")


@dataclass(frozen=True, slots=True)
class Parsed:
    """What one text holds. If it is ``broken``, the tree holds what stands before the damage."""

    node: Node | None
    slips: tuple[Slip, ...] = ()
    broken: bool = False


def parse(text: str, keep: int) -> Parsed:
    """Read one text. Never raises for bad text.

    Args:
        text: the text, with ``\\n`` for line ends.
        keep: to what depth the finished values of a broken mapping are kept: 1 for its own, 2 for its values' too.
    """
    beyond = _beyond(text)
    if beyond is not None:
        builder, stopped = _built(text[:beyond])
        if isinstance(stopped, _Refused):  # what comes behind a refusal is never looked at
            return _broken(builder, stopped.slip, text, keep)
    builder, stopped = _built(text)
    if stopped is None:
        return Parsed(builder.root, tuple(builder.slips))
    return _broken(builder, _as_slip(stopped, text), text, keep)


def _beyond(text: str) -> int | None:
    """Where far more brackets are open at once than may be; ``None`` if they never are."""
    depth = 0
    for found in BRACKETS.finditer(text):
        depth += {"[": 1, "{": 1, "]": -1, "}": -1}.get(found[0][0], 0)
        if depth > _BRACKETS_BEYOND:
            return found.end()
    return None


def _built(text: str) -> tuple[_Builder, Exception | None]:
    """What can be built of a text, and what stopped it if not all could."""
    builder = _Builder(text)
    try:
        for event in YAML(typ="safe", pure=True).parse(text):
            builder.take(event)
    # Of the last two, one is an escape beyond Unicode, the other a version of a thousand digits.
    except (_Refused, MarkedYAMLError, ReaderError, ValueError, OverflowError) as stopped:
        return builder, stopped
    return builder, None


def _as_slip(stopped: Exception, text: str) -> Slip:
    match stopped:
        case _Refused():
            return stopped.slip
        case MarkedYAMLError():
            return _explained(stopped, text)
        case ReaderError():
            said = f"A character that no text should hold stands here (U+{stopped.character:04X})."
            return Slip("syntax", said, (), stopped.position, stopped.position + 1)
    return Slip("syntax", "The text cannot be read: it holds a number or an escape that is out of bounds.", (), 0, 1)


def _broken(builder: _Builder, slip: Slip, text: str, keep: int) -> Parsed:
    last = max(0, len(text.rstrip()) - 1)  # what is missing at the end is shown at the end
    slip = replace(slip, where=slip.where or builder.path[:keep], start=min(slip.start, last), end=min(slip.end, last + 1))
    return Parsed(builder.so_far(keep, slip.start), (slip, *builder.slips), broken=True)


def _explained(error: MarkedYAMLError, text: str) -> Slip:
    """What a YAML error means, and where a person would look for it."""
    context, mark = error.context_mark, error.problem_mark or error.context_mark
    place = min(mark.index if mark else 0, len(text))
    if context is not None and context.index < place and not text[place:].strip("\0\n "):
        opened = text[context.index]
        if opened in "[{":
            comment = ": what follows a ` #` is a comment" if " #" in text[context.index :] else ""
            return Slip("syntax", f"This `{opened}` is never closed{comment}.", (), context.index, context.index + 1)
        if opened in "\"'":
            return Slip("syntax", "This quotation mark is never closed.", (), context.index, context.index + 1)
    if "mapping values are not allowed" in (error.problem or ""):
        above = text[: text.rfind("\n", 0, place) + 1].rstrip()
        start = above.rfind("\n") + 1
        line = above[start:].strip()
        if line and ":" not in line and "#" not in line and line[-1] not in ",[{":
            return Slip("syntax", f"A `:` is missing after {shown(line)}.", (), start + len(above[start:]) - len(line), len(above))
    return Slip("syntax", syntax_message(error, text[place : place + 1]), (), place, place + 1)


class _Refused(Exception):
    def __init__(self, slip: Slip) -> None:
        super().__init__(slip.message)
        self.slip = slip


def _place(event: Any) -> tuple[int, int]:
    return event.start_mark.index, event.end_mark.index


@dataclass(slots=True)
class _Open:
    """A mapping or list whose end has not come yet."""

    node: Node
    path: Path
    anchor: str | None
    key: str | None = None
    key_place: tuple[int, int] = (0, 0)


class _Builder:
    """Builds the tree without recursion, so that depth is a number to check and not a crash."""

    def __init__(self, text: str) -> None:
        self._text = text
        self.root: Node | None = None
        self.slips: list[Slip] = []
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
                self._say("syntax", "One text holds one board: everything from this `---` on is not read.", event)

    def so_far(self, keep: int, damage: int) -> Node | None:
        """The mapping that is being built, with what is finished in it before the ``damage``."""
        items = self._stack[-1].node.items if self._stack else None
        last = next(reversed(items.values())).node if items else None
        if items and last and last.text is not None and not self._text[last.end : damage].strip():
            items.popitem()  # a scalar that runs into the damage may be no more than its beginning
        while len(self._stack) > max(keep, 1):
            self._stack.pop()
        while self._stack:
            self._finish(self._stack[-1].node.end)
        return self.root

    @property
    def path(self) -> Path:
        """The way to the value that comes next."""
        if not self._stack:
            return ()
        top = self._stack[-1]
        if top.node.is_list:
            return (*top.path, len(top.node.items or ()))
        return top.path if top.key is None else (*top.path, top.key)

    def _wants_key(self) -> bool:
        return bool(self._stack) and not self._stack[-1].node.is_list and self._stack[-1].key is None

    def _say(self, kind: Any, message: str, event: Any) -> None:
        self.slips.append(Slip(kind, message, self.path, *_place(event)))

    def _check_tag(self, event: Any) -> None:
        tag = str(event.tag or "!")
        if tag.removeprefix("tag:yaml.org,2002:") not in _PLAIN_TAGS:
            self._say("syntax", f"{shown(tag)} is a custom tag; boards have none. Remove it.", event)

    def _scalar(self, event: ScalarEvent) -> None:
        self._check_tag(event)
        place, text = _place(event), whole_characters(event.value)
        if event.style in ("|", ">"):  # the library lets it run into the next line
            place = place[0], place[0] + len(self._text[slice(*place)].rstrip())
        node = Node(*place, text=text)
        if event.anchor:
            self._anchors[event.anchor] = node
        if self._wants_key():
            self._key(text, place)
        else:
            self._add(None if event.style is None and text in EMPTY else node, place)

    def _key(self, text: str, place: tuple[int, int]) -> None:
        self._stack[-1].key, self._stack[-1].key_place = text, place

    def _open(self, event: MappingStartEvent | SequenceStartEvent) -> None:
        self._check_tag(event)
        place = _place(event)
        if self._wants_key():
            raise _Refused(Slip("syntax", "A name is due here, not a list or a mapping.", self.path, *place))
        if len(self._stack) >= MAX_DEPTH:
            message = f"More than {MAX_DEPTH} brackets or levels inside each other: no board needs that."
            raise _Refused(Slip("bound", message, self.path[:2], *place))
        node = Node(*place, items={}, is_list=isinstance(event, SequenceStartEvent))
        self._stack.append(_Open(node, self.path, event.anchor))

    def _close(self, event: MappingEndEvent | SequenceEndEvent) -> None:
        start, end = _place(event)
        self._finish(end if end > start else self._stack[-1].node.end)

    def _finish(self, end: int) -> None:
        """Close the innermost mapping or list. One without brackets ends where the last thing in it does."""
        done = self._stack.pop()
        done.node.end = end
        if done.anchor:
            self._anchors[done.anchor] = done.node
        self._add(done.node, (done.node.start, end))

    def _alias(self, event: AliasEvent) -> None:
        place, node = _place(event), self._anchors.get(event.anchor)
        if node is None:
            self._say("name", f"`*{event.anchor}` points to nothing: no `&{event.anchor}` stands above it.", event)
        else:
            self._aliased += _size(node)
            if self._aliased > MAX_ALIASED:
                message = f"Aliases unfold into more than {MAX_ALIASED} values: write the things out, or use fewer."
                raise _Refused(Slip("bound", message, self.path[:2], *place))
        if not self._wants_key():
            self._add(node, place, quiet=True)
        elif node is None or node.text is None:
            raise _Refused(Slip("syntax", "A name is due here, not a list or a mapping.", self.path, *place))
        else:
            self._key(node.text, place)

    def _add(self, node: Node | None, place: tuple[int, int], quiet: bool = False) -> None:
        """Put a finished value where it belongs. ``None`` is an empty value, which is said unless ``quiet``."""
        if not self._stack:
            self.root = node
            return
        top = self._stack[-1]
        items, path = top.node.items, self.path
        assert items is not None
        top.node.end = max(place[1], top.key_place[1])
        if top.node.is_list:
            key, at = len(items), place
        else:
            assert top.key is not None
            key, at = top.key, top.key_place
            top.key = None
        if node is None:
            if not quiet:
                self.slips.append(self._nothing(str(key), path, at, top.node.is_list))
        elif key == "<<" and node.items is not None:
            self._merge(items, node)
        elif key in items:
            self.slips.append(twice(str(key), path, at, items[key].start))
        else:
            items[key] = Child(*at, node)

    def _nothing(self, key: str, path: Path, at: tuple[int, int], in_list: bool) -> Slip:
        """The slip that a value is missing."""
        if in_list:
            return Slip("value", "Nothing stands here.", path, *at, expected="a value")
        if self._text[at[1] :].lstrip(" ").startswith(":") or self._text[at[0] : at[0] + 1] in ("?", ""):
            return Slip("value", f"{shown(key)} is empty.", path, *at, expected="a value, or `unknown`")
        first, _, rest = key.partition(" ")
        hint = "Inside `{ }` each comma starts a new `name: value`; put a text with commas in quotes."
        if rest and first.isidentifier():
            hint = f"Did you mean `{first}: {shown(rest)[1:]}?"
        return Slip("syntax", f"{shown(key)} has no `:`. {hint}", path, *at)

    @staticmethod
    def _merge(items: dict[str | int, Child], node: Node) -> None:
        """``<<: *base``: what is written in the place itself stands above what is merged in."""
        sources = [child.node for child in (node.items or {}).values()] if node.is_list else [node]
        for source in sources:
            for key, child in (source.items or {}).items():
                items.setdefault(key, child)


def twice(name: str, where: Path, place: tuple[int, int], first: int) -> Slip:
    """The slip that ``name`` is written a second time at ``place``; ``first`` is where it stands first."""
    return Slip("key", name, where, *place, first=first)


def whole_characters(text: str) -> str:
    """JSON writes a character beyond the first 65,536 as two halves; put them together."""
    if text.isascii() or not any("\ud800" <= character <= "\udfff" for character in text):
        return text
    return text.encode("utf-16", "surrogatepass").decode("utf-16", "replace")


def _size(node: Node) -> int:
    total, work = 0, [node]
    while work and total <= MAX_ALIASED:
        total += 1
        work += [child.node for child in (work.pop().items or {}).values()]
    return total
