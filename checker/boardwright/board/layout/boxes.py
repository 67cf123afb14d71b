"""Everything that stands on the frame or hangs below it: footprint, height, sockets, switches, weight."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from typing import NamedTuple

from boardwright import limits
from boardwright.board.kinds import Kind, kind_of
from boardwright.board.layout.deck import Deck, Row
from boardwright.board.layout.geometry import OUTWARD, Point, Rect, turned_point, turned_side
from boardwright.limits import Limit
from boardwright.spec.fields import YesNo
from boardwright.spec.figure import Figure, Origin, assumed
from boardwright.spec.problem import Path
from boardwright.spec.read import Spec
from boardwright.spec.sections.boxes import ALL_JACKS, JackSpec
from boardwright.spec.sections.boxes import Box as BoxSection
from boardwright.spec.sections.supplies import Supply as SupplySection
from boardwright.spec.sections.switchers import Switcher as SwitcherSection

TREADLES = ("wah", "volume-pedal", "expression-pedal")
UNSTEPPED = ("buffer", "mixer", "splitter", "wireless-receiver", "reamp", "di", "load-box", "midi-box", "transformer", "optocoupler", "relay")
"""Kinds that no foot has business with."""

Section = BoxSection | SupplySection


class Socket(NamedTuple):
    """A socket of a box where it stands. ``offset`` runs along its side, as x or y of the board; ``None``: not known."""

    side: str
    point: Point
    offset: float | None
    origin: Origin


@dataclass(frozen=True, slots=True)
class Foot:
    """A footswitch: where it is on the board."""

    point: Point
    origin: Origin


@dataclass(eq=False)
class Box:
    """A box. ``footprint`` is where it stands, ``None`` while it has no place. Sizes in metres, weights in grams."""

    name: str
    path: Path
    section: Section
    kind_name: str | None
    size: tuple[float, float, float]
    size_origin: Origin
    turn: int = 0
    corner: Point | None = None
    proposed: bool = False
    """Whether its place is our proposal and not the board's text."""
    row: Row | None = None
    under: bool = False
    in_loop: bool = False
    usual_side: str = "rear"
    """Of a supply: where its outlets are taken to be while nobody says."""
    shares: dict[tuple[str | None, str], float] = field(default_factory=dict)
    """Where along its side each socket of unknown place is drawn, so that many sockets do not lie on one another."""
    _sockets: dict[tuple[str | None, str], Socket] = field(default_factory=dict)
    _footprint: tuple[Point, Rect] | None = None
    _feet: tuple[Point, list[Foot]] | None = None

    @property
    def kind(self) -> Kind:
        return kind_of(self.kind_name)

    @property
    def is_treadle(self) -> bool:
        return self.kind_name in TREADLES

    @property
    def is_supply(self) -> bool:
        return isinstance(self.section, SupplySection)

    @property
    def width(self) -> float:
        """Along the board's width, as it stands."""
        return self.size[0] if self.turn in (0, 180) else self.size[1]

    @property
    def depth(self) -> float:
        return self.size[1] if self.turn in (0, 180) else self.size[0]

    @property
    def height(self) -> float:
        return self.size[2]

    @property
    def rise(self) -> float:
        return self.row.rise if self.row else 0.0

    @property
    def top(self) -> float:
        """Its top above the front deck, without knobs."""
        return self.rise + self.height

    @property
    def footprint(self) -> Rect | None:
        if self.corner is None:
            return None
        if self._footprint is None or self._footprint[0] != self.corner:
            x, y = self.corner
            self._footprint = self.corner, Rect(x, y, x + self.width, y + self.depth)
        return self._footprint[1]

    @property
    def room(self) -> Rect | None:
        """The footprint and the travel of a treadle."""
        rect = self.footprint
        if rect is None or not self.is_treadle:
            return rect
        plate = [each.value for each in getattr(self.section, "footplate", None) or () if each.known]
        front = plate[0] if plate else limits.TRAVEL_FRONT.value
        behind = plate[-1] if len(plate) > 1 else limits.TRAVEL_BEHIND.value
        side = limits.TRAVEL_SIDE.value
        grow = {"front": front, "rear": behind, "left": side, "right": side}
        turned = {turned_side(each, self.turn): by for each, by in grow.items()}
        return rect.grown(turned["left"], turned["front"], turned["right"], turned["rear"])

    @property
    def knobs(self) -> Figure:
        """How high its highest part stands above the deck below it (m)."""
        stated = getattr(self.section, "knob_height", None)
        up = getattr(self.section, "treadle_up", None)
        if up is not None and up.known:
            return up
        if stated is not None and stated.known:
            return Figure(stated.low, max(stated.value, self.height), "m", stated.origin)
        if self.is_treadle or self.is_supply:
            return Figure(self.height, self.height, "m", self.size_origin)
        return assumed(self.height + limits.KNOB_RISE.value, "m")

    @cached_property
    def knobs_stated(self) -> float:
        """The same, without guessing: the box's own height where no knobs are stated."""
        return self.knobs.value if self.knobs.origin > Origin.ASSUMED else self.height

    @property
    def stepped(self) -> tuple[bool, Origin]:
        """Whether a foot uses its switch."""
        stated = getattr(self.section, "stepped", None)
        if stated in (YesNo.YES, YesNo.NO):
            return bool(stated), Origin.STATED
        if self.is_supply or self.is_treadle or self.in_loop:
            return False, Origin.ASSUMED
        return self.kind_name not in UNSTEPPED, Origin.ASSUMED

    @property
    def feet(self) -> list[Foot]:
        """Its footswitches, whether or not a foot uses them. Not to be changed."""
        if self.corner is None:
            return []
        if self._feet is None or self._feet[0] != self.corner:
            self._feet = self.corner, self._feet_here()
        return self._feet[1]

    def _feet_here(self) -> list[Foot]:
        stated = getattr(self.section, "switch_at", None)
        if stated:
            return [self._foot(pair[0].value, pair[1].value, Origin.STATED) for pair in stated if pair[0].known and pair[1].known]
        front = limits.SWITCH_FRONT.value
        pitch = self.switch_pitch
        if pitch is None:
            return [self._foot(self.size[0] / 2, front, Origin.ASSUMED)]
        count = max(1, int(self.size[0] / pitch + 1e-9))
        first = (self.size[0] - (count - 1) * pitch) / 2
        return [self._foot(first + number * pitch, front, Origin.ASSUMED) for number in range(count)]

    @property
    def switch_pitch(self) -> float | None:
        """Distance between a switcher's own footswitches."""
        stated = self.section.switch_pitch if isinstance(self.section, SwitcherSection) else None
        return stated.value if stated is not None and stated.known and stated.value > 0 else None

    def turned(self, side: str) -> str:
        """Where one of its sides is, as it stands."""
        return turned_side(side, self.turn)

    def _foot(self, x: float, y: float, origin: Origin) -> Foot:
        return Foot(self._on_board(x, y), origin)

    def _on_board(self, x: float, y: float) -> Point:
        assert self.corner is not None
        dx, dy = turned_point(x, y, self.size[0], self.size[1], self.turn)
        return self.corner[0] + dx, self.corner[1] + dy

    @property
    def weight(self) -> Figure:
        stated = self.section.weight
        if stated is not None and stated.known:
            return stated
        return assumed(self._usual_weight.value, "g")

    @property
    def _usual_weight(self) -> Limit:
        if self.is_supply:
            return limits.WEIGHT_SUPPLY
        if self.is_treadle:
            return limits.WEIGHT_TREADLE
        return limits.WEIGHT_DOUBLE if self.size[0] >= limits.DOUBLE_WIDTH.value else limits.WEIGHT_COMPACT

    def propose(self, corner: Point) -> None:
        """Give it a place that the text does not state."""
        self.corner, self.proposed = corner, True
        self._sockets.clear()

    def socket(self, jack: str | None, role: str) -> Socket | None:
        """Where a jack is. ``role`` (``in``, ``out``, ``dc``, ``data``) decides for jacks of which nothing is stated.

        Without better knowledge sound goes in on the right and comes out on the left, as on most boxes, and power and
        data come in at the rear.
        """
        if self.corner is None:
            return None
        key = (jack, role)
        if key not in self._sockets:
            self._sockets[key] = self._find_socket(jack, role)
        return self._sockets[key]

    def apart(self, here: Socket, other: Box, there: Socket) -> tuple[Point, Point]:
        """The least and the most that two sockets of two boxes are apart along x and y (m), by what is stated of them."""
        one, two = self._reach_of(here), other._reach_of(there)
        x, y = one.overlap(two)
        most = max(one.right, two.right) - min(one.left, two.left), max(one.back, two.back) - min(one.front, two.front)
        return (max(0.0, -x), max(0.0, -y)), most

    def _reach_of(self, socket: Socket) -> Rect:
        """Where a socket may be: its point, anywhere on its side, or anywhere on the box."""
        rect = self.footprint
        assert rect is not None
        x, y = socket.point
        if socket.offset is not None:
            return Rect(x, y, x, y)
        if socket.origin is Origin.ASSUMED:
            return rect
        if OUTWARD[socket.side][0]:
            return Rect(x, rect.front, x, rect.back)
        return Rect(rect.left, y, rect.right, y)

    def side_of(self, jack: str | None, role: str) -> tuple[str, bool]:
        """The side of a socket before the box is turned, and whether its place there is stated."""
        if isinstance(self.section, SupplySection):
            return self._supply_side(self.section, role)[0], False
        side, offset, _ = _where(self.section.jacks or {}, jack, role)
        return side, offset is not None

    def _supply_side(self, section: SupplySection, role: str) -> tuple[str, Origin]:
        stated = section.outlets_on if role == "out" else section.inlet_on
        return (self.usual_side, Origin.ASSUMED) if stated in (None, "unknown") else (stated, Origin.STATED)

    def _find_socket(self, jack: str | None, role: str) -> Socket:
        if isinstance(self.section, SupplySection):
            side, origin = self._supply_side(self.section, role)
            offset = None
        else:
            side, offset, origin = _where(self.section.jacks or {}, jack, role)
        span = self.size[1] if side in ("left", "right") else self.size[0]
        share = self.shares.get((jack, role), _usual_place(side, role))
        along = span * share if offset is None else offset
        x, y = {
            "left": (0.0, along),
            "right": (self.size[0], along),
            "front": (along, 0.0),
            "rear": (along, self.size[1]),
        }[side]
        point, turned = self._on_board(x, y), turned_side(side, self.turn)
        place = point[1] if OUTWARD[turned][0] else point[0]
        return Socket(turned, point, None if offset is None else place, origin)


def _where(jacks: dict[str, JackSpec], jack: str | None, role: str) -> tuple[str, float | None, Origin]:
    """Side and offset of a jack before the box is turned."""
    base = (jack or role).rstrip("0123456789").removesuffix("_l").removesuffix("_r").removesuffix("_")
    spec = next((jacks[name] for name in (jack, base, role) if name in jacks), None) or jacks.get(ALL_JACKS)
    side = spec.side if spec else None
    offset = spec.offset.value if spec and spec.offset is not None and spec.offset.known else None
    if side in ("left", "right", "front", "rear"):
        return side, offset, Origin.STATED
    usual = {"in": "right", "out": "left"}.get(role, "rear")
    return usual, None, Origin.STATED if side == "side" and role in ("in", "out") else Origin.ASSUMED


def _usual_place(side: str, role: str) -> float:
    """Where along a side a socket usually is, as a share of it."""
    if side in ("left", "right"):
        return 0.5
    return {"in": 0.8, "out": 0.2, "data": 0.35}.get(role, 0.5)


def assemble_boxes(spec: Spec, deck: Deck) -> dict[str, Box]:
    """Every box that has a place on the board, or may be given one."""
    looped = {jack.thing for switcher in spec.switchers.values() for loop in (switcher.loops or {}).values() for jack in loop.unit or ()}
    boxes = {}
    for name, path, section in _sections(spec):
        kind = section.kind
        size, origin = _size(section, kind)
        turn = section.turn or 0
        box = boxes[name] = Box(name, path, section, kind, size, origin, turn, in_loop=name in looped)
        if isinstance(section, SupplySection):
            box.under = section.under is YesNo.YES
        at = section.at
        if at and all(each.known for each in at):
            box.corner = (at[0].value, at[1].value)
        rect = box.footprint
        if box.is_supply and rect is not None and deck.depth is not None and deck.depth - rect.back < limits.OUTLET_ROOM.value:
            box.usual_side = {0: "front", 90: "right", 180: "rear", 270: "left"}[turn]
        number = section.row
        if number is not None:
            box.row = deck.row(number)
        elif box.corner is not None and not box.under:
            box.row = deck.row_at(box.corner[1] + min(box.depth / 2, 0.05))
    return boxes


def _sections(spec: Spec) -> Iterator[tuple[str, Path, Section]]:
    for key in ("pedals", "switchers", "isolators", "supplies"):
        for name, section in getattr(spec, key).items():
            yield name, (key, name), section


def _size(section: Section, kind: str | None) -> tuple[tuple[float, float, float], Origin]:
    stated = section.size
    if stated and all(each.known and each.value > 0 for each in stated):
        return (stated[0].value, stated[1].value, stated[2].value), min(each.origin for each in stated)
    if isinstance(section, SupplySection):
        usual = limits.SUPPLY_WIDTH, limits.SUPPLY_DEPTH, limits.SUPPLY_HEIGHT
    elif kind in TREADLES:
        usual = limits.TREADLE_WIDTH, limits.TREADLE_DEPTH, limits.TREADLE_HEIGHT
    else:
        usual = limits.COMPACT_WIDTH, limits.COMPACT_DEPTH, limits.COMPACT_HEIGHT
    return (usual[0].value, usual[1].value, usual[2].value), Origin.ASSUMED
