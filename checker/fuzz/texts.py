"""Hostile texts by number: the same number gives the same text on every machine."""

from __future__ import annotations

import json
import random
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

from boardwright.spec.schema import json_schema

BOARDS = [path.read_text("utf-8") for path in sorted((Path(__file__).parents[2] / "demo_boards").glob("*.yaml"))]
SIZE = 1_000_000
MARK = "hostile-script-ran"
SCRIPTS = [
    f"<script>document.title='{MARK}'</script>",
    f"<img src=x onerror=\"document.title='{MARK}'\">",
    f"'\"><svg onload=document.title='{MARK}'>",
    f"javascript:document.title='{MARK}'",
    "]]></style></text></svg>&lt;b&gt;",
    "{{ report ../../secret }}",
]
LETTERS = ["\u202eevil\u202c", "שלום", "مرحبا", "e\u0301\u0301\u0301\u0301", "a" + "\u0300" * 2000, "\u200b", "\ufeff", "👩‍🎤", "\U0010ffff", "\x07", "\x1b[31m", "\x85", "\u2028", "İ", "ﬁ", "０９"]
NUMBERS = ["1e999 A", "-1e999 V", "1e-999 mA", "nan", "NaN V", ".nan", "inf", "-.inf", "9" * 5000 + " mA", "0 V", "-0 mA", "0x7fffffff", "1_000 mA", "1e308 m", "1/0 V",
           "9V dc 1e308 A", "-5 mm", "1e30 mm", "0.000000000001 ohm", "99999999 W", "1:0", "٤٥ mA", "½ A", "5..9 V", "9-1V"]  # fmt: skip

VALUE = re.compile(r"(?<=[:,\[] )[^\s,{}\[\]#:][^,{}\[\]#\n]*")
"""What stands behind a colon, or in a list, in a board that is written simply."""


def hostile(number: int) -> tuple[str, str]:
    """What kind of text it is, and the text."""
    chance = random.Random(number)
    kind = list(KINDS)[number % len(KINDS)]
    return kind, KINDS[kind](chance, chance.choice(BOARDS))


def scripted_board(script: str) -> str:
    """A board with a script in every field that the language has, whatever may stand there: most of it cannot be read."""
    return json.dumps(_filled(json_schema(), json_schema(), lambda leaf: script), ensure_ascii=False)


def scripted_words(board: dict[str, Any], script: str) -> str:
    """A board that can be read, with a script in every field in which any words may stand."""
    return json.dumps(_merged(board, _filled(json_schema(), json_schema(), lambda leaf: script if leaf.get("type") == ["string", "number"] and not {"examples", "format"} & {*leaf} else None)), ensure_ascii=False)  # fmt: skip


def _filled(schema: dict[str, Any], whole: dict[str, Any], leaf: Callable[[dict[str, Any]], str | None], depth: int = 0) -> Any:
    """Something of everything that a schema allows; ``None`` where there is nothing to put in."""
    schema = whole["$defs"][schema["$ref"].rpartition("/")[2]] if "$ref" in schema else schema
    if depth > 12:
        return None
    if options := schema.get("anyOf"):
        filled = (_filled(option, whole, leaf, depth + 1) for option in reversed(options) if option != {"type": "null"})
        return max(filled, key=lambda each: len(json.dumps(each)), default=None)
    if "items" in schema and "properties" not in schema:
        item = _filled(schema["items"], whole, leaf, depth + 1)
        return None if item is None else [item]
    if "properties" in schema or schema.get("type") == "object":
        keys = {**schema.get("properties", {}), **({"any": schema["additionalProperties"]} if schema.get("additionalProperties") else {})}
        each = {key: _filled(value, whole, leaf, depth + 1) for key, value in keys.items() if key != "devices"}
        return {key: value for key, value in each.items() if value is not None} or None
    return leaf(schema)


def _merged(board: Any, more: Any) -> Any:
    """A board with more put into everything in it that has a place for it."""
    if isinstance(board, dict) and isinstance(more, dict):
        alike = more.get("any")
        each = {key: _merged(value, more.get(key, alike)) for key, value in board.items()}
        return each | {key: value for key, value in more.items() if key not in board and key != "any" and not isinstance(value, dict | list)}
    if isinstance(board, list) and isinstance(more, list):
        return [_merged(each, more[0]) for each in board]
    return more if isinstance(board, str) and isinstance(more, str) else board


def _scripts(chance: random.Random, board: str) -> str:
    script = chance.choice(SCRIPTS)
    if chance.random() < 0.3:
        return scripted_board(script)
    return _each_value(1, lambda chance: '"' + chance.choice(SCRIPTS).replace("\\", "").replace('"', '\\"') + '"')(chance, board)


def _each_value(share: float, made: Callable[[random.Random], str]) -> Callable[[random.Random, str], str]:
    return lambda chance, board: VALUE.sub(lambda found: made(chance) if chance.random() < share else found[0], board)


def _cut(chance: random.Random, board: str) -> str:
    return board.encode()[: chance.randrange(len(board))].decode("utf-8", "ignore")


def _binary(chance: random.Random, board: str) -> str:
    raw = bytearray(board.encode())
    for _ in range(chance.choice([1, 20, len(raw) // 3])):
        raw[chance.randrange(len(raw))] = chance.randrange(256)
    return raw.decode(chance.choice(["latin1", "utf-16-le"]), "replace")


def _aliases(chance: random.Random, board: str) -> str:
    wide, levels = chance.randrange(2, 12), chance.randrange(2, 30)
    bomb = ["bomb0: &bomb0 [x, y]", *(f"bomb{n}: &bomb{n} [{', '.join([f'*bomb{n - 1}'] * wide)}]" for n in range(1, levels))]
    return "\n".join(bomb) + "\n" + _each_value(0.1, lambda _: f"*bomb{levels - 1}")(chance, board)


def _deep(chance: random.Random, board: str) -> str:
    opening, closing = chance.choice([("[", "]"), ("{a: ", "}"), ("- ", ""), ("? ", ""), ("!!x ", ""), ("[{", "}]")])
    depth = chance.choice([60, 66, 1000, 100_000])
    return _each_value(0.02, lambda _: opening * depth + closing * depth)(chance, board)[:SIZE]


def _long(chance: random.Random, board: str) -> str:
    piece = chance.choice(["x", "9V ", "é", "\u0301", "a > ", "a-", ",", "'", "\\", "&", "9", " ", "-", "none "])
    found = list(VALUE.finditer(board))
    where = chance.choice(found)
    room = SIZE - len(board.encode()) - 100
    return board[: where.start()] + piece * (room // len(piece.encode())) + board[where.end() :]


def _moved(chance: random.Random, board: str) -> str:
    lines = board.split("\n")
    for _ in range(chance.randrange(1, 12)):
        line = lines.pop(chance.randrange(len(lines)))
        lines.insert(chance.randrange(len(lines)), chance.choice([line, " " + line, line.strip(), "\t" + line, line + line, line.replace(":", "")]))
    return "\n".join(lines)


def _swapped(chance: random.Random, board: str) -> str:
    others = VALUE.findall(chance.choice(BOARDS))
    return _each_value(0.1, lambda chance: chance.choice(others))(chance, board)


def _crowd(chance: random.Random, board: str) -> str:
    """A section with as many things as a megabyte holds, and sound through some of them."""
    section, line = chance.choice([
        ("pedals", "{kind: delay, needs: 9V dc centre-negative 50mA, feed: b.1}"), ("pedals", "{kind: fuzz, size: [70, 120, 50], at: [0, 0]}"), ("pedals", "{}"),
        ("amps", "{kind: valve}"), ("supplies", "{isolated: yes, outlets: {1: 9V dc centre-negative 100mA}}"), ("instruments", "{pickup: humbucker}"),
        ("presets", "[p1, p2]"), ("wall", "{ways: 6}"), ("runs", "{from: p1, to: p2}"), ("isolators", "{kind: di}"), ("computers", "{}"), ("switchers", "{loops: 4}"),
    ])  # fmt: skip
    count = chance.choice([300, 1500, 3200, 12_000])
    names = [f"p{n}" for n in range(count)]
    said = f"{section}:\n" + "".join(f"  {name}: {line}\n" for name in names)
    sound = chance.choice(["guitar > " + " > ".join(names[:2900]), "\n  - ".join(f"guitar > {name} > combo" for name in names[:900]), "\n  - ".join(f"{a} > {b}" for a in names[:30] for b in names[:30])])
    return (said + f"audio:\n  - {sound}\n")[:SIZE]


KINDS: dict[str, Callable[[random.Random, str], str]] = {
    "cut off": _cut,
    "binary": _binary,
    "alias bombs": _aliases,
    "depth": _deep,
    "a megabyte in one value": _long,
    "numbers nobody can have": _each_value(0.15, lambda chance: chance.choice(NUMBERS)),
    "letters that move or combine": _each_value(0.15, lambda chance: chance.choice(LETTERS)),
    "script in every field": _scripts,
    "lines moved": _moved,
    "values swapped": _swapped,
    "a crowd": _crowd,
}
