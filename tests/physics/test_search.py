"""Fault hunting against coding theory and plans tried one by one."""

import heapq
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from boardwright.physics import search
from boardwright.physics.search import Split
from published import MEMORY, published

# Probabilities of two codes whose entropy and mean length are known.
HUFFMAN_PAPER = [0.20, 0.18, 0.10, 0.10, 0.10, 0.06, 0.06, 0.04, 0.04, 0.04, 0.04, 0.03, 0.01]
TEXTBOOK = [0.10, 0.15, 0.30, 0.16, 0.29]

weights = st.lists(st.integers(1, 20), min_size=1, max_size=8)


def huffman_length(probabilities):
    """Mean length of Huffman's code: the sum of all merged weights."""
    heap, length = list(probabilities), 0.0
    heapq.heapify(heap)
    while len(heap) > 1:
        merged = heapq.heappop(heap) + heapq.heappop(heap)
        length += merged
        heapq.heappush(heap, merged)
    return length


def equal_costs(parts):
    return [1] * (len(parts) - 1)


@pytest.mark.parametrize("probabilities, bits, length, source",
    [
        (HUFFMAN_PAPER, 3.355, 3.42, "Huffman, Proc. IRE 40 (1952), tables I and II, from memory"),
        (TEXTBOOK, 2.2047, 2.25, "a textbook example, from memory"),
    ],
)
def test_published_codes(probabilities, bits, length, source):
    what = f"{len(probabilities)} messages"
    assert search.entropy(probabilities) == published(bits, "bit", f"entropy of {what}", source, abs=5e-4, kind=MEMORY)
    assert huffman_length(probabilities) == approx(length)
    # In rising or falling order an alphabetic tree can do what Huffman's does (Knuth, TAOCP 3, 6.2.2).
    cost = search.half_split(sorted(probabilities), equal_costs(probabilities)).cost
    assert cost == published(length, "tests", f"mean number of tests to find one of {what}", source, kind=MEMORY)


@given(weights)
@settings(max_examples=100, deadline=None)
def test_bounds_of_coding_theory(parts):
    # Cover and Thomas, theorem 5.4.1: H <= Huffman < H + 1; Knuth, TAOCP 3, 6.2.2: alphabetic < H + 2.
    bits, least = search.entropy(parts), huffman_length(parts) / sum(parts)
    cost = search.half_split(parts, equal_costs(parts)).cost
    assert bits - 1e-9 <= least <= cost + 1e-9
    assert cost < bits + 2


@pytest.mark.parametrize("count, mean", [(5, 2.4), (6, 2.667), (10, 3.4), (12, 3.667), (16, 4), (100, 6.72)])
def test_equal_parts(count, mean):
    # k + 2 (n - 2^k) / n by hand; equals Huffman's code for equal weights.
    assert search.equal_split_tests(count) == approx(mean, abs=5e-4)
    assert huffman_length([1] * count) / count == approx(mean, abs=5e-4)
    assert search.half_split([1] * count, [1] * (count - 1)).cost == approx(search.equal_split_tests(count))


@pytest.mark.parametrize("count, mean", [(10, 5.4), (16, 8.4375)])
def test_one_by_one(count, mean):
    # (n - 1)(n + 2) / 2n by hand.
    assert search.one_by_one_cost([1] * count, [1] * (count - 1)) == approx(mean)


@pytest.mark.parametrize("count, tests", [(16, 4), (100, 7)])
def test_worst_case_of_halving(count, tests):
    # biologyinsights.com on half splitting: at most log2 n tests, rounded up.
    plan = search.half_split([1] * count, [1] * (count - 1)).first
    assert max(len(list(path_to(part, plan))) for part in range(count)) == tests


def test_twelve_parts():
    # Worked apart from this code: 3.70 minutes against 7.3 from the front; the first test falls after the sixth part.
    suspicion = [6, 1, 4, 2, 4, 2, 4, 2, 4, 2, 5, 4]
    minutes = [1, 2, 1, 1, 1, 1, 1, 1, 1, 1, 1]
    plan = search.half_split(suspicion, minutes)
    assert plan.cost == approx(3.70, abs=0.005)
    assert plan.first.after == 5
    assert search.one_by_one_cost(suspicion, minutes) == approx(7.3, abs=0.03)


def every_plan(low, high):
    """Every plan for parts low to high - 1."""
    if high - low == 1:
        yield low
    for cut in range(low, high - 1):
        for good in every_plan(cut + 1, high):
            for bad in every_plan(low, cut + 1):
                yield Split(cut, good, bad)


def path_to(part, plan):
    """The tests on the way to one part."""
    while isinstance(plan, Split):
        yield plan.after
        plan = plan.bad if part <= plan.after else plan.good
    assert plan == part


def cost_of(plan, parts, costs):
    return sum(w * sum(costs[cut] for cut in path_to(part, plan)) for part, w in enumerate(parts)) / sum(parts)


@given(st.lists(st.tuples(st.integers(0, 9), st.integers(0, 5)), min_size=1, max_size=6))
@settings(max_examples=60, deadline=None)
def test_no_plan_is_cheaper(pairs):
    parts, costs = [w for w, _ in pairs], [c for _, c in pairs][1:]
    if not any(parts):
        return
    plan = search.half_split(parts, costs)
    assert plan.cost == approx(cost_of(plan.first, parts, costs))
    assert plan.cost == approx(min(cost_of(every, parts, costs) for every in every_plan(0, len(parts))))


def ends_of(plan):
    """Every part that a plan can end at, in the order of the chain."""
    return [*ends_of(plan.bad), *ends_of(plan.good)] if isinstance(plan, Split) else [plan]


@given(weights)
@settings(max_examples=50, deadline=None)
def test_a_plan_ends_at_every_part_once(parts):
    assert ends_of(search.half_split(parts, equal_costs(parts)).first) == list(range(len(parts)))


def test_a_test_that_cannot_lie_clears_what_lies_ahead():
    # Bayes' theorem by hand.
    assert search.after_test([1, 1, 2, 4], 1, good=True) == approx([0, 0, 1 / 3, 2 / 3])
    assert search.after_test([1, 1, 2, 4], 1, good=False) == approx([1 / 2, 1 / 2, 0, 0])


def test_a_test_that_may_pass_falsely_only_lightens_suspicion():
    # Bayes' theorem by hand: a fault that comes and goes shows itself half the time.
    assert search.after_test([1, 1], 0, good=True, false_pass=0.5) == approx([1 / 3, 2 / 3])
    assert search.after_test([1, 1], 0, good=False, false_pass=0.5) == approx([1, 0])


@given(st.lists(st.floats(0.01, 10), min_size=2, max_size=6), st.integers(0, 5), st.floats(0, 1))
@settings(max_examples=50, deadline=None)
def test_answers_add_up_to_what_was_known(parts, part, false_pass):
    # Law of total probability: both answers, weighted by their chances, give the prior back.
    part %= len(parts)
    prior = [w / sum(parts) for w in parts]
    ahead = sum(prior[: part + 1])
    chances = {True: 1 - ahead + ahead * false_pass, False: ahead * (1 - false_pass)}
    mixed = [0.0] * len(parts)
    for good, chance in chances.items():
        if chance > 1e-12:
            mixed = [m + chance * p for m, p in zip(mixed, search.after_test(parts, part, good, false_pass), strict=True)]
    assert mixed == approx(prior, abs=1e-9)


def test_nothing_unknown():
    assert search.entropy([3]) == search.entropy([0, 5, 0]) == 0
    assert search.half_split([3], []) == (0, 0)
    assert search.entropy([1] * 8) == approx(math.log2(8))


@pytest.mark.parametrize(
    "call, words",
    [
        (lambda: search.half_split([], []), "at least one part"),
        (lambda: search.half_split([1, 1], []), "one cost"),
        (lambda: search.half_split([0, 0], [1]), "sum of the suspicions"),
        (lambda: search.half_split([1, -1], [1]), "suspicion"),
        (lambda: search.half_split([1, 1], [math.nan]), "cost"),
        (lambda: search.one_by_one_cost([1], [1]), "one cost"),
        (lambda: search.after_test([1, 1], 2, True), "part"),
        (lambda: search.after_test([1, 0], 0, True), "no suspect"),
        (lambda: search.after_test([1, 1], 0, False, false_pass=1), "no suspect"),
        (lambda: search.after_test([1, 1], 0, True, false_pass=2), "false pass"),
        (lambda: search.entropy([]), "at least one part"),
        (lambda: search.equal_split_tests(0), "whole number"),
    ],
)
def test_what_cannot_be_is_refused(call, words):
    with pytest.raises(ValueError, match=words):
        call()
