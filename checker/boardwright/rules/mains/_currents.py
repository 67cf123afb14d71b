"""What flows through each cord, block, inlet and circuit, and which fuse is ahead of it: for the rules on ratings and fuses."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.mains import Item, Link
from boardwright.physics.mains import line_current
from boardwright.rules.things import listed
from boardwright.rules.verdict import Thing
from boardwright.rules.wall import UNSURE, of_link
from boardwright.spec.figure import Figure, Origin, unknown, weakest
from boardwright.spec.mains_phrase import Fuse
from boardwright.spec.sections.mains import Block, Cord, Inlet
from boardwright.spec.wording import series


@dataclass(frozen=True, slots=True)
class Branch:
    """A cord, block, inlet or circuit with everything behind it. Currents in A, at the voltages of the place."""

    name: str
    thing: Thing
    link: Link | None
    rating: Figure
    items: tuple[Item, ...]
    unknown_loads: tuple[str, ...]
    least: float
    """What surely flows: at the highest voltage it may meet, unknown loads left out."""
    most: float
    """What may flow at the lowest."""
    origin: Origin

    @property
    def complete(self) -> bool:
        return bool(self.items) and not self.unknown_loads

    @property
    def coiled(self) -> bool:
        return self.link is not None and isinstance(self.link.section, Cord | Block) and bool(self.link.section.coiled)

    @property
    def why_rating(self) -> str:
        return " while it is coiled" if self.coiled else ""

    @property
    def remedy(self) -> str:
        unwind = "Unwind it, all of it. " if self.coiled else ""
        return f"{unwind}Spread the load over more outlets, or use a factory-made part of a higher rating."


def branches(board: Board) -> Iterator[Branch]:
    """Every part with a rating of its own, or with several things behind it."""
    wall = board.wall
    unplugged = [item for item in wall.items.values() if item.says_mains and not wall.way(item.name)]
    for link in wall.links.values():
        items = wall.behind(link.name)
        if not isinstance(link.section, Cord | Block | Inlet):
            continue
        empty_block = isinstance(link.section, Block) and link.declared and link.section.feeds is None and bool(unplugged)
        stated = link.rating.known or link.section.rating is not None or (isinstance(link.section, Cord | Block) and bool(link.section.coiled))
        if (items and (stated or len(items) > 1)) or (not items and empty_block):
            yield _branch(board, link.name, of_link(link), link, link.rating, items)
    for name, circuit in wall.circuits.items():
        if items := wall.behind(name):
            thing = Thing(name, ("place", "circuits", name))
            yield _branch(board, name, thing, None, circuit.rating or unknown("A"), items)


def _branch(board: Board, name: str, thing: Thing, link: Link | None, rating: Figure, items: list[Item]) -> Branch:
    wall = board.wall
    sure = [nominal.volts for nominal in wall.nominals if not nominal.doubtful] if wall.place_known else []
    lowest = min(sure, default=limits.LEAST_MAINS.value)
    highest = lowest if sure else limits.MOST_MAINS.value  # several nominal voltages: each will be met
    low_loads, high_loads = [item.apparent(highest) for item in items], [item.apparent(lowest) for item in items]
    missing = tuple(item.name for item, load in zip(items, high_loads, strict=True) if not load.known)
    least = sum(line_current(load.value, highest) for load in low_loads if load.known)
    most = sum(line_current(load.value, lowest) for load in high_loads if load.known)
    return Branch(name, thing, link, rating, tuple(items), missing, least, most, weakest(load.origin for load in high_loads if load.known))


# --- fuses --------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Guard:
    """A fuse ahead of things: where it is, what it is, and the conductors that it has to protect."""

    link: Link
    fuse: Fuse | None
    weakest: Figure
    """The smallest rating (A) behind it, or its own holder's."""
    weakest_name: str
    bare: bool
    """Whether something behind it states no rating."""


def guards(board: Board) -> Iterator[Guard]:
    """Inlets, and blocks that state a fuse."""
    wall = board.wall
    for link in wall.links.values():
        section = link.section
        if isinstance(section, Inlet) or (
            isinstance(section, Block) and (section.fuse is not None or (not link.declared and _is_inlet(board, link)))
        ):
            parts = [link, *wall.links_behind(link.name)]
            rated = [part for part in parts if part.rating.known]
            conductors = [part for part in wall.links_behind(link.name) if isinstance(part.section, Cord | Block)]
            bare = not conductors or any(not part.rating.known for part in conductors)
            least = min(rated, key=lambda part: part.rating.value, default=None)
            fuse = section.fuse if isinstance(section, Inlet | Block) else None
            yield Guard(link, fuse, least.rating if least else unknown("A"), least.name if least else link.name, bare)


def _is_inlet(board: Board, link: Link) -> bool:
    """Whether an undeclared name that cords start from stands where an inlet would: on the board, ahead of what it feeds."""
    return bool(board.wall.on_board) and bool(board.wall.links_behind(link.name))


def fuse_unshown(board: Board, guard: Guard) -> str | None:
    """What has to be found out about a fuse before it can be judged; ``None`` where it can."""
    fuse = guard.fuse
    if fuse is None and board.wall.section.made_by == "factory":
        return None
    if fuse is None or (fuse.fitted and not fuse.rating.known):
        return "which fuse is in it or in the plug ahead of it"
    if not fuse.fitted:
        return None if fuse.text == "bridged" or board.wall.section.made_by == "self" else "which fuse is ahead of it"
    if guard.weakest.known and fuse.rating.value > guard.weakest.value:
        return None
    if guard.bare and fuse.rating.value > limits.ANY_RATING.value:
        return "how many amperes the thinnest cord behind it may carry"
    return None


def ask_about(board: Board, name: str, branch: Branch | None = None) -> str:
    """The one question about a part that carries mains current, whichever rule asks."""
    branch = branch or next((each for each in branches(board) if each.name == name), None)
    asks = []
    if branch is not None:
        if not branch.rating.known and (not branch.complete or branch.most > limits.ANY_RATING.value):
            asks.append("how many amperes it may carry")
        if not branch.items:
            asks.append("what is plugged into it")
        if branch.unknown_loads:
            asks.append(f"how many VA {listed(list(branch.unknown_loads))} take{'s' if len(branch.unknown_loads) == 1 else ''}")
        if not board.wall.place_known:
            asks.append("what voltage the wall gives (write `place`)")
    asks += [ask for guard in guards(board) if guard.link.name == name and (ask := fuse_unshown(board, guard))]
    if not asks:
        asks.append("what flows through it")
    return f"Can you read off the labels of `{name}` and of what hangs on it: {series(asks)}? {UNSURE}"
