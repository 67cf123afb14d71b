"""Text to ``Spec``: the tree is checked section by section, and everything that can be read is kept."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from pydantic import BaseModel, ValidationError

from boardwright.spec.fields import read_name
from boardwright.spec.figure import Unreadable
from boardwright.spec.language import ALIASES, SECTIONS, SectionKind, Shape
from boardwright.spec.problem import Path, Problem, Span, dotted
from boardwright.spec.sections.accept import Accept
from boardwright.spec.sections.amps import Amp
from boardwright.spec.sections.audio import AudioEntry
from boardwright.spec.sections.board import Board
from boardwright.spec.sections.guitar import Guitar
from boardwright.spec.sections.pedals import Pedal
from boardwright.spec.sections.place import Place
from boardwright.spec.sections.supplies import Supply
from boardwright.spec.text import Tree, read_text
from boardwright.spec.wording import model_message, unknown_key

_MENDS = 40
"""How many broken values of one entry are set aside before the whole entry is."""


@dataclass(slots=True)
class Spec:
    """A board as described. A section that is not written is ``None`` or empty: not described is not the same as none."""

    tree: Tree
    board: Board | None = None
    place: Place | None = None
    guitar: Guitar | None = None
    supplies: dict[str, Supply] = field(default_factory=dict)
    pedals: dict[str, Pedal] = field(default_factory=dict)
    amps: dict[str, Amp] = field(default_factory=dict)
    audio: dict[int, AudioEntry] = field(default_factory=dict)
    """By position in the text, since an entry that cannot be read leaves a gap."""
    accept: dict[int, Accept] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    written: dict[str, str] = field(default_factory=dict)
    """The sections that stand in the text, each with the key it was written under."""
    fragment: bool = False
    """A piece of a board for one rule: names that are nowhere declared are things of which nothing is known."""

    def locate(self, path: Path) -> Span | None:
        """Where the value at ``path`` stands in the text, or its nearest parent."""
        if path and path[0] in self.written:
            path = (self.written[str(path[0])], *path[1:])
        return self.tree.locate(path)

    def describes(self, section: str) -> bool:
        return section in self.written

    def unread(self, path: Path) -> bool:
        """Whether something at or below ``path`` was written but could not be read."""
        return any(problem.where[: len(path)] == path for problem in self.problems)


def read(text: str, fragment: bool = False) -> Spec:
    """Read a board's text. Never raises for bad text: what is wrong is in ``Spec.problems``, in the order of the text."""
    tree = read_text(text)
    spec = Spec(tree, problems=list(tree.problems), fragment=fragment)
    for key, (_, node, _) in (tree.root.items or {}).items():
        name = ALIASES.get(str(key), str(key))
        kind = SECTIONS.get(name)
        if kind is None:
            message, expected = unknown_key(str(key), [*SECTIONS])
            spec.problems.append(Problem("key", message, (key,), tree.locate((key,)), expected))
        elif name in spec.written:
            message = f"`{key}` is another name for `{spec.written[name]}`, which already stands above. Put them together."
            spec.problems.append(Problem("key", message, (key,), tree.locate((key,))))
        else:
            spec.written[name] = str(key)
            _read_section(spec, kind, node.plain())
    spec.problems.sort(key=lambda problem: (problem.span.line, problem.span.column) if problem.span else (0, 0))
    return spec


def _read_section(spec: Spec, kind: SectionKind, data: Any) -> None:
    if kind.shape is Shape.ONE:
        setattr(spec, kind.key, _read_entry(spec, kind, data, (kind.key,)))
        return
    expected_type = list if kind.shape is Shape.LIST else dict
    if not isinstance(data, expected_type):
        shown = f"`{data}`" if isinstance(data, str) else "something else"
        expected = "a list of `- …` lines" if kind.shape is Shape.LIST else "a line `name: …` for each thing"
        problem = Problem("value", f"`{kind.key}` holds {shown}.", (kind.key,), spec.locate((kind.key,)), expected)
        spec.problems.append(problem)
        return
    entries = dict(enumerate(data)) if isinstance(data, list) else data
    kept = getattr(spec, kind.key)
    for name, value in entries.items():
        path = (kind.key, name)
        if kind.makes_things and not _name_ok(spec, name, path):
            continue
        if kind.short and isinstance(value, str):
            value = {kind.short: value}
        entry = _read_entry(spec, kind, value, path)
        if entry is not None:
            kept[name] = entry


def _name_ok(spec: Spec, name: str, path: Path) -> bool:
    try:
        read_name(name)
    except Unreadable as error:
        spec.problems.append(Problem("name", error.message, path, spec.locate(path), error.expected))
        return False
    for key, kind in SECTIONS.items():
        if kind.makes_things and key != path[0] and name in getattr(spec, key):
            first = spec.locate((key, name))
            where = f", at line {first.line}" if first else ""
            message = f"`{name}` is already the name of something under `{key}`{where}. Give this one a name of its own."
            spec.problems.append(Problem("name", message, path, spec.locate(path)))
            return False
    return True


def _read_entry(spec: Spec, kind: SectionKind, data: Any, path: Path) -> BaseModel | None:
    """One entry as its model. Values that cannot be read are said, set to unknown, and the rest is kept."""
    said: set[Path] = set()
    for _ in range(_MENDS):
        try:
            return kind.model.model_validate(data)
        except ValidationError as failure:
            errors = failure.errors(include_url=False)
        before = data
        for error in reversed(errors):  # from the end, so that what is set aside does not move the rest of a list
            steps = _steps(error["loc"], before)
            if steps not in said:  # an `unknown` put in its place may not fit either; once is enough
                spec.problems.append(_problem(spec, kind, error, path, steps))
            said.add(steps)
            data = _set_aside(data, steps, error["type"])
        if data is None or data == before:
            return None
    return None


def _steps(loc: tuple[int | str, ...], data: Any) -> Path:
    """Pydantic's location as a path in the text: short forms that it opened have no step of their own there."""
    steps: list[int | str] = []
    for step in loc:
        if isinstance(data, dict) and step in data or isinstance(data, list) and isinstance(step, int) and step < len(data):
            data = data[step]
            steps.append(step)
        elif isinstance(data, dict) and isinstance(step, str):
            steps.append(step)  # a missing key
            break
    return tuple(steps)


def _problem(spec: Spec, kind: SectionKind, error: Any, path: Path, steps: Path) -> Problem:
    where = (*path, *steps)
    if error["type"] == "extra_forbidden":
        message, expected = unknown_key(str(steps[-1]), _known_keys(kind.model, error["loc"][:-1]))
        return Problem("key", message, where, spec.locate(where), expected)
    message, expected = model_message(error)
    named = f"`{dotted(where)}`: {message}" if message.startswith("A single value") else message
    return Problem("value", named, where, spec.locate(where), expected)


def _known_keys(model: type[BaseModel], loc: tuple[int | str, ...]) -> list[str]:
    """The keys that may stand at ``loc`` inside ``model``."""
    for step in loc:
        if isinstance(step, int):
            continue
        fields = {(info.alias or name): info for name, info in model.model_fields.items()}
        inner = _model_in(fields[step].annotation) if step in fields else None
        model = inner or model
    return [info.alias or name for name, info in model.model_fields.items()]


def _model_in(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for part in getattr(annotation, "__args__", ()) or ():
        found = _model_in(part)
        if found:
            return found
    return None


def _set_aside(data: Any, steps: Path, kind: str) -> Any:
    """A copy of ``data`` without the value at ``steps``; a value of the wrong form becomes ``unknown`` once."""
    if not steps:
        return None
    first, rest = steps[0], steps[1:]
    if isinstance(data, dict):
        copy = dict(data)
        if rest:
            inner = _set_aside(copy.get(first), rest, kind)
            copy = {**copy, first: inner} if inner is not None else {k: v for k, v in copy.items() if k != first}
        elif kind == "teach" and copy.get(first) != "unknown" and not isinstance(copy.get(first), dict):
            copy[first] = "unknown"
        else:
            copy.pop(first, None)
        return copy
    if isinstance(data, list) and isinstance(first, int) and first < len(data):
        inner = _set_aside(data[first], rest, kind) if rest else None
        if not rest and kind == "teach" and isinstance(data[first], str) and data[first] != "unknown":
            inner = "unknown"
        return [*data[:first], *([inner] if inner is not None else []), *data[first + 1 :]]
    return None
