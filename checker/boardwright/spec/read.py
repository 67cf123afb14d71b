"""Text to ``Spec``: the tree is checked section by section, and everything that can be read is kept."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from boardwright.spec.fields import read_name
from boardwright.spec.figure import Unreadable
from boardwright.spec.language import ALIASES, SECTIONS, SectionKind, Shape
from boardwright.spec.one_line import rewritten
from boardwright.spec.problem import MOST_SHOWN, Edit, Path, Problem, Span, dotted
from boardwright.spec.sections.accept import Accept
from boardwright.spec.sections.amps import Amp
from boardwright.spec.sections.audio import AudioEntry
from boardwright.spec.sections.board import Board
from boardwright.spec.sections.computers import Computer
from boardwright.spec.sections.control import ControlLead
from boardwright.spec.sections.grounds import GroundBond
from boardwright.spec.sections.guitar import Guitar
from boardwright.spec.sections.instruments import Instrument
from boardwright.spec.sections.isolators import Isolator
from boardwright.spec.sections.mains import Mains
from boardwright.spec.sections.midi import MidiEntry
from boardwright.spec.sections.openings import Opening
from boardwright.spec.sections.papers import Paper
from boardwright.spec.sections.pedals import Pedal
from boardwright.spec.sections.place import Place
from boardwright.spec.sections.presets import Preset
from boardwright.spec.sections.promises import Promise
from boardwright.spec.sections.readings import Reading
from boardwright.spec.sections.runs import Run
from boardwright.spec.sections.spares import Spare
from boardwright.spec.sections.steps import Step
from boardwright.spec.sections.stock import Stock
from boardwright.spec.sections.supplies import Supply
from boardwright.spec.sections.switchers import Switcher
from boardwright.spec.sections.symptom import Symptom
from boardwright.spec.sections.upkeep import Upkeep
from boardwright.spec.sections.usb import UsbLead
from boardwright.spec.text import read_text
from boardwright.spec.tree import Tree
from boardwright.spec.wording import model_message, shown, unknown_key

TAKEN_NAMES = {
    "guitar": "the guitar itself",
    "battery": "a battery inside a pedal",
    "none": "no power at all",
    "unknown": "something that nobody knows",
}
"""Names that nothing may have, and what they mean."""
MOST_THINGS = 3000
"""Things with a name. A large touring board has a hundred, and some rules compare each with each."""
MOST_AMPS = 64
"""Amplifiers: they are compared with each other too, in every way that sound gets to them."""
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
    instruments: dict[str, Instrument] = field(default_factory=dict)
    pedals: dict[str, Pedal] = field(default_factory=dict)
    switchers: dict[str, Switcher] = field(default_factory=dict)
    isolators: dict[str, Isolator] = field(default_factory=dict)
    amps: dict[str, Amp] = field(default_factory=dict)
    computers: dict[str, Computer] = field(default_factory=dict)
    audio: dict[int, AudioEntry] = field(default_factory=dict)
    """By position in the text, since an entry that cannot be read leaves a gap."""
    control: dict[int, ControlLead] = field(default_factory=dict)
    midi: dict[int, MidiEntry] = field(default_factory=dict)
    usb: dict[int, UsbLead] = field(default_factory=dict)
    grounds: dict[int, GroundBond] = field(default_factory=dict)
    mains: Mains | None = None
    presets: dict[str, Preset] = field(default_factory=dict)
    promises: dict[int, Promise] = field(default_factory=dict)
    runs: dict[int, Run] = field(default_factory=dict)
    openings: dict[str, Opening] = field(default_factory=dict)
    stock: dict[str, Stock] = field(default_factory=dict)
    steps: dict[int, Step] = field(default_factory=dict)
    readings: dict[int, Reading] = field(default_factory=dict)
    spares: dict[int, Spare] = field(default_factory=dict)
    papers: dict[int, Paper] = field(default_factory=dict)
    symptom: Symptom | None = None
    upkeep: Upkeep | None = None
    accept: dict[int, Accept] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    written: dict[str, str] = field(default_factory=dict)
    """The sections that stand in the text, each with the key it was written under."""
    fragment: bool = False
    """A piece of a board for one rule: names that are nowhere declared are things of which nothing is known."""
    _broken: tuple[int, set[Path]] = (-1, frozenset())  # type: ignore[assignment]

    def locate(self, path: Path, by_name: bool = False) -> Span | None:
        """Where the value at ``path`` stands in the text, or its nearest parent; ``by_name``, where its name stands."""
        return self.tree.locate(self._as_written(path), by_name)

    def edits(self, path: Path, wrong: str, right: str | None) -> tuple[Edit, ...]:
        """The edit that writes ``right`` for ``wrong`` at ``path``, to be offered; none where nothing or no one place is meant."""
        changes = self.tree.rewrite(self._as_written(path), wrong, right) if right and right != wrong else ()
        return (Edit(f"Write `{right}` instead of {shown(wrong.strip())}", changes),) if changes else ()

    def _as_written(self, path: Path) -> Path:
        """The path by the name that its section has in the text."""
        return (self.written[str(path[0])], *path[1:]) if path and path[0] in self.written else path

    def describes(self, section: str) -> bool:
        return section in self.written

    def unread(self, path: Path) -> bool:
        """Whether something at or below ``path`` was written but could not be read."""
        counted, broken = self._broken
        if counted != len(self.problems):
            broken = {problem.where[:depth] for problem in self.problems for depth in range(len(problem.where) + 1)}
            self._broken = (len(self.problems), broken)
        return path in broken


def read(text: str, fragment: bool = False) -> Spec:
    """Read a board's text. Never raises for bad text: what is wrong is in ``Spec.problems``, in the order of the text."""
    tree = read_text(text)
    spec = Spec(tree, fragment=fragment)
    for key, child in (tree.root.items or {}).items():
        name = _section_name(key)
        kind = SECTIONS.get(name)
        if kind is None:
            message, expected, meant = unknown_key(str(key), [*SECTIONS], guess=len(spec.problems) < MOST_SHOWN)
            edits = spec.edits((key,), str(key), meant)
            spec.problems.append(Problem("key", message, (key,), tree.locate((key,), by_name=True), expected, edits))
        elif name in spec.written:
            message = f"`{key}` is another name for `{spec.written[name]}`, which already stands above. Put them together."
            spec.problems.append(Problem("key", message, (key,), tree.locate((key,), by_name=True)))
        else:
            spec.written[name] = str(key)
            _read_section(spec, kind, child.node.plain())
    spec.problems += (replace(said, where=(_section_name(said.where[0]), *said.where[1:])) if said.where else said for said in tree.problems)
    spec.problems.sort(key=lambda problem: (problem.span.line, problem.span.column) if problem.span else (0, 0))
    return spec


def _section_name(written: str | int) -> str:
    name = str(written).lower()
    return ALIASES.get(name, name if name in SECTIONS else str(written))


def _read_section(spec: Spec, kind: SectionKind, data: Any) -> None:
    if kind.shape is Shape.ONE:
        setattr(spec, kind.key, _read_entry(spec, kind, data, (kind.key,)))
        return
    if kind.shape is Shape.LIST and (isinstance(data, str) if kind.short else isinstance(data, dict)):
        data = [data]  # a list of one, written as that one
    expected_type = list if kind.shape is Shape.LIST else dict
    if not isinstance(data, expected_type):
        written = shown(data) if isinstance(data, str) else "a list" if isinstance(data, list) else "named lines"
        expected = "a list of `- …` lines" if kind.shape is Shape.LIST else "a line `name: …` for each thing"
        problem = Problem("value", f"`{kind.key}` holds {written}.", (kind.key,), spec.locate((kind.key,)), expected)
        spec.problems.append(problem)
        return
    entries = dict(enumerate(data)) if isinstance(data, list) else data
    kept = getattr(spec, kind.key)
    things = sum(len(getattr(spec, each.key)) for each in SECTIONS.values() if each.makes_things)
    for name, value in entries.items():
        path = (kind.key, name)
        if kind.makes_things and not _name_ok(spec, name, path):
            continue
        if kind.makes_things and (things := things + 1) > MOST_THINGS:
            message = f"More than {MOST_THINGS} things are described: no board has that many. The rest of `{kind.key}` is not read."
            spec.problems.append(Problem("bound", message, (kind.key,), spec.locate(path, by_name=True)))
            return
        if kind.key == "amps" and len(kept) >= MOST_AMPS:
            message = f"More than {MOST_AMPS} amplifiers are described: no rig has that many. The rest of `{kind.key}` is not read."
            spec.problems.append(Problem("bound", message, (kind.key,), spec.locate(path, by_name=True)))
            return
        entry = _read_entry(spec, kind, value, path)
        if entry is not None:
            kept[name] = entry


def _name_ok(spec: Spec, name: str, path: Path) -> bool:
    try:
        read_name(name)
    except Unreadable as error:
        edits = spec.edits(path, name, error.instead)
        spec.problems.append(Problem("name", error.message, path, spec.locate(path, by_name=True), error.expected or None, edits))
        return False
    if name.lower() in TAKEN_NAMES:
        message = f"`{name}` has a meaning of its own: {TAKEN_NAMES[name.lower()]}. Give this one another name."
        spec.problems.append(Problem("name", message, path, spec.locate(path, by_name=True)))
        return False
    for key, kind in SECTIONS.items():
        if kind.makes_things and key != path[0] and name in getattr(spec, key):
            first = spec.locate((key, name))
            where = f", at line {first.line}" if first else ""
            message = f"`{name}` is already the name of something under `{key}`{where}. Give this one a name of its own."
            spec.problems.append(Problem("name", message, path, spec.locate(path, by_name=True)))
            return False
    return True


def _read_entry(spec: Spec, kind: SectionKind, written: Any, path: Path) -> BaseModel | None:
    """One entry as its model. Values that cannot be read are said, set to unknown, and the rest is kept."""
    said: set[Path] = set()
    data = _opened(written, kind.short)
    for mended in range(_MENDS):
        try:
            return kind.model.model_validate(data) if mended else _validated(kind.model, _Written(written), kind.short)
        except ValidationError as failure:
            errors = [(error, _steps(error["loc"], data)) for error in failure.errors(include_url=False)]
        data = _copy(data)
        wrong = [(error, steps) for error, steps in errors if not _rename(kind, error, steps, data)]
        for error, steps in wrong:
            if steps not in said:  # an `unknown` put in its place may not fit either; once is enough
                said.add(steps)
                spec.problems.append(_problem(spec, kind, error, path, steps))
        # from the end, so that what is set aside does not move the rest of a list
        set_aside = [_set_aside(data, steps, error["type"]) for error, steps in reversed(wrong)]
        if len(wrong) == len(errors) and not any(set_aside):
            return None
    return None


class _Written:
    """What stands in the text for one entry. Text that did not change is read as the very same object (see ``Node.plain``)."""

    __slots__ = ("data",)

    def __init__(self, data: Any) -> None:
        self.data = data

    def __hash__(self) -> int:
        return hash(self.data) if isinstance(self.data, str) else id(self.data)

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, _Written):
            return False
        return self.data is other.data or (isinstance(self.data, str) and self.data == other.data)


@lru_cache(maxsize=4096)
def _validated(model: type[BaseModel], written: _Written, short: str | None) -> BaseModel:
    """Remembered, so that an edit checks only the entries that it touched. Models are frozen, and may serve many boards."""
    return model.model_validate(_opened(written.data, short))


def _opened(written: Any, short: str | None) -> Any:
    """An entry as a mapping: bare text stands for one with the key ``short``."""
    return {short: written} if short and isinstance(written, str) else written


def _copy(data: Any) -> Any:
    if isinstance(data, dict):
        return {key: _copy(value) for key, value in data.items()}
    return [_copy(value) for value in data] if isinstance(data, list) else data


def _steps(loc: tuple[int | str, ...], data: Any) -> Path:
    """Pydantic's location as a path in the text: short forms that it opened have no step of their own there."""
    steps: list[int | str] = []
    for step in loc:
        if (isinstance(data, dict) and step in data) or (isinstance(data, list) and isinstance(step, int) and step < len(data)):
            data = data[step]
            steps.append(step)
        elif isinstance(data, dict) and isinstance(step, str):
            steps.append(step)  # a missing key
            break
    return tuple(steps)


def _at(data: Any, steps: Path) -> Any:
    """What stands at ``steps``; ``None`` if that was set aside already."""
    for step in steps:
        if not ((isinstance(data, dict) and step in data) or (isinstance(data, list) and isinstance(step, int) and step < len(data))):
            return None
        data = data[step]
    return data


def _rename(kind: SectionKind, error: Any, steps: Path, data: Any) -> bool:
    """Give a key that differs from a known one by capitals or hyphens alone the known spelling."""
    if error["type"] != "extra_forbidden":
        return False
    holder, written = _at(data, steps[:-1]), str(steps[-1])
    plain = written.lower().replace("-", "_")
    if plain == written or not isinstance(holder, dict) or plain in holder or plain not in _known_keys(kind.model, error["loc"][:-1]):
        return False
    holder[plain] = holder.pop(written)
    return True


def _set_aside(data: Any, steps: Path, kind: str) -> bool:
    """Take the value at ``steps`` away; one that could not be read becomes ``unknown`` once. False if nothing is left to do."""
    if not steps:
        return False
    holder, last = _at(data, steps[:-1]), steps[-1]
    held = _at(holder, (last,))
    if held is None:
        return False
    if kind == "teach" and held != "unknown" and (isinstance(held, str) or (isinstance(held, list) and isinstance(holder, dict))):
        holder[last] = "unknown"
    else:
        del holder[last]
    return True


def _problem(spec: Spec, kind: SectionKind, error: Any, path: Path, steps: Path) -> Problem:
    where = (*path, *steps)
    if len(spec.problems) >= MOST_SHOWN:
        return Problem("value", "This cannot be read.", where, spec.locate(where))
    if error["type"] == "extra_forbidden":
        known = _known_keys(kind.model, error["loc"][:-1])
        message, expected, meant = unknown_key(str(steps[-1]), known)
        return Problem("key", message, where, spec.locate(where, by_name=True), expected, spec.edits(where, str(steps[-1]), meant))
    field = _field(kind.model, error["loc"])
    inner = (_model_in(field.annotation) if field else None) or (None if error["loc"] else kind.model)
    about = field.description.rstrip(".") if field and field.description else None
    message, expected = model_message(error, about, _known_keys(inner, ()) if inner else [])
    if not steps and error["type"] == "model_type" and isinstance(error["input"], str):
        line = rewritten(kind.key, str(path[-1]), error["input"], lambda words: _kind_named(kind.model, words))
        expected = line or expected
    named = f"`{dotted(where)}`: {message}" if message.startswith("A single value") else message
    instead = (error.get("ctx") or {}).get("instead")
    edits = spec.edits(where, error["input"], instead) if isinstance(error.get("input"), str) else ()
    return Problem("value", named, where, spec.locate(where), expected, edits)


def _kind_named(model: type[BaseModel], words: str) -> str | None:
    """The kind that some words name outright; nothing is guessed by spelling here."""
    try:
        return getattr(model.model_validate({"kind": words}), "kind", None)
    except ValidationError:
        return None


def _field(model: type[BaseModel], loc: tuple[int | str, ...]) -> FieldInfo | None:
    """The field of ``model``, or of one inside it, that ``loc`` is about."""
    found = None
    for step in loc:
        fields = {(info.alias or name): info for name, info in model.model_fields.items()}
        if step in fields:
            found = fields[step]
            model = _model_in(found.annotation) or model
    return found


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
