"""Putting a mutant into a running interpreter. There is no way back: it is meant for a forked process."""

from __future__ import annotations

import functools
import gc
import importlib
import re
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from types import CodeType, FunctionType, ModuleType

from boardwright.limits import LIMITS, Limit
from boardwright.rules.registry import RULES
from mutation.mutants import Mutant, turned

PACKAGE = Path(importlib.import_module("boardwright").__file__).parent
PLAIN = (int, float, str, tuple, list, dict, frozenset)
_REMEMBERING: dict[int, list[functools._lru_cache_wrapper]] = {}
"""The functions that remember calls, as there are with so many modules imported."""


def put_in(mutant: Mutant) -> None:
    """Let the whole package run with this mutant from now on."""
    path = PACKAGE / mutant.file
    code = compile(turned(path.read_text("utf-8"), mutant), str(path), "exec", dont_inherit=True)
    _give_code(str(path), code)
    if not mutant.in_function:
        _give_values(sys.modules["boardwright." + mutant.file.removesuffix(".py").replace("/", ".").removesuffix(".__init__")], code)
    forget()


def set_limit(name: str, value: float) -> None:
    """Let a limit have another value from now on, in modules that work something out of limits at import too."""
    object.__setattr__(LIMITS[name], "value", value)
    for path, code in _taken_at_import():
        _give_values(sys.modules["boardwright." + path.relative_to(PACKAGE).as_posix().removesuffix(".py").replace("/", ".")], code)
    forget()


def _taken_at_import() -> Iterator[tuple[Path, CodeType]]:
    for path in PACKAGE.rglob("*.py"):
        source = path.read_text("utf-8")
        if re.search(r"^[A-Z_]+ = .*\blimits\.[A-Z_]+\.value\b", source, re.MULTILINE):
            yield path, compile(source, str(path), "exec", dont_inherit=True)


def forget() -> None:
    """Forget whatever functions remember of earlier calls, those of the tests too."""
    imported = len(sys.modules)
    if imported not in _REMEMBERING:  # looking for them takes longer than most tests do
        _REMEMBERING.clear()
        _REMEMBERING[imported] = [each for each in gc.get_objects() if isinstance(each, functools._lru_cache_wrapper)]
    for each in _REMEMBERING[imported]:
        each.cache_clear()


def watch_limits(seen: Callable[[str], None]) -> None:
    """Have every reading of a limit's value told from now on."""
    stored = Limit.value

    class Watched(Limit):
        __slots__ = ()

        @property
        def value(self) -> float:
            seen(self.name)
            return stored.__get__(self)

    for limit in LIMITS.values():
        object.__setattr__(limit, "__class__", Watched)


def _codes(code: CodeType) -> Iterator[CodeType]:
    for each in code.co_consts:
        if isinstance(each, CodeType):
            yield each
            yield from _codes(each)


def _give_code(file: str, code: CodeType) -> None:
    fresh: dict[tuple[str, int], list[CodeType]] = {}
    for each in _codes(code):
        fresh.setdefault((each.co_qualname, each.co_firstlineno), []).append(each)
    for function in gc.get_objects():
        if isinstance(function, FunctionType) and function.__code__.co_filename == file:
            alike = fresh.get((function.__code__.co_qualname, function.__code__.co_firstlineno), [])
            if len(alike) == 1:
                function.__code__ = alike[0]


def _give_values(module: ModuleType, code: CodeType) -> None:
    """What is worked out at import: plain values and defaults. Classes stay what they are, so that their instances do."""
    known = dict(RULES)
    RULES.clear()
    fresh = ModuleType(module.__name__)
    fresh.__dict__.update(__file__=module.__file__, __package__=module.__package__)
    try:
        exec(code, fresh.__dict__)
    finally:
        RULES.clear()
        RULES.update(known)
    for name, new in vars(fresh).items():
        old = vars(module).get(name)
        if name.startswith("__") or old is None:
            continue
        if isinstance(new, PLAIN) and new != old:
            for other in list(sys.modules.values()):
                if getattr(other, "__dict__", {}).get(name) is old:
                    setattr(other, name, new)
        elif isinstance(new, FunctionType) and isinstance(old, FunctionType):
            _give_defaults(old, new)
        elif isinstance(new, type) and isinstance(old, type):
            for made in ("__init__", "__new__"):
                _give_defaults(getattr(old, made), getattr(new, made))


def _give_defaults(old: object, new: object) -> None:
    if isinstance(old, FunctionType) and isinstance(new, FunctionType):
        old.__defaults__, old.__kwdefaults__ = new.__defaults__, new.__kwdefaults__
