"""Damage by chance to what a page is given to read: links, and what the browser keeps."""

from __future__ import annotations

import base64
import json
import random
import zlib
from typing import Any

from fuzz.texts import LETTERS, NUMBERS, SCRIPTS

LINK_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"
STRANGE = [None, True, 0, -1, 1.5, 1e300, 2**53, "", "constructor", "__proto__", "9" * 400, [], [[]], {}, {"__proto__": {"text": "x"}}, {"toString": 1}, [None] * 5000,
           "\ud800", "x" * 1_000_000, *SCRIPTS, *LETTERS, *NUMBERS[:14]]  # fmt: skip


def linked(text: str | bytes, level: int = 9, version: str = "1") -> str:
    """A link's end as another program would make it: zlib (RFC 1950) in base64url (RFC 4648) without padding."""
    data = text if isinstance(text, bytes) else text.encode()
    return f"#board={version}.{base64.urlsafe_b64encode(zlib.compress(data, level)).decode().rstrip('=')}"


def damaged_link(chance: random.Random, text: str) -> tuple[str, str]:
    """The end of a link to a board, which the way has changed or nobody sane has made; and the one text as which it may open."""
    if chance.random() < 0.15:
        piece, count = chance.choice(["\0", "a: \n", "\u202e", "[", "&a "]), chance.choice([300_000, 50_000_000])
        return linked((piece * count).encode()), piece * min(count, 300_000)
    return _damaged_link(chance, text), text


def _damaged_link(chance: random.Random, text: str) -> str:
    level = chance.choice([0, 9])
    whole = linked(text, level)
    begin = len("#board=1.")
    match chance.randrange(8):
        case 0:
            return whole[: chance.randrange(len("#board="), len(whole))]
        case 1:
            letters = list(whole)
            for _ in range(chance.choice([1, 1, 5, 200])):
                letters[chance.randrange(begin, len(letters))] = chance.choice(LINK_LETTERS)
            return "".join(letters)
        case 2:
            # One bit of what is packed: without packing it stays readable, and only the checksum tells.
            packed = bytearray(zlib.compress(text.encode(), level))
            packed[chance.randrange(len(packed))] ^= 1 << chance.randrange(8)
            return f"#board=1.{base64.urlsafe_b64encode(packed).decode().rstrip('=')}"
        case 3:
            return "#board=1." + "".join(chance.choices(LINK_LETTERS, k=chance.choice([1, 7, 300, 100_000])))
        case 4:
            return "#board=" + "".join(chance.choice([*LETTERS, *"%&=#.+/ \0é1"]) for _ in range(chance.randrange(1, 40))).replace("&", "%26")
        case 5:
            version = chance.choice(["0", "2", "01", "1e0", "constructor", "toString", "__proto__", "9" * 30, "", "1.1", "<b>"])
            return linked(text, level, version)
        case 6:
            return linked(chance.choice([chance.randbytes(3000), text.encode("utf-16"), b"\xff" + text.encode(), text.encode() + b"\xe2\x82", b"\xed\xa0\x80"]))
        case _:
            return whole + chance.choice(["A", "=", "====", "\n", "%00", "%", whole[begin:], "A" * 100_000])


def damaged_state(chance: random.Random, raw: str, text: str) -> str:
    """Something else than what was kept; ``text`` is one that may have got there instead of a board's."""
    if chance.random() < 0.3:
        return _damaged_letters(chance, raw)
    if chance.random() < 0.2:
        return json.dumps(chance.choice(STRANGE))
    try:
        data = json.loads(raw)
    except ValueError:
        return chance.choice([text, json.dumps(text), _damaged_letters(chance, raw)])
    for _ in range(chance.choice([1, 1, 2, 6])):
        data = _other_shape(chance, data, text)
    return json.dumps(data, ensure_ascii=chance.random() < 0.5)


def _damaged_letters(chance: random.Random, raw: str) -> str:
    letters = list(raw)
    at = chance.randrange(len(letters) + 1)
    match chance.randrange(5):
        case 0:
            return raw[:at]
        case 1:
            for _ in range(chance.choice([1, 3, 50])):
                letters[chance.randrange(len(letters))] = chr(chance.choice([0, 32, 34, 92, 123, 0x202E, 0xD800, chance.randrange(0xD7FF)]))
            return "".join(letters)
        case 2:
            return raw + raw[at:]
        case 3:
            return chance.choice(["", " ", "{", "[" * 100_000, "NaN", "undefined", "\0", "x" * 2_000_000])
        case _:
            return raw[:at] + raw[at + chance.randrange(1, 9) :]


def _other_shape(chance: random.Random, data: Any, text: str) -> Any:
    """The same with one thing in it, at any depth, gone, doubled or of another kind."""
    keys = list(data) if isinstance(data, dict) else list(range(len(data))) if isinstance(data, list) else []
    if not keys or chance.random() < 0.15:
        return chance.choice([*STRANGE, text, text])
    key, changed = chance.choice(keys), data.copy()
    match chance.randrange(6):
        case 0:
            del changed[key]
        case 1 if isinstance(data, list):
            changed.append(chance.choice(STRANGE))
        case 1:
            changed[str(chance.choice(STRANGE))[:80]] = data[key]
        case _:
            changed[key] = _other_shape(chance, data[key], text)
    return changed
