"""All mutants there are, and a draw from them."""

from __future__ import annotations

import random
from collections.abc import Sequence
from functools import cache

from boardwright.limits import LIMITS
from mutation.mutants import mutants
from mutation.operators import others
from mutation.put_in import PACKAGE
from mutation.trial import AnyMutant, LimitMutant


@cache
def all_mutants() -> tuple[AnyMutant, ...]:
    """Those of every limit, formula and rule."""
    found: list[AnyMutant] = [LimitMutant(name, value) for name, limit in LIMITS.items() for value in others(limit.value)]
    for folder in ("physics", "rules"):
        for path in sorted((PACKAGE / folder).rglob("*.py")):
            found += mutants(path.relative_to(PACKAGE).as_posix(), path.read_text("utf-8"))
    return tuple(found)


def sample(possible: Sequence[AnyMutant], count: int, seed: int) -> list[AnyMutant]:
    """As many of them by chance; the same ones for the same seed."""
    return random.Random(seed).sample(possible, min(count, len(possible)))
