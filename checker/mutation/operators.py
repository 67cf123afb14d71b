"""Operators of our own for cosmic-ray: steps of numbers, and words that it has no operator for."""

from __future__ import annotations

from ast import literal_eval
from collections.abc import Iterator

from cosmic_ray.operators.number_replacer import NumberReplacer
from cosmic_ray.operators.operator import Example, Operator
from parso.tree import Leaf, NodeOrLeaf

WORDS = {"in": "not in", "not": "", "min": "max", "max": "min", "+=": "-=", "-=": "+=", "*=": "/=", "/=": "*="}
ALLOWANCE = 1e-6
"""A number up to this one allows for rounding; a tenth of it changes nothing, so it becomes a thousand times as much."""


def others(value: float) -> tuple[float, ...]:
    """Numbers near enough to be mistaken for this one: a tenth more and less; of a whole number one more and one less."""
    return (value + 1, value - 1) if isinstance(value, int) or not value else (value * 1.1, value * 0.9)


class NumberStep(NumberReplacer):
    """Takes a number to each of its `others`, and one that allows for rounding far off."""

    def mutation_positions(self, node: NodeOrLeaf) -> Iterator[tuple]:
        if node.type == "number":
            yield from [(node.start_pos, node.end_pos)] * len(self._others(node))

    def mutate(self, node: Leaf, index: int) -> Leaf:
        node.value = repr(self._others(node)[index])
        return node

    @staticmethod
    def _others(node: Leaf) -> tuple[float, ...]:
        value = literal_eval(node.value)
        return (value * 1000,) if 0 < abs(value) <= ALLOWANCE else others(value)

    @classmethod
    def examples(cls) -> tuple[Example, ...]:
        return (
            Example("x = 3", "x = 4"),
            Example("x = 3", "x = 2", occurrence=1),
            Example("x = 0.5", "x = 0.55"),
            Example("x = 0.5", "x = 0.45", occurrence=1),
            Example("x = 0.0", "x = 1.0"),
            Example("x = 1e-06", "x = 0.001"),
        )


class WordReplacer(Operator):
    """Replaces ``in`` and ``not in``, ``min`` and ``max``, and signs of ``+=`` and its like with their opposites."""

    def mutation_positions(self, node: NodeOrLeaf) -> Iterator[tuple]:
        if _has_opposite(node):
            yield node.start_pos, node.end_pos

    def mutate(self, node: Leaf, index: int) -> Leaf:
        node.value = WORDS[node.value]
        return node

    @classmethod
    def examples(cls) -> tuple[Example, ...]:
        return (
            Example("x in y", "x not in y"),
            Example("x not in y", "x  in y"),
            Example("min(x, y)", "max(x, y)"),
            Example("x.max(max(y))", "x.max(min(y))"),
            Example("x += y", "x -= y"),
        )


def _has_opposite(node: NodeOrLeaf) -> bool:
    if not isinstance(node, Leaf) or node.value not in WORDS:
        return False
    match node.type, node.value:
        case "keyword", "in":
            return node.parent.type == "comparison"
        case "keyword", _:  # the first of "not in", and neither "not x" nor "is not"
            return node.parent.type == "comp_op" and node.parent.children[0] is node
        case "name", _:
            return node.parent.type == "atom_expr" and node.parent.children[0] is node
    return node.type == "operator"
