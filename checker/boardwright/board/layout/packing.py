"""Cutting leads from lengths of cable so that little is left over: one-dimensional cutting stock."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

BUDGET = 5_000
"""Steps that the search may take before it settles for the best found. Small lists are solved to the optimum within it."""
DEEPEST = 300
"""A longer list is not searched (the search goes one step down for each lead)."""


@dataclass(slots=True)
class Piece:
    """One length of cable and the leads cut from it, by their number in the list. Lengths in metres."""

    length: float
    bought: bool
    cuts: list[int] = field(default_factory=list)
    used: float = 0.0

    @property
    def left(self) -> float:
        return self.length - self.used


@dataclass(slots=True)
class Packing:
    """Which lead is cut from which length. ``left``: leads that fit on none."""

    pieces: list[Piece]
    left: list[int]
    is_best: bool
    """Whether no better one exists, as far as the number of bought lengths and of leads left out goes."""

    @property
    def bought(self) -> int:
        return sum(1 for piece in self.pieces if piece.bought)


def pack(cuts: Sequence[float], reels: Sequence[float], sold_by: float | None) -> Packing:
    """Cut leads from the reels at hand, and the rest from as few new lengths as possible.

    Args:
        cuts: lengths to cut (m).
        reels: lengths at hand (m).
        sold_by: the length that more is bought in (m); ``None``: nothing is bought, and what does not fit is left.

    Returns:
        A packing that is never worse than first-fit decreasing, and the best one where the search came to its end.

    Source: branch and bound over first-fit decreasing; the bound is the total length (Martello and Toth, Knapsack
    Problems, 1990, chapter 8).
    """
    # In whole tenths of a millimetre, rounded against us, so that sums are exact.
    sizes = [math.ceil(cut * 10_000 - 1e-6) for cut in cuts]
    bins = [int(reel * 10_000 + 1e-6) for reel in reels]
    new = int(sold_by * 10_000 + 1e-6) if sold_by is not None else None
    order = sorted(range(len(sizes)), key=lambda number: -sizes[number])
    search = _Search([sizes[number] for number in order], sorted(bins), new)
    places, is_best = search.solve()
    pieces = [Piece(length / 10_000, False) for length in sorted(bins)]
    pieces += [Piece((new or 0) / 10_000, True) for _ in range(max([place - len(bins) + 1 for place in places if place is not None], default=0))]
    left = []
    for number, place in zip(order, places, strict=True):
        if place is None:
            left.append(number)
        else:
            pieces[place].cuts.append(number)
            pieces[place].used += sizes[number] / 10_000
    return Packing([piece for piece in pieces if piece.cuts], sorted(left), is_best)


class _Search:
    """Depth first, the longest lead first, each into the fullest length that takes it."""

    def __init__(self, sizes: list[int], reels: list[int], new: int | None) -> None:
        self.sizes, self.reels, self.new = sizes, reels, new
        self.rest = [0] * (len(sizes) + 1)
        for number in range(len(sizes) - 1, -1, -1):
            self.rest[number] = self.rest[number + 1] + sizes[number]
        self.steps = 0

    def solve(self) -> tuple[list[int | None], bool]:
        self.best = min((self._greedy(fullest) for fullest in (False, True)), key=self._price)
        self.price = self._price(self.best)
        floor = self._floor(0, list(self.reels), 0, 0)
        if self.price <= floor:
            return self.best, True
        if len(self.sizes) > DEEPEST:
            return self.best, False
        self._branch(0, list(self.reels), [], 0)
        return self.best, self.steps <= BUDGET

    def _price(self, places: list[int | None]) -> tuple[int, int]:
        """Leads that fit nowhere, by their total length; then lengths bought."""
        left = sum(size for size, place in zip(self.sizes, places, strict=True) if place is None)
        used = {place for place in places if place is not None and place >= len(self.reels)}
        return left, len(used)

    def _greedy(self, fullest: bool) -> list[int | None]:
        """First-fit decreasing, or into the fullest length that takes it."""
        rooms, places = list(self.reels), []
        for size in self.sizes:
            fits = [number for number, room in enumerate(rooms) if room >= size]
            if not fits and self.new is not None and self.new >= size:
                rooms.append(self.new)
                fits = [len(rooms) - 1]
            place = None if not fits else min(fits, key=lambda number: rooms[number]) if fullest else fits[0]
            if place is not None:
                rooms[place] -= size
            places.append(place)
        return places

    def _floor(self, number: int, rooms: list[int], left: int, bought: int) -> tuple[int, int]:
        """No packing that begins like this is better."""
        least = self.sizes[-1] if self.sizes else 0
        rest = self.rest[number] - sum(room for room in rooms if room >= least)
        if self.new is None:
            return left + max(0, rest), bought
        return left, bought + max(0, -(-rest // self.new))

    def _branch(self, number: int, rooms: list[int], places: list[int | None], left: int) -> None:
        self.steps += 1
        bought = len(rooms) - len(self.reels)
        if self.steps > BUDGET or self._floor(number, rooms, left, bought) >= self.price:
            return
        if number == len(self.sizes):
            self.best, self.price = list(places), (left, bought)
            return
        size = self.sizes[number]
        tried: set[int] = set()
        for place in sorted((n for n, room in enumerate(rooms) if room >= size), key=lambda n: rooms[n]):
            if rooms[place] in tried:
                continue  # another length with the same room
            tried.add(rooms[place])
            rooms[place] -= size
            self._branch(number + 1, rooms, [*places, place], left)
            rooms[place] += size
        if self.new is not None and self.new >= size:
            if self.new not in tried:
                self._branch(number + 1, [*rooms, self.new - size], [*places, len(rooms)], left)
        else:
            self._branch(number + 1, rooms, [*places, None], left + size)
