"""Thresholds inside prose: ``{{ limit outlet-headroom }}`` in a rule's page or a lesson becomes ``80 %``."""

from __future__ import annotations

import re

from boardwright.limits import LIMITS
from boardwright.spec.figure import tell

_LIMIT = re.compile(r"\{\{ limit ([\w-]+) \}\}")


def with_limits(text: str) -> str:
    """Raises: KeyError, naming a limit that does not exist."""
    return _LIMIT.sub(lambda found: say_limit(found[1]), text)


def say_limit(name: str) -> str:
    """A threshold as prose says it."""
    limit = LIMITS[name]
    return tell(limit.value, limit.unit)
