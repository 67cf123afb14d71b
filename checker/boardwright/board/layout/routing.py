"""Ways for leads that have none: sound along one side of a street, power along the other, square crossings.

A street is the room between two rows of boxes. Each has a lane for sound and one for power; boxes, supplies and given
openings decide where a lead may go. All parts run along the axes, so that whatever crosses, crosses squarely.
"""

from __future__ import annotations

import heapq
import itertools
import math
from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from boardwright.board.layout.geometry import OUTWARD, Point, Rect

ABOVE, BELOW = 0, 1
SOUND, POWER = "sound", "power"
EDGE = 0.006
"""A lane along the frame's edge lies this far inside (m)."""
_BEND, _PASS = 0.015, 0.060
"""What a corner and a pass through the deck cost, in metres of detour."""
_CROWD = 0.01
"""How much dearer each lead makes its line for the next."""
_OTHERS = 4.0
"""How much dearer the other use's lane is."""
_CLEAR = 0.002
"""From a box to the middle of a lead that goes through the deck beside it (m)."""
_SHRUNK = 0.0005
"""A lead may touch a box (m)."""

_Node = tuple[int, int, int, int]
"""Column, lane, layer, and along what it was reached: x (0), y (1), or neither (-1)."""


@dataclass(frozen=True, slots=True)
class Terminal:
    """Where a lead begins: a socket, the way its plug points, and how far the plug reaches."""

    point: Point
    side: str
    reach: float
    layer: int


@dataclass(frozen=True, slots=True)
class Wish:
    """A lead that wants a way. ``end`` may be a side of the frame, for a lead that leaves the board."""

    use: str
    start: Terminal
    end: Terminal | str


@dataclass(frozen=True, slots=True)
class Ground:
    """What ways are made on: the frame, obstacles by layer, lanes, and where the deck may be passed."""

    area: Rect
    above: tuple[Rect, ...]
    below: tuple[Rect, ...]
    streets: tuple[tuple[float, float], ...]
    passes: tuple[Point, ...] | None
    """``None``: anywhere."""


@dataclass(frozen=True, slots=True)
class Way:
    """A way: its corners with their layer, from socket to socket."""

    points: tuple[Point, ...]
    layers: tuple[int, ...]
    """Of each straight part."""
    forced: bool = False
    """Whether something stands in it, because no free way was found."""

    @property
    def passes(self) -> int:
        """How often it goes through the deck."""
        return sum(1 for a, b in zip(self.layers, self.layers[1:], strict=False) if a != b)


def streets_of(area: Rect, boxes: list[Rect]) -> tuple[tuple[float, float], ...]:
    """The free strips between rows of boxes, from the front, those along both edges included."""
    taken: list[list[float]] = []
    for front, back in sorted((rect.front, rect.back) for rect in boxes):
        if taken and front < taken[-1][1] - 1e-9:
            taken[-1][1] = max(taken[-1][1], back)
        else:
            taken.append([front, back])
    edges = [area.front, *(edge for strip in taken for edge in strip), area.back]
    return tuple((max(a, area.front), min(b, area.back)) for a, b in zip(edges[::2], edges[1::2], strict=True))


@lru_cache(maxsize=16)
def find_ways(ground: Ground, wishes: tuple[Wish, ...]) -> tuple[Way, ...]:
    """A way for each wish. Kept for the last boards, since an edit rarely moves a box."""
    grid = _Grid(ground)
    return tuple(grid.way(wish) for wish in wishes)


class _Grid:
    """The lanes as lines of a grid, of which only the crossings near a way are ever looked at."""

    def __init__(self, ground: Ground) -> None:
        self.ground = ground
        self.obstacles = (ground.above, ground.below)
        area = ground.area
        self.lanes: dict[float, str] = {}
        for number, (front, back) in enumerate(ground.streets):
            width = back - front
            if width < 0.004:
                continue
            if number == 0 and len(ground.streets) > 1:
                self.lanes[_round((front + back) / 2)] = "front"
                continue
            self.lanes[_round(front + min(0.018, 0.3 * width))] = SOUND
            self.lanes[_round(back - min(0.008, 0.1 * width))] = POWER
        self.columns: dict[float, str] = {_round(area.left + EDGE): POWER, _round(area.right - EDGE): SOUND}
        for x in _gaps(area, ground.above):
            self.columns.setdefault(_round(x), "")
        for x, y in ground.passes or ():
            self.columns.setdefault(_round(x), "")
            self.lanes.setdefault(_round(y), "")
        self._load: dict[tuple[int, int, float], int] = {}
        """How many leads lie on each line of each layer."""
        self._blocked: dict[tuple[int, int, float], list[tuple[float, float]]] = {}
        self._open: dict[Point, bool] = {}
        self._allowed = None if ground.passes is None else {(_round(x), _round(y)) for x, y in ground.passes}

    def way(self, wish: Wish) -> Way:
        start = self._stub(wish.start)
        if isinstance(wish.end, str):
            if not _within(start, self.ground.area):  # its plug is over the edge already
                return Way((wish.start.point, self._over_the_edge(wish.start)), (wish.start.layer,))
            found = self._search(wish.use, start, wish.start.layer, None, ABOVE, wish.end)
            last: list[Point] = []
        else:
            end = self._stub(wish.end)
            found = self._search(wish.use, start, wish.start.layer, end, wish.end.layer, None)
            last = [wish.end.point]
        if found is None:
            return self._straight(wish, start)
        points, layers = found
        for a, b, layer in zip(points, points[1:], layers, strict=False):
            line = (layer, 0, a[1]) if a[1] == b[1] else (layer, 1, a[0])
            self._load[line] = self._load.get(line, 0) + 1
        points = [wish.start.point, *points, *last]
        layers = [wish.start.layer, *layers, *([layers[-1] if layers else wish.start.layer] if last else [])]
        if isinstance(wish.end, str):
            ox, oy = OUTWARD[wish.end]
            points.append((points[-1][0] + ox * EDGE, points[-1][1] + oy * EDGE))
            layers.append(ABOVE)
        return Way(*_tidied(points, layers))

    def _over_the_edge(self, terminal: Terminal) -> Point:
        (ox, oy), (x, y) = OUTWARD[terminal.side], terminal.point
        edge = self.ground.area.edge(terminal.side)
        return (edge + ox * 2 * EDGE, y) if ox else (x, edge + oy * 2 * EDGE)

    def _stub(self, terminal: Terminal) -> Point:
        """Where the lead comes out of its plug, or as far as it gets before a neighbour."""
        ox, oy = OUTWARD[terminal.side]
        x, y = terminal.point
        reach = terminal.reach
        for rect in self.obstacles[terminal.layer]:
            room = {"left": x - rect.right, "right": rect.left - x, "front": y - rect.back, "rear": rect.front - y}[terminal.side]
            low, high = rect.along(terminal.side)
            if 0 <= room < reach and low < (y if ox else x) < high:
                reach = room / 2
        return _round(x + ox * reach), _round(y + oy * reach)

    def _search(self, use: str, start: Point, start_layer: int, end: Point | None, end_layer: int, edge: str | None) -> tuple[list[Point], list[int]] | None:
        """The cheapest way along the lines (A*), as corners and the layer of each part between them."""
        area = self.ground.area
        goal = {"left": area.left + EDGE, "right": area.right - EDGE, "front": area.front + EDGE, "rear": area.back - EDGE}.get(edge or "", 0.0)
        goal = _round(goal)
        xs = sorted({*self.columns, start[0], *([end[0]] if end else []), *([goal] if edge in ("left", "right") else [])})
        ys = sorted({*self.lanes, start[1], *([end[1]] if end else []), *([goal] if edge in ("front", "rear") else [])})
        across, wide, deep = edge in ("left", "right"), len(xs), len(ys)
        column_cost = [[self._weight(use, self.columns.get(x, ""), layer, (1, x)) for x in xs] for layer in (ABOVE, BELOW)]
        lane_cost = [[self._weight(use, self.lanes.get(y, "none"), layer, (0, y)) for y in ys] for layer in (ABOVE, BELOW)]

        def left_over(i: int, j: int) -> float:
            if end is not None:
                return abs(xs[i] - end[0]) + abs(ys[j] - end[1])
            return abs(xs[i] - goal) if across else abs(ys[j] - goal)

        first = (bisect_left(xs, start[0]), bisect_left(ys, start[1]), start_layer, -1)
        cost = {first: 0.0}
        came: dict[_Node, _Node] = {}
        heap = [(left_over(first[0], first[1]), 0.0, first)]
        while heap:
            _, spent, node = heapq.heappop(heap)
            if spent > cost[node]:
                continue
            i, j, layer, heading = node
            x, y = xs[i], ys[j]
            at_end = end is not None and layer == end_layer and x == end[0] and y == end[1]
            at_edge = edge is not None and layer == ABOVE and (x if across else y) == goal
            if at_end or at_edge:
                return _trace(came, node, xs, ys)
            steps: list[tuple[_Node, float]] = []
            for ni in (i - 1, i + 1):
                if 0 <= ni < wide and not self._is_blocked(layer, 0, y, x, xs[ni]):
                    steps.append(((ni, j, layer, 0), spent + abs(xs[ni] - x) * lane_cost[layer][j] + (_BEND if heading == 1 else 0.0)))
            for nj in (j - 1, j + 1):
                if 0 <= nj < deep and not self._is_blocked(layer, 1, x, y, ys[nj]):
                    steps.append(((i, nj, layer, 1), spent + abs(ys[nj] - y) * column_cost[layer][i] + (_BEND if heading == 0 else 0.0)))
            if self._may_pass(x, y):
                steps.append(((i, j, 1 - layer, -1), spent + _PASS))
            for new, price in steps:
                if price < cost.get(new, math.inf):
                    cost[new] = price
                    came[new] = node
                    heapq.heappush(heap, (price + left_over(new[0], new[1]), price, new))
        return None

    def _weight(self, use: str, lane: str, layer: int, line: tuple[int, float]) -> float:
        """What a metre costs on a line: more in the other's lane, before the feet, off the lanes, and where many lie already."""
        weight = {"": 1.05, "none": 1.3, "front": 3.0 if layer == ABOVE else 1.3}.get(lane, 1.0 if lane == use else _OTHERS)
        crowd = 1 + _CROWD * self._load.get((layer, *line), 0)
        return weight * crowd * (1.1 if (layer == BELOW) == (use == SOUND) else 1.0)

    def _is_blocked(self, layer: int, along: int, line: float, start: float, end: float) -> bool:
        low, high = (start, end) if start < end else (end, start)
        key = (layer, along, line)
        walls = self._blocked.get(key)
        if walls is None:
            walls = self._blocked[key] = list(self._walls(layer, along, line))
        return any(a < high and b > low for a, b in walls)

    def _walls(self, layer: int, along: int, line: float) -> Iterator[tuple[float, float]]:
        """From where to where something stands on a line, along x (0) or y (1)."""
        for rect in self.obstacles[layer]:
            sides = (rect.left, rect.right), (rect.front, rect.back)
            if sides[1 - along][0] + _SHRUNK < line < sides[1 - along][1] - _SHRUNK:
                yield sides[along][0] + _SHRUNK, sides[along][1] - _SHRUNK

    def _may_pass(self, x: float, y: float) -> bool:
        if self._allowed is not None:
            return (x, y) in self._allowed
        if (x, y) not in self._open:
            self._open[x, y] = not any(
                rect.left - _CLEAR < x < rect.right + _CLEAR and rect.front - _CLEAR < y < rect.back + _CLEAR for rects in self.obstacles for rect in rects
            )
        return self._open[x, y]

    def _straight(self, wish: Wish, start: Point) -> Way:
        """Along the axes through whatever stands there: the board must change before this lead has a way."""
        area = self.ground.area
        if isinstance(wish.end, str):
            x, y = start
            edge = area.edge(wish.end)
            points = [wish.start.point, start, (edge, y) if OUTWARD[wish.end][0] else (x, edge)]
        else:
            end = self._stub(wish.end)
            points = [wish.start.point, start, (end[0], start[1]), end, wish.end.point]
        layers = [wish.start.layer] * (len(points) - 1)
        return Way(*_tidied(points, layers), forced=True)


def _trace(came: dict[_Node, _Node], node: _Node, xs: list[float], ys: list[float]) -> tuple[list[Point], list[int]]:
    """The way back from ``node``, as corners and the layer of each part."""
    nodes = [node]
    while nodes[-1] in came:
        nodes.append(came[nodes[-1]])
    nodes.reverse()
    points: list[Point] = [(xs[nodes[0][0]], ys[nodes[0][1]])]
    layers: list[int] = []
    for before, here in itertools.pairwise(nodes):
        if here[:2] != before[:2]:
            points.append((xs[here[0]], ys[here[1]]))
            layers.append(here[2])
    return points, layers


def _within(point: Point, area: Rect) -> bool:
    return area.left < point[0] < area.right and area.front < point[1] < area.back


def _gaps(area: Rect, boxes: tuple[Rect, ...]) -> Iterator[float]:
    """Middles of the gaps between neighbours of one row, where a lead gets through from street to street."""
    for one in boxes:
        right = min((o.left for o in boxes if o.left >= one.right - 1e-9 and o.overlap(one)[1] > 0), default=area.right)
        left = max((o.right for o in boxes if o.right <= one.left + 1e-9 and o.overlap(one)[1] > 0), default=area.left)
        if right - one.right > 0.003:
            yield (one.right + right) / 2 if right - one.right < 0.06 else one.right + 0.02
        if one.left - left > 0.06:
            yield one.left - 0.02


def _tidied(points: list[Point], layers: list[int]) -> tuple[tuple[Point, ...], tuple[int, ...]]:
    """Without corners that turn nothing."""
    kept: list[Point] = [points[0]]
    parts: list[int] = []
    for point, layer in zip(points[1:], layers, strict=True):
        if point == kept[-1]:
            continue
        straight = len(kept) > 1 and parts[-1] == layer and _in_line(kept[-2], kept[-1], point)
        if straight:
            kept[-1] = point
        else:
            kept.append(point)
            parts.append(layer)
    return tuple(kept), tuple(parts)


def _in_line(a: Point, b: Point, c: Point) -> bool:
    return (a[0] == b[0] == c[0] and (b[1] - a[1]) * (c[1] - b[1]) > 0) or (a[1] == b[1] == c[1] and (b[0] - a[0]) * (c[0] - b[0]) > 0)


def _round(value: float) -> float:
    """To a hundredth of a millimetre, so that equal places are equal numbers."""
    return round(value, 5)
