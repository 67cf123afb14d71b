"""The mutants of a source file: every comparison, sign, number, sum, product, least and greatest in it, each turned once."""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

TURNED: dict[type[ast.AST], tuple[type[ast.AST], ...]] = {
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
    ast.Add: (ast.Sub,),
    ast.Sub: (ast.Add,),
    ast.Mult: (ast.Div,),
    ast.Div: (ast.Mult,),
}
"""What each operator becomes: a comparison loses or gains its boundary, and is turned round."""
OTHER = {"min": "max", "max": "min"}
ALLOWANCE = 1e-6
"""A number up to this one allows for rounding; a tenth more of it changes nothing, so it becomes a thousand times as much."""


@dataclass(frozen=True)
class Mutant:
    """One wrong step: where it is, and what is to be there instead."""

    file: str
    """Path below the package."""
    where: str
    """Name of the function or class, or nothing for what stands outside of them."""
    was: str
    becomes: str
    again: int
    """How many like it come before it in the same place: usually none."""
    lines: range
    """Of the statement it is in."""
    step: int
    """Its number in the file's walk, by which `turned` finds it again."""
    in_function: bool
    """Otherwise it is worked out while the file is being imported."""

    @property
    def name(self) -> str:
        """What it is listed by; stays the same while its statement does, whatever moves around it."""
        again = f" ({self.again + 1})" if self.again else ""
        return f"{self.file}: {self.where + ': ' if self.where else ''}{self.was} → {self.becomes}{again}"


@dataclass
class _Place:
    where: tuple[str, ...] = ()
    lines: range = range(0)
    in_function: bool = False


class _Walk:
    """Goes through a tree in order and turns the step with the number that is asked for."""

    def __init__(self, file: str, turn: int | None = None):
        self.file, self.turn = file, turn
        self.found: list[Mutant] = []
        self._alike: Counter[tuple[str, str, str]] = Counter()

    def visit(self, node: ast.AST, place: _Place) -> None:
        if isinstance(node, ast.stmt):
            place = _Place(place.where, _lines(node), place.in_function)
        self._turn(node, place)
        if isinstance(node, (ast.FunctionDef, ast.ClassDef, ast.Lambda)):
            self._definition(node, place)
            return
        for field, value in ast.iter_fields(node):
            if field in ("annotation", "format_spec"):
                continue
            for each in value if isinstance(value, list) else [value]:
                if isinstance(each, ast.AST):
                    self.visit(each, place)

    def _definition(self, node: ast.FunctionDef | ast.ClassDef | ast.Lambda, place: _Place) -> None:
        """Defaults and decorators are worked out outside of what they belong to."""
        name = getattr(node, "name", "lambda")
        inside = _Place((*place.where, name), place.lines, place.in_function or not isinstance(node, ast.ClassDef))
        outside = [*getattr(node, "decorator_list", []), *getattr(node, "bases", []), *([] if isinstance(node, ast.ClassDef) else [node.args])]
        for each in outside:
            self.visit(each, _Place((*place.where, name), place.lines, place.in_function))
        for each in node.body if isinstance(node.body, list) else [node.body]:
            self.visit(each, inside)

    def _turn(self, node: ast.AST, place: _Place) -> None:
        for apply in self._turns(node):
            step = len(self.found)
            was = ast.unparse(node)
            undo = apply()
            becomes = ast.unparse(node)
            if step != self.turn:
                undo()
            key = (".".join(place.where), was, becomes)
            self.found.append(Mutant(self.file, key[0], was, becomes, self._alike[key], place.lines, step, place.in_function))
            self._alike[key] += 1

    def _turns(self, node: ast.AST) -> Iterator:
        match node:
            case ast.Compare(ops=ops):
                for at, op in enumerate(ops):
                    for new in TURNED.get(type(op), ()):
                        yield lambda at=at, new=new: _put(ops, at, new())
            case ast.BinOp(op=op) if type(op) in TURNED and not _joins(node):
                yield lambda: _set(node, "op", TURNED[type(op)][0]())
            case ast.AugAssign(op=op) if type(op) in TURNED and not _is_text(node.value):
                yield lambda: _set(node, "op", TURNED[type(op)][0]())
            case ast.UnaryOp(op=ast.USub()):
                yield lambda: _set(node, "op", ast.UAdd())
            case ast.Call(func=ast.Name(id=name)) if name in OTHER:
                yield lambda: _set(node.func, "id", OTHER[name])
            case ast.Constant(value=value) if isinstance(value, (int, float)) and not isinstance(value, bool):
                yield lambda: _set(node, "value", other_number(value))


def other_number(value: float) -> float:
    """A number near enough to be mistaken for this one."""
    if isinstance(value, int):
        return value + 1
    if not value:
        return 1.0
    return value * (1000 if abs(value) <= ALLOWANCE else 1.1)


def _set(node: ast.AST, field: str, new: object):
    old = getattr(node, field)
    setattr(node, field, new)
    return lambda: setattr(node, field, old)


def _put(items: list, at: int, new: object):
    old = items[at]
    items[at] = new
    return lambda: items.__setitem__(at, old)


def _is_text(node: ast.AST) -> bool:
    """Text and lists can be added, and never subtracted."""
    return isinstance(node, (ast.JoinedStr, ast.List, ast.ListComp, ast.Tuple)) or (isinstance(node, ast.Constant) and isinstance(node.value, str))


def _joins(node: ast.BinOp) -> bool:
    return any(_is_text(side) or (isinstance(side, ast.BinOp) and isinstance(side.op, ast.Add) and _joins(side)) for side in (node.left, node.right))


def _lines(node: ast.stmt) -> range:
    """Of a statement with a body only its head."""
    body = getattr(node, "body", None)
    if body and isinstance(node, (ast.FunctionDef, ast.ClassDef)):
        return range(node.lineno, node.lineno + 1)
    last = body[0].lineno - 1 if body else node.end_lineno
    return range(node.lineno, max(last, node.lineno) + 1)


def mutants(file: str, source: str) -> list[Mutant]:
    """All of a source's mutants, in the order of the text."""
    walk = _Walk(file)
    walk.visit(ast.parse(source), _Place())
    return walk.found


def turned(source: str, mutant: Mutant) -> ast.Module:
    """The source's tree with this one step turned."""
    tree = ast.parse(source)
    _Walk(mutant.file, mutant.step).visit(tree, _Place())
    return tree
