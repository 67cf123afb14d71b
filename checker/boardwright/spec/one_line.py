"""A thing written as plain words on one line, said again as the language wants it: the reader's own line, not an example."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable

from boardwright.spec.figure import Unreadable
from boardwright.spec.mains_phrase import read_mains_input
from boardwright.spec.power_phrase import Flow, PowerPhrase, read_power

_LONGEST = 120
_MOST_WORDS = 3
"""Words of a kind's name: `noise gate`, `amp simulator`."""
POLARITY = "with the polarity that its label gives"


def rewritten(section: str, name: str, text: str, kind: Callable[[str], str | None]) -> str | None:
    """``name: {kind: …, needs: …}`` for ``text``, or ``None`` where a part of it means nothing to us.

    ``kind``: the kind of this section that some words name, if they name one.
    """
    if section not in ("pedals", "supplies") or len(text) > _LONGEST:
        return None
    found: dict[str, list[str]] = {}
    for piece in _pieces(text, kind):
        meant = _meant(section, piece, kind)
        if meant is None:
            return None
        found.setdefault(meant[0], []).append(meant[1])
    if any(len(values) > 1 for key, values in found.items() if key not in ("needs", "outlets")):
        return None
    parts, note = [], ""
    for key, values in found.items():
        if key == "outlets":
            phrases = [_outlet(each) for each in values]
            note = f", {POLARITY}" if any(guessed for _, guessed in phrases) else ""
            parts.append("outlets: {" + ", ".join(f"{number}: {said}" for number, (said, _) in enumerate(phrases, 1)) + "}")
        else:
            parts.append(f"{key}: {' '.join(values)}")
    if "needs" in found and _power(" ".join(found["needs"])) is None:
        return None
    return f"`{name}: {{{', '.join(parts)}}}`{note}" if parts else None


def _pieces(text: str, kind: Callable[[str], str | None]) -> Iterable[str]:
    """The parts between commas; words at the start of one that name a kind are a part of their own."""
    for piece in filter(None, re.split(r"\s*[,;]\s*", text.strip())):
        words = piece.split()
        most = next((n for n in range(min(_MOST_WORDS, len(words)), 0, -1) if kind(" ".join(words[:n]))), 0)
        yield from filter(None, (" ".join(words[:most]), " ".join(words[most:])))


def _meant(section: str, piece: str, kind: Callable[[str], str | None]) -> tuple[str, str] | None:
    if named := kind(piece):
        return "kind", named
    if re.fullmatch(r"[^\W\d][\w-]*\.\w+|battery", piece):
        return "feed", piece
    if section == "supplies" and piece.lower() in ("isolated", "not isolated"):
        return "isolated", "no" if piece.lower().startswith("not") else "yes"
    if protection := re.fullmatch(r"class (i{1,3})", piece.lower()):
        return "class", protection[1].upper()
    if _power(piece) is not None:
        return ("needs" if section == "pedals" else "outlets"), piece
    return ("input", piece) if section == "supplies" and _is_mains(piece) else None


def _power(text: str) -> PowerPhrase | None:
    try:
        return read_power(text)
    except Unreadable:
        return None


def _is_mains(text: str) -> bool:
    try:
        read_mains_input(text)
    except Unreadable:
        return False
    return True


def _outlet(text: str) -> tuple[str, bool]:
    """An outlet's phrase, and whether its polarity had to be made up to show where it goes."""
    power = read_power(text)
    if power.polarity is not None or power.flow is Flow.AC or not power.volts.known:
        return text, False
    parts = [f"{power.volts}".replace(" ", ""), "dc centre-negative", f"{power.current}".replace(" ", "") if power.current.known else ""]
    return " ".join(filter(None, parts)), True
