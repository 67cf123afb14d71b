"""The mutants of a source file, made by the operators of cosmic-ray.

Used are those that turn what a formula or a rule decides by: comparisons (each loses or gains its boundary, and is turned round),
signs and ``not``, sums, products and powers, ``and`` and ``or``, conditions, ``True`` and ``False``. Its steps of one are too blunt for a share
of 0.15, so a number goes by steps of ours; and it has no operator for ``in``, for ``min`` and ``max``, and for ``+=``, which
`operators.py` adds. Left out are those that would only make nonsense here (operators on bits, other variables, exceptions and decorators),
other comparisons for a comparison that is turned round already, and the numbers of places in lists (``found[0]``): nothing is held against them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from copy import deepcopy
from dataclasses import dataclass, replace

from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.operators.boolean_replacer import AddNot
from cosmic_ray.operators.operator import Operator
from cosmic_ray.plugins import get_operator
from parso.python import tree
from parso.tree import Leaf, NodeOrLeaf

from mutation.operators import NumberStep, WordReplacer

USED = {
    "Comparison": ("Lt_LtE", "Lt_GtE", "LtE_Lt", "LtE_Gt", "Gt_GtE", "Gt_LtE", "GtE_Gt", "GtE_Lt", "Eq_NotEq", "NotEq_Eq", "Is_IsNot", "IsNot_Is"),
    "Unary": ("USub_UAdd", "Delete_Not"),
    "Binary": ("Add_Sub", "Sub_Add", "Mul_Div", "Div_Mul", "Pow_Mul"),
}
OPERATORS: tuple[Operator, ...] = (
    *(get_operator(f"core/Replace{kind}Operator_{step}")() for kind, steps in USED.items() for step in steps),
    *(get_operator(f"core/Replace{words}")() for words in ("AndWithOr", "OrWithAnd", "TrueWithFalse", "FalseWithTrue")),
    AddNot(),
    NumberStep(),
    WordReplacer(),
)

TEXT = {"string", "strings", "fstring"}
STATEMENTS = {"simple_stmt", "suite", "file_input", "funcdef", "classdef", "if_stmt", "while_stmt", "for_stmt", "with_stmt", "try_stmt", "error_node"}
"""What a statement lies in; also what the head of one with a body lies in."""
HEADED = {"if_stmt", "while_stmt"}
"""Statements whose condition is their second part."""


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
    """Of the statement it is in; of one with a body, of that part of its head."""
    operator: Operator
    """What makes it …"""
    occurrence: int
    """… at which of the places that it finds in the file."""
    in_function: bool
    """Otherwise it is worked out while the file is being imported."""
    is_arithmetic: bool
    """It may then come upon what cannot be subtracted or divided, such as a list."""

    @property
    def name(self) -> str:
        """What it is listed by; stays the same while its expression does, whatever moves around it."""
        again = f" ({self.again + 1})" if self.again else ""
        return f"{self.file}: {self.where + ': ' if self.where else ''}{self.was} → {self.becomes}{again}"


def mutants(file: str, source: str) -> list[Mutant]:
    """All of a source's mutants, in the order of the text."""
    nodes = list(ast_nodes(get_ast(source)))
    found: list[tuple[int, Mutant]] = []
    for operator in OPERATORS:
        places = ((at, node, index) for at, node in enumerate(nodes) for index, _ in enumerate(operator.mutation_positions(node)))
        for occurrence, (at, node, index) in enumerate(places):
            if not _is_left_out(node, operator):
                found.append((at, _mutant(file, node, operator, occurrence, index)))
    found.sort(key=lambda each: each[0])
    alike: Counter[tuple[str, str, str]] = Counter()
    numbered = []
    for _, mutant in found:
        key = (mutant.where, mutant.was, mutant.becomes)
        numbered.append(replace(mutant, again=alike[key]))
        alike[key] += 1
    return numbered


def turned(source: str, mutant: Mutant) -> str:
    """The source with this one step turned."""
    return mutate_code(source, mutant.operator, mutant.occurrence)


def _mutant(file: str, node: NodeOrLeaf, operator: Operator, occurrence: int, index: int) -> Mutant:
    shown = _shown(node)
    copies = {id(shown.parent): None}
    copy = deepcopy(shown, copies)
    operator.mutate(copies[id(node)], index)
    around = list(_around(node.children[1] if node.type in HEADED else node))
    statement = next(child for outer, child in around if outer.type in STATEMENTS)
    return Mutant(
        file,
        where=".".join(outer.name.value for outer, _ in reversed(around) if outer.type in ("funcdef", "classdef")),
        was=_code(shown),
        becomes=_code(copy),
        again=0,
        lines=range(statement.start_pos[0], statement.end_pos[0] + 1),
        operator=operator,
        occurrence=occurrence,
        in_function=any(outer.type in ("funcdef", "lambdef") and child is outer.children[-1] for outer, child in around),
        is_arithmetic=isinstance(node, tree.Operator),
    )


def _shown(node: NodeOrLeaf) -> NodeOrLeaf:
    """The smallest expression around a step that tells a reader what becomes of what."""
    if not isinstance(node, Leaf) or node.type == "number" or node.value in ("True", "False"):
        return node
    return node.parent.parent if node.parent.type == "comp_op" else node.parent


def _code(node: NodeOrLeaf) -> str:
    children = node.children[:2] if node.type in HEADED else [node]
    return " ".join("".join(child.get_code() for child in children).split())


def _around(node: NodeOrLeaf) -> Iterator[tuple[NodeOrLeaf, NodeOrLeaf]]:
    """Everything that a node lies in, from the inside out, each with its child on the way there."""
    while node.parent is not None:
        yield node.parent, node
        node = node.parent


def _is_left_out(node: NodeOrLeaf, operator: Operator) -> bool:
    """What is no step in what is worked out, is refused by Python, or is the same as another step."""
    if isinstance(operator, AddNot) and (node.type == "assert_stmt" or node.children[2 if node.type == "test" else 1].type in ("comparison", "not_test")):
        return True
    is_arithmetic = node.parent is not None and node.parent.type in ("arith_expr", "term", "power", "expr_stmt")
    if isinstance(node, tree.Operator) and (not is_arithmetic or any(each.type in TEXT for each in node.parent.children)):
        return True
    return _is_place(node) or any(_is_no_step(outer, child) for outer, child in _around(node))


def _is_place(node: NodeOrLeaf) -> bool:
    """Whether it is the number of a place in a list, as in ``found[0]`` or ``found[-1]``."""
    number = node.parent if node.parent is not None and node.parent.type == "factor" else node
    return number.type in ("number", "factor") and number.parent.type == "trailer" and number.parent.children[0].value == "["


def _is_no_step(outer: NodeOrLeaf, child: NodeOrLeaf) -> bool:
    """Formats, decorators, annotations, and assertions, which decide nothing."""
    match outer.type:
        case "fstring_format_spec" | "decorator" | "assert_stmt":
            return True
        case "tfpdef":
            return child is not outer.children[0]
        case "annassign":
            return child is outer.children[1]
        case "funcdef":
            return child is not outer.children[-1] and child.type != "parameters"
    return False
