"""Reads the lines and the letters that a page of a PDF draws, in millimetres from its top left corner: enough for what browsers print."""

from __future__ import annotations

import math
import re
import zlib
from dataclasses import dataclass, field

POINT = 25.4 / 72
"""A PDF's unit in millimetres."""

_TOKEN = re.compile(rb"[-+]?\d*\.?\d+|/[^\s/<>\[\]()]+|<[0-9A-Fa-f]*>|[A-Za-z*']+|\[|\]|\(|\)")
_UNIT = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


@dataclass(frozen=True)
class Path:
    """One path that is drawn or filled: its corners (mm)."""

    points: tuple[tuple[float, float], ...]

    @property
    def box(self) -> tuple[float, float, float, float]:
        xs, ys = zip(*self.points, strict=True)
        return min(xs), min(ys), max(xs), max(ys)


@dataclass(frozen=True)
class Letter:
    """One letter: where it begins on its line (mm), its size (points), its colour as it comes out on white paper (0 to 1 each)."""

    x: float
    y: float
    size: float
    colour: tuple[float, float, float]

    @property
    def contrast(self) -> float:
        """Against white paper, by its luminance (WCAG 2.2, relative luminance and contrast ratio)."""
        linear = [each / 12.92 if each <= 0.04045 else ((each + 0.055) / 1.055) ** 2.4 for each in self.colour]
        return 1.05 / (0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2] + 0.05)


@dataclass
class Page:
    width: float
    height: float
    paths: list[Path] = field(default_factory=list)
    letters: list[Letter] = field(default_factory=list)


def read_pages(data: bytes) -> list[Page]:
    """The pages of a PDF in their order, with what is drawn on them."""
    objects = {int(found[1]): found for found in re.finditer(rb"(?<!\d)(\d+) 0 obj\s*(.*?)endobj", data, re.S)}
    pages = []
    for number in _kids(objects):
        body = objects[number][2]
        x0, y0, x1, y1 = (float(each) for each in re.search(rb"/MediaBox \[([^\]]*)\]", body)[1].split())
        content = int(re.search(rb"/Contents (\d+) 0 R", body)[1])
        page = Page((x1 - x0) * POINT, (y1 - y0) * POINT)
        _Walk(data, objects, page, y1).through(body, _stream(data, objects[content]), _UNIT, 1.0)
        pages.append(page)
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


def _times(n, m):
    """The transform ``n``, then ``m``."""
    return (
        n[0] * m[0] + n[1] * m[2], n[0] * m[1] + n[1] * m[3],
        n[2] * m[0] + n[3] * m[2], n[2] * m[1] + n[3] * m[3],
        n[4] * m[0] + n[5] * m[2] + m[4], n[4] * m[1] + n[5] * m[3] + m[5],
    )  # fmt: skip


class _Walk:
    """Walks the operators: transforms, colours, paths as they are stroked or filled, letters, and drawings within."""

    def __init__(self, data, objects, page: Page, top: float) -> None:
        self.data, self.objects, self.page, self.top = data, objects, page, top

    def through(self, resources: bytes, content: bytes, matrix, alpha: float) -> None:
        named = {name: int(number) for name, number in re.findall(rb"/(\w+) (\d+) 0 R", resources)}
        state = matrix, alpha, (0.0, 0.0, 0.0)
        kept, numbers, names, parts, points = [], [], [], [], []
        size, line = 0.0, _UNIT

        def placed(x, y, m):
            return (m[0] * x + m[2] * y + m[4]) * POINT, (self.top - (m[1] * x + m[3] * y + m[5])) * POINT

        for token in _TOKEN.findall(content):
            matrix, now_alpha, colour = state
            if token[:1] in b"-+.0123456789":
                numbers.append(float(token))
                continue
            if token[:1] == b"/":
                names.append(token[1:])
                continue
            if token[:1] == b"<":
                continue
            if token == b"q":
                kept.append(state)
            elif token == b"Q":
                state = kept.pop()
            elif token == b"cm":
                state = _times(numbers[-6:], matrix), now_alpha, colour
            elif token == b"rg":
                state = matrix, now_alpha, tuple(numbers[-3:])
            elif token == b"gs":
                said = re.search(rb"/ca ([\d.]+)", self.objects[named[names[-1]]][2])
                state = matrix, alpha * (float(said[1]) if said else 1.0), colour
            elif token == b"Do":
                within = self.objects[named[names[-1]]]
                if b"/Subtype /Form" in within[2]:
                    own = re.search(rb"/Matrix \[([^\]]*)\]", within[2])
                    moved = _times([float(each) for each in own[1].split()], matrix) if own else matrix
                    self.through(within[2].split(b"stream")[0], _stream(self.data, within), moved, now_alpha)
            elif token == b"Tf":
                size = numbers[-1]
            elif token == b"Tm":
                line = tuple(numbers[-6:])
            elif token == b"Td":
                line = _times((1, 0, 0, 1, *numbers[-2:]), line)
            elif token == b"Tj":
                whole = _times(line, matrix)
                scale = math.sqrt(abs(whole[0] * whole[3] - whole[1] * whole[2]))
                on_paper = tuple(1 - now_alpha * (1 - each) for each in colour)
                self.page.letters.append(Letter(*placed(0, 0, whole), size * scale, on_paper))
            elif token == b"re":
                x, y, w, h = numbers[-4:]
                parts.append([placed(*each, matrix) for each in ((x, y), (x + w, y), (x + w, y + h), (x, y + h))])
            elif token == b"m":
                points = [placed(*numbers[-2:], matrix)]
                parts.append(points)
            elif token == b"l" or token in (b"c", b"v", b"y"):
                points.append(placed(*numbers[-2:], matrix))
            elif token in (b"S", b"s", b"f", b"f*", b"B", b"B*", b"b"):
                self.page.paths += (Path(tuple(part)) for part in parts)
                parts = []
            elif token == b"n":
                parts = []
            numbers = []
