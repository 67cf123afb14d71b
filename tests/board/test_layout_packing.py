"""Cutting stock: never worse than first-fit decreasing, and the optimum on small lists, found by trying everything."""

from __future__ import annotations

import random
from itertools import product

import pytest

from boardwright.board.layout.packing import pack


def _first_fit_decreasing(cuts, length):
    """How many new lengths the textbook's rule takes."""
    rooms = []
    for cut in sorted(cuts, reverse=True):
        for number, room in enumerate(rooms):
            if room >= cut:
                rooms[number] -= cut
                break
        else:
            rooms.append(length - cut)
    return len(rooms)


def _best(cuts, length):
    """Every way to share the cuts out, the fewest lengths first."""
    for count in range(1, len(cuts) + 1):
        for places in product(range(count), repeat=len(cuts)):
            sums = [0] * count
            for cut, place in zip(cuts, places, strict=True):
                sums[place] += cut
            if max(sums) <= length:
                return count
    raise AssertionError


def _check(cuts, reels, found, sold=None):
    """Every cut once, no piece overdrawn."""
    done = sorted([number for piece in found.pieces for number in piece.cuts] + found.left)
    assert done == list(range(len(cuts)))
    for piece in found.pieces:
        assert sum(cuts[number] for number in piece.cuts) <= piece.length + 1e-9
    kept = sorted(piece.length for piece in found.pieces if not piece.bought)
    for length in kept:
        assert any(abs(length - reel) < 1e-3 for reel in reels)
    assert all(piece.length == pytest.approx(sold) for piece in found.pieces if piece.bought)


def test_small_lists_are_cut_in_the_best_way():
    rng = random.Random(1)
    for _ in range(300):
        cuts = [rng.randint(10, 60) / 100 for _ in range(rng.randint(1, 6))]
        found = pack(cuts, [], 1.0)
        _check(cuts, [], found, 1.0)
        assert found.is_best and found.bought == _best([round(cut * 100) for cut in cuts], 100)


def test_never_worse_than_first_fit_decreasing():
    rng = random.Random(2)
    for _ in range(150):
        cuts = [rng.randint(150, 950) / 1000 for _ in range(rng.randint(1, 70))]
        found = pack(cuts, [], 2.0)
        _check(cuts, [], found, 2.0)
        assert found.bought <= _first_fit_decreasing([round(cut * 1000) for cut in cuts], 2000)
        assert found.bought >= sum(cuts) / 2.0 - 1e-9


def test_better_than_first_fit_where_that_fails():
    # 49 + 30 + 21 and 42 + 35 + 23 fill two lengths exactly; first-fit decreasing lays 49 with 42, and needs a third.
    cuts = [0.21, 0.49, 0.30, 0.35, 0.23, 0.42]
    assert _first_fit_decreasing([round(cut * 100) for cut in cuts], 100) == 3
    assert pack(cuts, [], 1.0).bought == 2


def test_reels_at_hand_come_first():
    found = pack([0.6, 0.6, 0.6], [1.2], 2.0)
    assert found.bought == 1 and not found.left
    assert pack([0.6, 0.6], [1.2], 2.0).bought == 0


def test_what_fits_nowhere_is_said():
    found = pack([0.6, 0.7, 0.2], [0.65, 0.25], None)
    assert found.left == [1] and found.bought == 0


def test_reels_of_several_lengths_hold_what_can_be_held():
    """Against trying everything: the least total length left over."""
    rng = random.Random(3)
    for _ in range(150):
        cuts = [rng.randint(10, 50) / 100 for _ in range(rng.randint(1, 5))]
        reels = [rng.randint(20, 90) / 100 for _ in range(2)]
        found = pack(cuts, reels, None)
        _check(cuts, reels, found)
        sizes, rooms = [round(cut * 100) for cut in cuts], [round(reel * 100) for reel in sorted(reels)]
        least = min(
            sum(size for size, place in zip(sizes, places, strict=True) if place == 2)
            for places in product(range(3), repeat=len(cuts))
            if all(sum(size for size, place in zip(sizes, places, strict=True) if place == each) <= rooms[each] for each in (0, 1))
        )
        assert sum(sizes[number] for number in found.left) == least


def test_a_very_long_list_is_still_cut():
    rng = random.Random(4)
    cuts = [rng.randint(150, 950) / 1000 for _ in range(2000)]
    found = pack(cuts, [], 10.0)
    _check(cuts, [], found, 10.0)
    assert found.bought <= _first_fit_decreasing([round(cut * 1000) for cut in cuts], 10_000)
