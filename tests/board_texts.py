"""Boards by chance for property tests: first as plain data, then written down in any of the ways that YAML allows."""

from __future__ import annotations

import json
import re
from typing import Any

from hypothesis import strategies as st

Data = dict[str, Any]

_SAFE = re.compile(r"[^\s\-?:,\[\]{}#&*!|>'\"%@`][^\n:#]*(?<!\s)")
_SAFE_IN_BRACKETS = re.compile(r"[^\s\-?:,\[\]{}#&*!|>'\"%@`][^\n:#,\[\]{}]*(?<!\s)")
_EMPTY = ("~", "null", "<<")

WORDS = st.one_of(
    st.sampled_from(
        [
            "9V dc centre-negative 45mA", "brick.1", "yes", "no", "12", "-3 dB", "0 to 12 dB", "1:1", "it's", 'say "hi"', "a: b", "x # y",
            "x#y", "[a]", "{a}", "a, b", "> |", "- x", "é", "Ωmega 🎸", "漢字", " padded ", "~", "null", "*star", "&and", "!bang", "%", "@", "50%",
            "a\tb", "two\nlines", "", "?", "? x", "---", "...", "…", "\u00a0nbsp", "back\\slash", "tick`", "true",
        ]
    ),
    st.text(st.characters(exclude_categories=["Cs", "Cc"], exclude_characters="\ufeff\ufffe\uffff\u2028\u2029"), max_size=12),
)  # fmt: skip
NAMES = st.from_regex(r"\A[a-zéß漢🎸0-9][a-z0-9_é-]{0,8}\Z")


def values(depth: int = 3) -> st.SearchStrategy[Any]:
    if not depth:
        return WORDS
    inner = values(depth - 1)
    return st.one_of(WORDS, WORDS, st.lists(inner, max_size=3), st.dictionaries(NAMES, inner, max_size=3))


TREES = st.dictionaries(NAMES, values(), min_size=1, max_size=5)
"""Mappings of anything: what a board's text may hold, whether or not it means something."""


@st.composite
def written(draw: st.DrawFn, data: Data) -> str:
    """``data`` as YAML: blocks and brackets, quotes, comments, indents and blank lines by chance."""
    return "".join(f"{line}\n" for line in _Writer(draw).mapping(data, 0))


class _Writer:
    def __init__(self, draw: st.DrawFn) -> None:
        self._draw = draw

    def _chance(self, one_in: int) -> bool:
        return self._draw(st.integers(1, one_in)) == 1

    def mapping(self, data: Data, indent: int) -> list[str]:
        lines = []
        for key, value in data.items():
            lines += self._noise(indent)
            lines += self._entry(f"{' ' * indent}{self._scalar(key, _SAFE, may_break=False)}:", value, indent)
        return lines

    def _entry(self, head: str, value: Any, indent: int) -> list[str]:
        """``head`` (a name with its colon) and what follows it."""
        if isinstance(value, str) or not value or self._chance(2):
            tail = "" if "\n" in (text := self._inline(value, _SAFE)) else self._comment()
            return [f"{head} {text}{tail}"]
        head += self._comment()
        if isinstance(value, dict):
            return [head, *self.mapping(value, indent + self._draw(st.integers(1, 4)))]
        return [head, *self._list(value, indent + self._draw(st.integers(0, 3)))]

    def _list(self, items: list[Any], indent: int) -> list[str]:
        lines = []
        for item in items:
            dash = f"{' ' * indent}-{' ' * self._draw(st.integers(1, 3))}"
            if isinstance(item, dict) and item and self._chance(2):
                first, *rest = self.mapping(item, len(dash))
                if first.lstrip().startswith("#") or not first.strip():
                    lines.append(dash + self._inline(item, _SAFE))
                else:
                    lines += [dash + first[len(dash) :], *rest]
            else:
                lines.append(dash + self._inline(item, _SAFE))
        return lines

    def _inline(self, value: Any, safe: re.Pattern[str]) -> str:
        if isinstance(value, str):
            return self._scalar(value, safe)
        gap = self._draw(st.sampled_from(["", " ", "", "\n     "]))
        if isinstance(value, dict):
            parts = [f"{self._scalar(key, _SAFE_IN_BRACKETS, may_break=False)}: {self._inline(each, _SAFE_IN_BRACKETS)}" for key, each in value.items()]
            return f"{{{gap}{f',{gap} '.join(parts)}{gap}}}"
        return f"[{gap}{f',{gap} '.join(self._inline(each, _SAFE_IN_BRACKETS) for each in value)}{gap}]"

    def _scalar(self, text: str, safe: re.Pattern[str], may_break: bool = True) -> str:
        if safe.fullmatch(text) and text not in _EMPTY and not text.startswith(("---", "...")) and text.isprintable() and not self._chance(5):
            return text
        if "\n" not in text and "\t" not in text and self._chance(2):
            return "'" + text.replace("'", "''") + "'"
        return json.dumps(text, ensure_ascii=self._chance(2))

    def _comment(self) -> str:
        return self._draw(st.sampled_from(["", "", "", " # why", "  #", " "]))

    def _noise(self, indent: int) -> list[str]:
        return self._draw(st.sampled_from([[], [], [], [""], ["# a remark: {"], [f"{' ' * indent}# another"], ["   "]]))


# --- boards that mean something --------------------------------------------------------------------------------------


@st.composite
def power_boards(draw: st.DrawFn, most: int = 6) -> Data:
    """The power side of a board, as plain data: supplies, boxes with their labels and feeds, and a line of sound."""
    supplies: Data = {}
    places: list[tuple[str, str]] = []
    for name in ("brick", "block")[: draw(st.integers(1, 2))]:
        volts = draw(st.sampled_from(["9V", "12V", "18V"]))
        rating = draw(st.sampled_from(["100mA", "300mA", "500mA", "1A"]))
        outlets = {str(n): f"{volts if n > 1 else '9V'} {draw(_KIND)} {rating}" for n in range(1, draw(st.integers(1, 4)) + 1)}
        supplies[name] = {"isolated": draw(st.sampled_from(["yes", "no"])), "outlets": outlets, "total": draw(st.sampled_from(["10 W", "40 W"]))}
        if draw(st.booleans()):
            supplies[name]["source"] = draw(st.sampled_from(["0.2 ohm", "1 ohm"]))
        places += [(name, n) for n in outlets]
    if draw(st.booleans()):
        supplies["step_up"] = {
            "needs": "9V dc centre-negative 1A", "feed": ".".join(draw(st.sampled_from(places))), "isolated": "yes", "efficiency": "80 %",
            "outlets": {"1": "18V dc centre-negative 200mA"},
        }  # fmt: skip
        places.append(("step_up", "1"))
    pedals: Data = {}
    for number in range(1, draw(st.integers(1, most)) + 1):
        kind = draw(st.sampled_from(["overdrive", "delay", "fuzz", "chorus", "reverb", "valve-preamp", "tuner"]))
        pedal: Data = {"kind": kind}
        if draw(st.integers(1, 8)) > 1:
            amps = draw(st.integers(1, 400))
            pedal["needs"] = f"{draw(st.sampled_from(['9V', '9-18V', '12V', '18V']))} {draw(_KIND)} {amps}mA{draw(st.sampled_from(['', ' measured']))}"
        supply, outlet = draw(st.sampled_from(places))
        pedal["feed"] = {"from": f"{supply}.{outlet}"}
        if draw(st.booleans()):
            pedal["feed"]["lead"] = {"length": f"{draw(st.integers(200, 3000))} mm", "gauge": draw(st.sampled_from(["22 AWG", "24 AWG", "28 AWG"]))}
        behind = [name for name, other in pedals.items() if other["feed"]["from"] == pedal["feed"]["from"]]
        if behind and draw(st.booleans()):
            pedal["feed"]["after"] = draw(st.sampled_from(behind))
        if kind == "fuzz" and draw(st.booleans()):
            pedal["ground"] = "positive"
        pedals[f"p{number}"] = pedal
    return {
        "board": {"for": "stage"},
        "supplies": supplies,
        "pedals": pedals,
        "amps": {"combo": {"kind": "valve", "class": "I"}},
        "audio": [" > ".join(["guitar", *pedals, "combo"])],
    }


_KIND = st.sampled_from(["dc centre-negative"] * 6 + ["dc centre-positive", "ac"])


def as_text(data: Data) -> str:
    """Plain data as the plainest of texts: JSON is YAML."""
    return json.dumps(data, ensure_ascii=False, indent=1)
