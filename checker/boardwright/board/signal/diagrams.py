"""Sets of switch states as reduced ordered decision diagrams.

A diagram is a number: 0 holds in no state, 1 in every state, and any other number stands for "look at this switch, then
go on here or there". Equal sets have equal numbers, so comparing two sets is comparing two numbers. Nothing here recurses:
a board of two thousand switches is as deep as it is long.

Source: R. E. Bryant, "Graph-based algorithms for Boolean function manipulation", IEEE Transactions on Computers C-35,
1986; the algorithms are textbook matter since then.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager

from boardwright import limits

NEVER, ALWAYS = 0, 1
Diagram = int
Literal = tuple[int, bool]
"""A switch (by its level, see ``Diagrams``) and the position it is in."""


class TooManyStates(Exception):
    """The sets got too big to be decided in a time that a person would wait."""

    of = "combinations of switches"
    """What there is too much of, in words."""


class TooManyWays(TooManyStates):
    """One sound takes more ways than can be compared in that time, whatever is switched."""

    of = "ways for one sound"


class Diagrams:
    """All diagrams over one set of switches. A switch is its level: 0 is looked at first.

    Args:
        most: how many nodes there may be, all diagrams together. Beyond it, ``TooManyStates`` is raised.
    """

    def __init__(self, most: int | None = None) -> None:
        deepest = 1 << 60
        self.most = int(limits.STATE_NODES.value) if most is None else most
        self._level = [deepest, deepest]
        self._off = [0, 1]
        self._on = [0, 1]
        self._made: dict[tuple[int, int, int], Diagram] = {}
        self._and: dict[tuple[Diagram, Diagram], Diagram] = {}
        self._or: dict[tuple[Diagram, Diagram], Diagram] = {}
        self._not: dict[Diagram, Diagram] = {NEVER: ALWAYS, ALWAYS: NEVER}

    def __len__(self) -> int:
        return len(self._level)

    @contextmanager
    def attempt(self) -> Iterator[None]:
        """Work that may turn out to be too much: then all of its diagrams are thrown away, so that there is room for other work.

        Nothing that is worked out inside may be kept if ``TooManyStates`` comes out.
        """
        before = len(self._level)
        try:
            yield
        except TooManyStates:
            del self._level[before:], self._off[before:], self._on[before:]
            self._made = {key: made for key, made in self._made.items() if made < before}
            self._and.clear()
            self._or.clear()
            self._not = {NEVER: ALWAYS, ALWAYS: NEVER}
            raise

    def node(self, level: int, off: Diagram, on: Diagram) -> Diagram:
        """The set that is ``off`` where the switch at ``level`` is off and ``on`` where it is on."""
        if off == on:
            return off
        key = (level, off, on)
        found = self._made.get(key)
        if found is None:
            if len(self._level) >= self.most:
                raise TooManyStates
            found = self._made[key] = len(self._level)
            self._level.append(level)
            self._off.append(off)
            self._on.append(on)
        return found

    def literal(self, level: int, is_on: bool = True) -> Diagram:
        """All states with one switch in a position."""
        return self.node(level, NEVER, ALWAYS) if is_on else self.node(level, ALWAYS, NEVER)

    def cube(self, literals: Iterable[Literal]) -> Diagram:
        """All states that agree with these positions; never, where two of them disagree."""
        wanted: dict[int, bool] = {}
        for level, is_on in literals:
            if wanted.setdefault(level, is_on) is not is_on:
                return NEVER
        found = ALWAYS
        for level in sorted(wanted, reverse=True):
            found = self.node(level, NEVER, found) if wanted[level] else self.node(level, found, NEVER)
        return found

    def exactly_one(self, levels: Iterable[int]) -> Diagram:
        """All states in which exactly one of these switches is on."""
        none_yet, one_already = NEVER, ALWAYS
        for level in sorted(levels, reverse=True):
            none_yet, one_already = self.node(level, none_yet, one_already), self.node(level, one_already, NEVER)
        return none_yet

    def at_most(self, most: int, levels: Iterable[int]) -> Diagram:
        """All states in which no more than ``most`` of these switches are on."""
        rows = [ALWAYS] * (most + 1)
        for level in sorted(levels, reverse=True):
            rows = [self.node(level, row, rows[left - 1] if left else NEVER) for left, row in enumerate(rows)]
        return rows[most]

    def both(self, a: Diagram, b: Diagram) -> Diagram:
        """States that are in ``a`` and in ``b``."""
        if a == b or b == ALWAYS:
            return a
        if a == ALWAYS:
            return b
        if a == NEVER or b == NEVER:
            return NEVER
        found = self._and.get((a, b) if a < b else (b, a))
        return self._apply(self._and, NEVER, ALWAYS, a, b) if found is None else found

    def either(self, a: Diagram, b: Diagram) -> Diagram:
        """States that are in ``a`` or in ``b``."""
        if a == b or b == NEVER:
            return a
        if a == NEVER:
            return b
        if a == ALWAYS or b == ALWAYS:
            return ALWAYS
        found = self._or.get((a, b) if a < b else (b, a))
        return self._apply(self._or, ALWAYS, NEVER, a, b) if found is None else found

    def all_of(self, diagrams: Iterable[Diagram]) -> Diagram:
        found = ALWAYS
        for each in diagrams:
            found = self.both(found, each)
        return found

    def any_of(self, diagrams: Iterable[Diagram]) -> Diagram:
        found = NEVER
        for each in diagrams:
            found = self.either(found, each)
        return found

    def without(self, a: Diagram, b: Diagram) -> Diagram:
        """States that are in ``a`` and not in ``b``."""
        return self.both(a, self.not_(b))

    def _apply(self, memo: dict[tuple[int, int], int], rules: int, yields: int, a: Diagram, b: Diagram) -> Diagram:
        """And / or, of two that are not answered yet.

        ``rules`` is the operand that decides the outcome by itself, ``yields`` the one that leaves it to the other.
        """
        level, off, on = self._level, self._off, self._on

        def plain(a: Diagram, b: Diagram) -> Diagram | None:
            if a == rules or b == rules:
                return rules
            if a in (yields, b):
                return b
            if b == yields:
                return a
            return memo.get((a, b) if a < b else (b, a))

        stack = [wanted := (a, b) if a < b else (b, a)]
        while stack:
            pair = stack[-1]
            if pair in memo:
                stack.pop()
                continue
            a, b = pair
            top = min(level[a], level[b])
            a_off, a_on = (off[a], on[a]) if level[a] == top else (a, a)
            b_off, b_on = (off[b], on[b]) if level[b] == top else (b, b)
            low, high = plain(a_off, b_off), plain(a_on, b_on)
            if low is None:
                stack.append((a_off, b_off) if a_off < b_off else (b_off, a_off))
            if high is None:
                stack.append((a_on, b_on) if a_on < b_on else (b_on, a_on))
            if low is not None and high is not None:
                memo[pair] = self.node(top, low, high)
                stack.pop()
                if len(memo) > 8 * self.most:
                    raise TooManyStates
        return memo[wanted]

    def not_(self, a: Diagram) -> Diagram:
        """States that are not in ``a``."""
        memo = self._not
        stack = [a]
        while stack:
            here = stack[-1]
            if here in memo:
                stack.pop()
                continue
            low, high = self._off[here], self._on[here]
            missing = [each for each in (low, high) if each not in memo]
            if missing:
                stack += missing
                continue
            memo[here] = flipped = self.node(self._level[here], memo[low], memo[high])
            memo[flipped] = here
            stack.pop()
        return memo[a]

    def below(self, a: Diagram) -> list[Diagram]:
        """Every node of a diagram, ends apart, each after those below it."""
        order: list[Diagram] = []
        seen: set[Diagram] = set()
        stack = [(a, False)]
        while stack:
            here, done = stack.pop()
            if done:
                order.append(here)
            elif here > 1 and here not in seen:
                seen.add(here)
                stack += [(here, True), (self._on[here], False), (self._off[here], False)]
        return order

    def fix(self, a: Diagram, positions: Mapping[int, bool]) -> Diagram:
        """What is left to decide of ``a`` when some switches are known."""
        done = {NEVER: NEVER, ALWAYS: ALWAYS}
        for here in self.below(a):
            level, low, high = self._level[here], done[self._off[here]], done[self._on[here]]
            known = positions.get(level)
            done[here] = self.node(level, low, high) if known is None else high if known else low
        return done[a]

    def holds(self, a: Diagram, positions: Mapping[int, bool]) -> bool:
        """Whether a state is in ``a``. Switches that are not given are off."""
        while a > 1:
            a = self._on[a] if positions.get(self._level[a], False) else self._off[a]
        return a == ALWAYS

    def witness(self, a: Diagram, effort: Mapping[int, tuple[int, int]] | None = None) -> dict[int, bool] | None:
        """The state in ``a`` that takes the least effort to set up; switches not named in it may stand anywhere.

        Args:
            effort: what it costs to have a switch off, and to have it on. By default nothing, and one.

        Returns:
            Positions by level; ``None`` if no state is in ``a``.
        """
        if a == NEVER:
            return None
        effort = effort or {}
        beyond = 1 << 60
        cost = {NEVER: beyond, ALWAYS: 0}
        for here in self.below(a):
            off, on = effort.get(self._level[here], (0, 1))
            cost[here] = min(cost[self._off[here]] + off, cost[self._on[here]] + on)
        state: dict[int, bool] = {}
        while a > 1:
            level = self._level[a]
            off, on = effort.get(level, (0, 1))
            state[level] = cost[self._on[a]] + on < cost[self._off[a]] + off
            a = self._on[a] if state[level] else self._off[a]
        return state

    def switches_of(self, a: Diagram) -> set[int]:
        """The levels of the switches that ``a`` depends on."""
        return {self._level[here] for here in self.below(a)}
