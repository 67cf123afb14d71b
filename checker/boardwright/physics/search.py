"""Hunting a fault along a chain: where to listen next."""

import math
from collections.abc import Sequence
from typing import NamedTuple

from ._inputs import not_negative, positive, whole, within


class Split(NamedTuple):
    """One test of a plan: listen after a part of the chain.

    Attributes:
        after: number of the part to listen after, the first part being 0.
        good: what to do if it sounds good there: the next test, or the number of the guilty part.
        bad: what to do if it does not.
    """

    after: int
    good: "Split | int"
    bad: "Split | int"


class Plan(NamedTuple):
    """A plan of tests that finds the guilty part.

    Attributes:
        cost: expected cost of all tests, in the unit the costs were given in.
        first: the first test, or the number of the guilty part where there is but one.
    """

    cost: float
    first: Split | int


def half_split(suspicions: Sequence[float], costs: Sequence[float]) -> Plan:
    """Cheapest plan to find the one bad part of a chain by listening between parts.

    The time it takes grows with the cube of the number of parts.

    Args:
        suspicions: how likely each part is to be the bad one, in the order of the chain; any scale [1].
        costs: cost of listening after each part but the last, in any one unit.

    Returns:
        The plan (cost in the unit given).

    Raises:
        ValueError: no part, a value below zero, no suspicion at all, or not one cost fewer than parts.

    Source:
        Optimal alphabetic tree by dynamic programming, as tests on a chain can only cut it in two runs: Knuth, The Art
        of Computer Programming, vol. 3, section 6.2.2.
    """
    total = _checked(suspicions, costs)
    count = len(suspicions)
    before = [0.0]
    for suspicion in suspicions:
        before.append(before[-1] + suspicion)
    cheapest = [[0.0] * (count + 1) for _ in range(count + 1)]  # for parts i to j - 1
    cut = [[0] * (count + 1) for _ in range(count + 1)]
    for width in range(2, count + 1):
        for i in range(count - width + 1):
            j = i + width
            weight = before[j] - before[i]
            cheapest[i][j], cut[i][j] = min((costs[k] * weight + cheapest[i][k + 1] + cheapest[k + 1][j], k) for k in range(i, j - 1))

    def step(i: int, j: int) -> Split | int:
        if j - i == 1:
            return i
        k = cut[i][j]
        return Split(k, good=step(k + 1, j), bad=step(i, k + 1))

    return Plan(cheapest[0][count] / total, step(0, count))


def one_by_one_cost(suspicions: Sequence[float], costs: Sequence[float]) -> float:
    """Expected cost of finding the one bad part by listening after each in turn, from the front.

    Args:
        suspicions: how likely each part is to be the bad one, in the order of the chain; any scale [1].
        costs: cost of listening after each part but the last, in any one unit.

    Returns:
        Expected cost, in the unit of the costs.

    Raises:
        ValueError: as half_split().

    Source:
        Expected value; the last part needs no test of its own.
    """
    total = _checked(suspicions, costs)
    spent = expected = 0.0
    for suspicion, cost in zip(suspicions, (*costs, 0.0), strict=True):
        spent += cost
        expected += suspicion * spent
    return expected / total


def after_test(suspicions: Sequence[float], part: int, good: bool, false_pass: float = 0.0) -> list[float]:
    """Suspicions after a test has answered.

    Args:
        suspicions: how likely each part is to be the bad one, in the order of the chain; any scale [1].
        part: number of the part that was listened after, the first part being 0 [1].
        good: whether it sounded good there.
        false_pass: chance that it sounds good although a part ahead is bad, as with a fault that comes and goes [1].

    Returns:
        Suspicions, adding up to 1 [1].

    Raises:
        ValueError: a value below zero, a part that does not exist, a chance above 1, or an answer that cannot be.

    Source:
        Bayes' theorem.
    """
    _checked(suspicions, suspicions[1:])
    whole(0, len(suspicions) - 1, part=part)
    within(0, 1, false_pass=false_pass)
    ahead, behind = (false_pass, 1.0) if good else (1 - false_pass, 0.0)
    left = [s * (ahead if number <= part else behind) for number, s in enumerate(suspicions)]
    total = math.fsum(left)
    if total == 0:
        raise ValueError("no suspect is left: this answer contradicts what was known before")
    return [suspicion / total for suspicion in left]


def entropy(suspicions: Sequence[float]) -> float:
    """How much is still unknown: no plan of yes-or-no tests can do with fewer tests than this, on average.

    Args:
        suspicions: how likely each part is to be the bad one; any scale [1].

    Returns:
        Entropy [bit].

    Raises:
        ValueError: no part, a value below zero, or no suspicion at all.

    Source:
        Shannon (1948), -sum p log2 p.
    """
    total = _checked(suspicions, suspicions[1:])
    shares = [suspicion / total for suspicion in suspicions]
    return max(0.0, -math.fsum(share * math.log2(share) for share in shares if share))


def equal_split_tests(count: int) -> float:
    """Mean number of tests by halving, where all parts are equally likely to be bad.

    Args:
        count: number of parts [1].

    Returns:
        Mean number of tests [1].

    Raises:
        ValueError: count is not a whole number from 1.

    Source:
        External path length of a balanced binary tree, k + 2 (n - 2^k) / n with k = floor(log2 n); Knuth, The Art of
        Computer Programming, vol. 3, section 6.2.1.
    """
    whole(1, 10**9, count=count)
    full = count.bit_length() - 1
    return full + 2 * (count - 2**full) / count


def _checked(suspicions: Sequence[float], costs: Sequence[float]) -> float:
    """Sum of the suspicions."""
    if not suspicions:
        raise ValueError("a chain needs at least one part")
    if len(costs) != len(suspicions) - 1:
        raise ValueError("give one cost for each place between two parts")
    for suspicion in suspicions:
        not_negative(suspicion=suspicion)
    for cost in costs:
        not_negative(cost=cost)
    total = math.fsum(suspicions)
    positive(sum_of_the_suspicions=total)
    return total
