"""Errors in a guitarist's words: the libraries' messages, said again so that a person can act on them."""

from __future__ import annotations

import re
from difflib import get_close_matches
from typing import Any

_SYNTAX = (
    (r"cannot start any token", r"\t", "A tab stands here. Indent with spaces only."),
    (r"mapping values are not allowed", "", "A second `:` on one line. Start a new line, or put the text in quotes."),
    (r"could not find expected ':'", "", "A name without its `:`. Write `name: value`, with a space after the colon."),
    (r"expected ',' or '\}'", "", "A comma or a closing `}` is missing here, or a little before."),
    (r"expected ',' or '\]'", "", "A comma or a closing `]` is missing here, or a little before."),
    (r"expected <block end>", "", "This line stands too far left or right: lines of one list start in one column."),
    (r"sequence entries are not allowed", "", "A `- ` entry cannot start here: give the list its own line, indented."),
    (r"expected the node content", "", "A value is due here, and something else stands in its place."),
    (r"while scanning a quoted scalar", "", "A quotation mark is opened and never closed."),
    (r"unexpected end of stream", "", "The text ends in the middle: a quotation mark or a bracket is still open."),
    (r"cannot start any token", "", "This character cannot start a value. Put the text in quotes."),
)


def syntax_message(error: Any, text: str) -> str:
    """What a YAML error means. ``error`` is a ``MarkedYAMLError``, ``text`` what was read."""
    said = f"{error.context or ''} {error.problem or ''}"
    mark = error.problem_mark
    here = text.split("\n")[mark.line][mark.column : mark.column + 1] if mark and mark.line < text.count("\n") + 1 else ""
    for pattern, character, message in _SYNTAX:
        if re.search(pattern, said) and (not character or re.fullmatch(character, here)):
            return message
    return f"The text cannot be read here ({error.problem or 'unknown reason'})."


def nearest(word: str, known: list[str]) -> str | None:
    """The known word that ``word`` most likely meant."""
    found = get_close_matches(word.replace("_", " "), [name.replace("_", " ") for name in known], 1, 0.6)
    return found[0].replace(" ", "_") if found else None


def either(words: list[str]) -> str:
    """``a, b or c``, in code marks."""
    quoted = [f"`{word}`" for word in words]
    return quoted[0] if len(quoted) == 1 else ", ".join(quoted[:-1]) + " or " + quoted[-1]


def unknown_key(key: str, known: list[str]) -> tuple[str, str]:
    """Message and expectation for a key that is not part of the language."""
    guess = nearest(key, known)
    message = f"`{key}` is not a key that is known here." + (f" Did you mean `{guess}`?" if guess else "")
    return message, either(sorted(known))


def model_message(error: dict[str, Any]) -> tuple[str, str | None]:
    """Message and expectation for one pydantic error (its ``errors()`` entry), unknown keys excepted."""
    kind, given, context = error["type"], error.get("input"), error.get("ctx") or {}
    shown = f"`{given}`" if isinstance(given, str) else "what stands here"
    if kind == "teach":
        return context["message"], context.get("expected") or None
    if kind == "missing":
        return f"`{error['loc'][-1]}` is missing.", None
    if kind in ("literal_error", "enum"):
        allowed = re.findall(r"'([^']*)'", str(context.get("expected", "")))
        guess = nearest(given, allowed) if isinstance(given, str) else None
        return f"{shown} cannot stand here." + (f" Did you mean `{guess}`?" if guess else ""), either(allowed)
    if kind in ("model_type", "dict_type", "model_attributes_type", "dataclass_type"):
        return f"{shown} cannot stand here.", "lines of `key: value`, or `{key: value, …}`"
    if kind in ("list_type", "tuple_type"):
        return f"{shown} is one value; a list is due.", "`[first, second, …]`"
    if kind == "string_type":
        return "A single word or text is due here, not a list or a mapping.", None
    if kind in ("too_short", "too_long"):
        return f"This list has {context.get('actual_length')} values; {context.get('min_length') or context.get('max_length')} are due.", None
    if kind.startswith("int"):
        return f"{shown} is not a whole number.", "a whole number, such as `3`"
    return f"{shown} cannot be read: {error['msg']}.", None
