"""Errors in a guitarist's words: the libraries' messages, said again so that a person can act on them."""

from __future__ import annotations

import re
from collections.abc import Iterable
from difflib import get_close_matches
from functools import lru_cache
from itertools import islice
from typing import Any

from boardwright.spec.called import meant_by

TAB = "A tab stands here. Indent with spaces only, here and below."
NO_COLON = "A name without its `:`. Write `name: value`, with a space after the colon."
WRONG_COLUMN = "This line stands too far left or right: lines of one list start in one column."
NAME_AMONG_DASHES = "A `name:` line stands in a list of `- ` lines. Give it a section of its own, or a dash."
DASH_AMONG_NAMES = "A `- ` line stands among `name:` lines. Give it a name, or a section of its own."

_SYNTAX = (
    (r"cannot start any token", "\t", TAB),
    (r"mapping values are not allowed", "", "A second `:` on one line. Start a new line, or put the text in quotes."),
    (r"could not find expected ':'", "", NO_COLON),
    (r"expected ',' or '\}'", "", "A comma or a closing `}` is missing here, or a little before."),
    (r"expected ',' or '\]'", "", "A comma or a closing `]` is missing here, or a little before."),
    (r"while parsing a flow node", "", "A value is missing here, or a bracket is not closed."),
    (r"expected <block end>", "}", "This `}` closes nothing."),
    (r"expected <block end>", "]", "This `]` closes nothing."),
    (r"expected <block end>.* found '-'", "", DASH_AMONG_NAMES),
    (r"expected <block end>", "", WRONG_COLUMN),
    (r"sequence entries are not allowed", "", "A `- ` entry cannot start here: give the list its own line, indented."),
    (r"expected the node content", "", "A value is due here, and something else stands in its place."),
    (r"cannot start any token", "", "This character cannot start a value. Put the text in quotes."),
)


MOST_LISTED = 40
"""Of more words than these, all are listed only where no guess can be made."""


def shown(text: str, most: int = 60) -> str:
    """What somebody wrote, in code marks, cut where it is long."""
    if not text.isprintable():
        text = " ".join("".join(each if each.isprintable() else " " for each in text[: 2 * most]).split())
    return f"`{text}`" if len(text) <= most else f"`{text[: most - 1]}…`"


def syntax_message(error: Any, character: str) -> str:
    """What a YAML error means. ``error`` is a ``MarkedYAMLError``, ``character`` what stands where it was met."""
    said = f"{error.context or ''} {error.problem or ''}"
    for pattern, only, message in _SYNTAX:
        if re.search(pattern, said) and (not only or only == character):
            return message
    return f"The text cannot be read here ({error.problem or error.context or 'unknown reason'})."


_LONGEST_GUESSED, _MOST_GUESSED = 40, 500
"""Longer words and longer lists than any board has are not worth the time."""


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word that ``word`` most likely meant."""
    return None if len(word) > _LONGEST_GUESSED else _nearest(word, tuple(islice(known, _MOST_GUESSED)))


@lru_cache(maxsize=256)
def _nearest(word: str, known: tuple[str, ...]) -> str | None:
    """Remembered, since a name that is missing in one place is mostly missing in many."""
    forms = {_bare(name): name for name in reversed(known)}
    wanted = _bare(word)
    if wanted in forms:
        return forms[wanted]
    if called := meant_by(wanted, forms):
        return called
    part = [form for form in forms if wanted in form.split() or form in wanted.split() or (len(wanted) > 1 and form.startswith(wanted))]
    found = part if len(part) == 1 else get_close_matches(wanted, forms, 1, 0.6)
    return forms[found[0]] if found else None


def _bare(word: str) -> str:
    return re.sub(r"[\s_-]+", " ", word.lower()).strip()


def either(words: list[str]) -> str:
    """``a, b or c``, in code marks."""
    return series((f"`{word}`" for word in words), "or")


def series(words: Iterable[str], joint: str = "and") -> str:
    """``a, b and c``."""
    parts = list(words)
    return parts[0] if len(parts) == 1 else ", ".join(parts[:-1]) + f" {joint} {parts[-1]}"


def unknown_key(key: str, known: list[str], guess: bool = True) -> tuple[str, str | None, str | None]:
    """Message, expectation and the key that was meant, for one that is not part of the language. Without ``guess``, none is made."""
    if not key:
        return "A name is missing before this `:`.", None, None
    meant = nearest(key, known) if guess else None
    message = f"{shown(key)} is not a key that is known here." + (f" Did you mean `{meant}`?" if meant else "")
    return message, either(sorted(known)) if guess and (not meant or len(known) <= MOST_LISTED) else None, meant


_USUAL_KEYS = ("kind", "needs", "feed")
_LONGEST_EXACT = 3
"""A list that must have so many values and no other number has three at most, as a size has; longer ones are only bounded."""


def model_message(error: dict[str, Any], about: str | None, keys: list[str]) -> tuple[str, str | None]:
    """Message and expectation for one pydantic error (its ``errors()`` entry), unknown keys excepted.

    ``about``: what the field is for; ``keys``: what may stand in the mapping that is due, if one is.
    """
    kind, given, context = error["type"], error.get("input"), error.get("ctx") or {}
    written = shown(given) if isinstance(given, str) else "A list" if isinstance(given, list) else "A mapping"
    if kind == "teach":
        return context["message"], context.get("expected") or None
    if kind == "missing":
        return f"`{error['loc'][-1]}` is missing.", about
    if kind in ("model_type", "dict_type", "model_attributes_type", "dataclass_type"):
        usual = [key for key in _USUAL_KEYS if key in keys] or keys[:3]
        sample = ", ".join(f"{key}: …" for key in (("1", "2") if kind == "dict_type" else usual))
        return f"{written} cannot stand here: lines of `name: value` are due.", f"such as `{{{sample}}}`"
    if kind in ("list_type", "tuple_type"):
        numbers = re.findall(r"\d+(?:\.\d+)?", given) if isinstance(given, str) else []
        sample = ", ".join(numbers) if len(numbers) > 1 else "first, second, …"
        return f"{written} cannot stand here: a list is due.", f"such as `[{sample}]`"
    if kind in ("too_short", "too_long"):
        least, most = context.get("min_length"), context.get("max_length")
        due = f"at most {most}" if kind == "too_long" and most > _LONGEST_EXACT else str(least or most)
        return f"This list has {context.get('actual_length')} values; {due} are due.", about
    return f"{written} cannot be read: {error['msg']}.", about
