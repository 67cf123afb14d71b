"""What every rule that touches mains says in the same words: whose work it is, and the one question for each thing."""

from __future__ import annotations

from enum import Enum

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.mains import Item, Link
from boardwright.rules.things import listed
from boardwright.rules.verdict import Thing
from boardwright.spec.fields import YesNo
from boardwright.spec.figure import tell
from boardwright.spec.sections.mains import Adaptor, Cord
from boardwright.spec.wording import series

DEFER = "The local electrical code and a qualified person come before anything said here."
"""Ends the remedy of every finding that touches mains."""

UNSURE = "If you cannot tell, leave it unplugged and ask a qualified person."
"""Ends every question about mains."""


def defer(remedy: str) -> str:
    return f"{remedy} {DEFER}"


def of_item(item: Item) -> Thing:
    return Thing(item.name, item.path)


def of_link(link: Link) -> Thing:
    return Thing(link.name, link.path)


def of_mains(board: Board) -> Thing:
    """The mains parts on the board, as one thing."""
    return Thing("mains", ("mains",) if board.wall.described else ("supplies",))


class State(Enum):
    """How one side of the mains parts on the board stands."""

    WRONG = "wrong"
    RIGHT = "right"
    UNSHOWN = "unshown"
    NONE = "none"
    """There is nothing that it could be about."""


# --- one thing with a mains cord ------------------------------------------------------------------------------------


def earth_shown(board: Board, item: Item) -> bool | None:
    """Whether an item's earth pin reaches the wall: ``False`` where something drops it, ``None`` where it is not shown."""
    links = board.wall.way(item.name)
    drops = [state for link in links for state in (link.lacks_earth_contact, link.lifted)]
    if True in drops:
        return False
    circuit = board.wall.circuits.get(board.wall.circuit(item.name) or "")
    if circuit is not None and circuit.earthed in (YesNo.NO, YesNo.UNKNOWN):
        return None if circuit.earthed is YesNo.UNKNOWN else False
    has_cord = any(isinstance(link.section, Cord) for link in links)
    return True if has_cord and None not in drops else None


def label_shown(board: Board, item: Item) -> bool:
    """Whether anything needs to be asked about what an item's label allows."""
    return item.input.known or not board.wall.nominals or not item.says_mains


def ask_item(board: Board, item: Item) -> str:
    """The one question about something with a mains cord: all that its dangers hang on and nobody has stated."""
    wants = []
    if not label_shown(board, item):
        volts = sorted({nominal.volts for nominal in board.wall.nominals if not nominal.doubtful})
        wants.append(f"a label that allows {series((tell(each, 'V') for each in volts), 'and')}")
    protection, _ = item.protection
    if protection not in ("II", "III") and earth_shown(board, item) is None:
        unsure = [link.name for link in board.wall.way(item.name) if link.lacks_earth_contact is None and isinstance(link.section, Adaptor)]
        through = f", through {listed(unsure)} too" if unsure else ""
        pin = f"an earth pin that reaches the wall by a sound three-core cord{through}"
        wants.append(pin if protection == "I" else f"the mark of class II (a square in a square) or else {pin}")
    if item.marked is YesNo.UNKNOWN:
        wants.append("a safety mark")
    if not wants:
        wants.append("a label and a cord that a qualified person has looked at")
    return f"Has `{item.name}` {series(wants)}? {UNSURE}"


# --- all that plugs into the wall, as one thing to look over ---------------------------------------------------------

def look_over(board: Board) -> State:
    """Whether somebody has looked over all that plugs into the wall, so that saying nothing of damage means that there is none."""
    section = board.wall.section
    if not _plugged_in(board) and not board.wall.described and not _open_valves(board):
        return State.NONE
    unsure = "unknown" in (*(section.signs or ()), *(section.planned_work or ()))
    return State.RIGHT if section.looked_over and not unsure else State.UNSHOWN


def of_look_over(board: Board) -> Thing:
    """Where a look-over would be written down, or else the first thing that wants one."""
    if board.wall.described:
        return Thing("all that plugs in", ("mains",))
    plugged = _plugged_in(board)
    return Thing("all that plugs in", plugged[0].path if plugged else ("pedals", _open_valves(board)[0]))


def ask_look_over(board: Board) -> str:
    """The one question about damage and warning signs, for everything together."""
    valves = _open_valves(board)
    what = series(
        [
            *(["all that plugs into the wall here"] if _plugged_in(board) or board.wall.described else []),
            *([f"the valve {'pedal' if len(valves) == 1 else 'pedals'} {listed(valves)}"] if valves else []),
        ]
    )
    sockets = ", no mains socket that a lead of the board fits" if board.wall.wired else ""
    return (
        f"Has somebody looked over {what}, with the plugs out: cords, plugs and cases whole, dry and closed, a safety mark on each, no "
        f"bare pins{sockets}, no scorch, smell or tingle, and nothing that is to be opened or repaired? `looked_over: yes` under `mains` says so. {UNSURE}"
    )


def _plugged_in(board: Board) -> list[Item]:
    return [item for item in board.wall.items.values() if item.says_mains]


def _open_valves(board: Board) -> list[str]:
    """Pedals with valves that do not say whether their cover is on."""
    return [name for name, pedal in board.spec.pedals.items() if pedal.kind == "valve-preamp" and pedal.cover is None]


# --- the mains parts on the board, as one thing ---------------------------------------------------------------------


def homemade_or_unknown(board: Board) -> bool:
    """Whether mains parts are on the board that are not just closed factory-made units."""
    return bool(board.wall.on_board) and not board.wall.only_closed_units and not _bought(board)


def _bought(board: Board) -> bool:
    """Whether all of it is said to be bought as it is, with nothing loose and nothing wired on."""
    section = board.wall.section
    return section.made_by == "factory" and section.loose_wiring is not YesNo.YES


def maker(board: Board) -> State:
    """Whether the right person made the mains parts on the board."""
    wall = board.wall
    if not wall.on_board or wall.only_closed_units:
        return State.NONE
    if wall.section.made_by == "self":
        return State.WRONG
    if wall.section.made_by == "electrician":
        return State.RIGHT
    if wall.section.made_by == "factory" and not wall.section.loose_wiring:
        return State.RIGHT
    if wall.section.made_by is None and not wall.wired and not wall.section.on_board:
        return State.NONE  # a supply that is bought and screwed on, and nothing else is said
    return State.UNSHOWN


def closure(board: Board) -> State:
    """Whether the enclosure keeps fingers out and opens only with a tool."""
    box = board.wall.section.enclosure
    if box is None:
        return State.UNSHOWN if homemade_or_unknown(board) and maker(board) is not State.NONE else State.NONE
    if box.needs_tool is YesNo.NO or box.damaged or (box.ip is not None and box.ip.solid is not None and box.ip.solid < limits.FINGER_PROOF.value):
        return State.WRONG
    stated = box.ip is not None and box.ip.solid is not None and box.needs_tool is YesNo.YES
    return State.RIGHT if stated or _bought(board) else State.UNSHOWN


def bonding(board: Board) -> dict[str, State]:
    """Whether each piece of metal that mains could reach is joined to protective earth: ``enclosure`` and ``frame``."""
    wall, section = board.wall, board.wall.section
    found: dict[str, State] = {}
    box = section.enclosure
    if box is not None and box.material in (None, "unknown", "metal"):
        found["enclosure"] = _bonded(board, "enclosure", box.earthed, box.material == "metal")
    frame = board.spec.board.frame if board.spec.board else None
    material = frame.material if frame else None
    closed_factory = wall.only_closed_units or (_bought(board) and not wall.wired and not wall.supplies_on_board)
    may_be_metal = frame is not None and (material == "metal" or (material in (None, "unknown") and "enclosure" not in found))
    if wall.on_board and not closed_factory and may_be_metal:
        found["frame"] = _bonded(board, "frame", section.frame_earthed, material == "metal")
    return found


def _bonded(board: Board, name: str, said: YesNo | None, is_metal: bool) -> State:
    box, tests = board.wall.section.enclosure, board.wall.section.tests
    readings = [box.earth_resistance if box and name == "enclosure" else None, tests.earth_resistance if tests else None]
    known = [reading for reading in readings if reading is not None and reading.known]
    if is_metal and (said is YesNo.NO or any(reading.value > limits.EARTH_BOND.value for reading in known)):
        return State.WRONG
    if said is YesNo.YES or board.ground.reaches_earth_by_metal(name):
        return State.RIGHT
    return State.UNSHOWN


def separation(board: Board) -> State:
    """Whether mains is kept apart from the leads of the board."""
    wall = board.wall
    box = wall.section.enclosure
    compartment, sheathed = (box.compartment, box.sheathed) if box else (None, None)
    if box is not None and box.same_connectors:
        return State.WRONG
    if compartment == "own" or (sheathed is YesNo.YES and compartment == "shared"):
        return State.RIGHT
    if compartment == "shared" and sheathed is YesNo.NO:
        return State.WRONG
    if not wall.on_board or wall.only_closed_units or _bought(board) or maker(board) is State.NONE:
        return State.NONE if not wall.on_board else State.RIGHT
    return State.UNSHOWN


def readings(board: Board) -> State:
    """What a qualified person measured on wiring that he or she made."""
    section = board.wall.section
    tests = section.tests
    if tests is not None:
        earth, insulation = tests.earth_resistance, tests.insulation
        bad = earth is not None and earth.known and earth.value > limits.EARTH_BOND.value
        bad = bad or (insulation is not None and insulation.known and insulation.value < limits.INSULATION.value)
        if bad or tests.polarity is YesNo.NO or tests.rcd is YesNo.NO:
            return State.WRONG
        if earth is not None and earth.known and insulation is not None and insulation.known:
            return State.RIGHT
    return State.UNSHOWN if section.made_by == "electrician" and section.loose_wiring is YesNo.YES else State.NONE


def ask_mains(board: Board) -> str:
    """The one question about the mains parts on the board."""
    wants = []
    if maker(board) is State.UNSHOWN:
        wants.append("bought as they are, or made by somebody qualified")
    if closure(board) is State.UNSHOWN:
        wants.append("closed so that no finger gets in and only a tool opens them")
    if State.UNSHOWN in bonding(board).values():
        wants.append("joined to protective earth wherever metal can be touched")
    if separation(board) is State.UNSHOWN:
        wants.append("in a compartment of their own, or sheathed all the way")
    if readings(board) is State.UNSHOWN:
        wants.append(
            f"tested, with an earth of at most {tell(limits.EARTH_BOND.value, 'Ω')} and an insulation of at least "
            f"{tell(limits.INSULATION.value, 'Ω')} noted down"
        )
    return f"Can a qualified person confirm that the mains parts on this board are {series(wants)}? {UNSURE}"
