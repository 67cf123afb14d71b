"""What is wrong with a page's source, for the person who wrote it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeVar

from boardwright.spec.wording import nearest

T = TypeVar("T")


class Unfit(Exception):
    """Something that a page asks for and that does not exist, in plain words."""


def choose(among: Mapping[str, T], name: str, what: str) -> T:
    """One of several by its name.

    Raises: Unfit, with the nearest name or all of them.
    """
    if name in among:
        return among[name]
    guess = nearest(name, list(among))
    hint = f"Did you mean `{guess}`?" if guess else f"There are: {', '.join(among) or 'none'}."
    raise Unfit(f"`{name}` is not {what}. {hint}")
