"""Reads the lines that a page of a PDF draws, in millimetres from its top left corner: enough for what browsers print."""

from __future__ import annotations

import re
import zlib
from dataclasses import dataclass

POINT = 25.4 / 72
"""A PDF's unit in millimetres."""

_TOKEN = re.compile(rb"[-+]?\d*\.?\d+|/\S+|[A-Za-z*']+|\[|\]|\(|\)")


@dataclass(frozen=True)
class Path:
    """One path that is drawn or filled: its corners (mm)."""

    points: tuple[tuple[float, float], ...]

    @property
    def box(self) -> tuple[float, float, float, float]:
        xs, ys = zip(*self.points, strict=True)
        return min(xs), min(ys), max(xs), max(ys)


@dataclass(frozen=True)
class Page:
    width: float
    height: float
    paths: list[Path]


def read_pages(data: bytes) -> list[Page]:
    """The pages of a PDF in their order, with the paths drawn straight on them."""
    objects = {int(found[1]): found for found in re.finditer(rb"(?<!\d)(\d+) 0 obj\s*(.*?)endobj", data, re.S)}
    pages = []
    for number in _kids(objects):
        body = objects[number][2]
        x0, y0, x1, y1 = (float(each) for each in re.search(rb"/MediaBox \[([^\]]*)\]", body)[1].split())
        content = int(re.search(rb"/Contents (\d+) 0 R", body)[1])
        pages.append(Page((x1 - x0) * POINT, (y1 - y0) * POINT, list(_paths(_stream(data, objects[content]), y1))))
    return pages


def _kids(objects):
    """The page objects below the document's root, in order."""
    (tree,) = (found[2] for found in objects.values() if re.search(rb"/Type /Pages\b", found[2]) and b"/Parent" not in found[2])
    waiting = [int(kid) for kid in re.findall(rb"(\d+) 0 R", re.search(rb"/Kids \[([^\]]*)\]", tree)[1])]
    while waiting:
        number = waiting.pop(0)
        body = objects[number][2]
        if b"/Kids" in body:
            waiting = [int(kid) for kid in re.findall(rb"(\d+) 0 R", re.search(rb"/Kids \[([^\]]*)\]", body)[1])] + waiting
        else:
            yield number


def _stream(data: bytes, found) -> bytes:
    length = int(re.search(rb"/Length (\d+)", found[2])[1])
    start = re.compile(rb"stream\r?\n").search(data, found.start()).end()
    raw = data[start : start + length]
    return zlib.decompress(raw) if b"FlateDecode" in found[2] else raw


def _paths(content: bytes, top: float):
    """Walks the operators: transforms, and paths as they are stroked or filled."""
    content = re.sub(rb"BT.*?ET", b"", content, flags=re.S)
    matrix, kept = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0), []
    numbers: list[float] = []
    points: list[tuple[float, float]] = []
    parts: list[list[tuple[float, float]]] = []

    def placed(x, y):
        a, b, c, d, e, f = matrix
        return (a * x + c * y + e) * POINT, (top - (b * x + d * y + f)) * POINT

    for token in _TOKEN.findall(content):
        if token[:1] in b"-+.0123456789":
            numbers.append(float(token))
            continue
        if token == b"q":
            kept.append(matrix)
        elif token == b"Q":
            matrix = kept.pop()
        elif token == b"cm":
            a, b, c, d, e, f = numbers[-6:]
            m = matrix
            matrix = (
                a * m[0] + b * m[2], a * m[1] + b * m[3], c * m[0] + d * m[2], c * m[1] + d * m[3],
                e * m[0] + f * m[2] + m[4], e * m[1] + f * m[3] + m[5],
            )  # fmt: skip
        elif token == b"re":
            x, y, w, h = numbers[-4:]
            parts.append([placed(x, y), placed(x + w, y), placed(x + w, y + h), placed(x, y + h)])
        elif token == b"m":
            points = [placed(*numbers[-2:])]
            parts.append(points)
        elif token == b"l" or token in (b"c", b"v", b"y"):
            points.append(placed(*numbers[-2:]))
        elif token in (b"S", b"s", b"f", b"f*", b"B", b"B*", b"b"):
            yield from (Path(tuple(part)) for part in parts)
            parts = []
        elif token == b"n":
            parts = []
        numbers = []
