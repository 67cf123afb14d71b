"""Faults of place."""

from __future__ import annotations

import itertools
from random import Random

from gauntlet.faults.registry import fault
from gauntlet.rig import Rig


def _neighbours(rig: Rig, r: Random, row: int | None = None) -> tuple[str, str] | None:
    """Two boxes side by side, from left to right."""
    rows = rig.rows if row is None else rig.rows[row : row + 1]
    may = [pair for names in rows for pair in itertools.pairwise(names)]
    return r.choice(may) if may else None


def _placed(rig: Rig, r: Random) -> str | None:
    return r.choice([name for row in rig.rows for name in row]) if rig.rows else None


@fault("box-off-the-frame", "fault", "a box that stands out over the edge")
def over_the_edge(rig: Rig, r: Random):
    if not rig.rows:
        return None
    name = r.choice(rig.rows)[-1]
    box = rig.boxes()[name]
    wide = rig.sections["board"]["frame"]["size"][0]
    box["at"] = [wide - box["size"][0] + r.randint(15, 60), box["at"][1]]
    return [name]


@fault("boxes-overlap", "fault", "a box that stands in another")
def overlap(rig: Rig, r: Random):
    if not (pair := _neighbours(rig, r)):
        return None
    left, right = (rig.boxes()[name] for name in pair)
    left["at"] = [right["at"][0] - left["size"][0] + r.randint(5, 40), left["at"][1]]
    return pair


@fault("connector-proud-of-case", "fault", "a frame that is larger than its case")
def case_too_small(rig: Rig, r: Random):
    case = rig.sections["board"].get("case")
    if not case:
        return None
    case["inside"][0] = rig.sections["board"]["frame"]["size"][0] - r.randint(10, 60)
    return ["board", "case", "frame"]


@fault("control-or-port-buried", "risk", "a mains switch behind a neighbour")
def buried(rig: Rig, r: Random):
    if not (pair := _neighbours(rig, r)):
        return None
    left, right = (rig.boxes()[name] for name in pair)
    right["ports"] = [["left", 60, "fuse"]]
    left["at"] = [right["at"][0] - left["size"][0] - r.randint(5, 20), left["at"][1]]
    return pair


@fault("footswitches-too-close", "fault", "two footswitches 40 mm apart")
def one_shoe(rig: Rig, r: Random):
    stepped = [pair for row in rig.rows for pair in itertools.pairwise(row) if all(rig.boxes()[name]["size"] == [72, 120, 55] for name in pair)]
    if not stepped:
        return None
    pair = r.choice(stepped)
    left, right = (rig.boxes()[name] for name in pair)
    for box, at in ((left, 66), (right, 6)):
        box |= {"stepped": "yes", "switch_at": [at, 25]}
    left["at"] = [right["at"][0] - 72 - 28, left["at"][1]]
    return pair


@fault("heavy-part-not-held-down", "risk", "six kilograms on a patch of hook-and-loop")
def heavy(rig: Rig, r: Random):
    if not (name := _placed(rig, r)):
        return None
    rig.boxes()[name] |= {"weight": "6000 g", "fix_area": "30 cm2"}
    return [name]


@fault("lid-meets-knobs", "fault", "knobs that are higher than the lid leaves room for")
def tall_knobs(rig: Rig, r: Random):
    if "case" not in rig.sections["board"]:
        return None
    name = _placed(rig, r)
    rig.boxes()[name]["knob_height"] = rig.sections["board"]["case"]["lid_clear"] + 5
    return [name]


@fault("plug-has-no-room", "fault", "two boxes so close that no plug fits between them")
def no_room(rig: Rig, r: Random):
    joined = {(start, end) for _, start, end in rig.hops()}
    may = [pair for row in rig.rows for pair in itertools.pairwise(row) if (pair[1], pair[0]) in joined]
    if not may:
        return None
    pair = r.choice(may)
    left, right = (rig.boxes()[name] for name in pair)
    for box in (left, right):
        box["jacks"] = {"in": ["right", 60], "out": ["left", 60]}
    left["at"] = [right["at"][0] - left["size"][0] - r.randint(4, 12), left["at"][1]]
    return pair


@fault("supply-does-not-fit-below", "fault", "a supply that is higher than the room below the deck")
def too_high_below(rig: Rig, r: Random):
    may = [name for name, said in rig.supplies.items() if said.get("under") == "yes"]
    if not may:
        return None
    name = r.choice(may)
    rig.supplies[name]["size"] = [220, 90, 160]
    return [name]


@fault("switch-out-of-reach", "risk", "a footswitch behind something that is much taller")
def behind_a_tower(rig: Rig, r: Random):
    may = []
    for number, row in enumerate(rig.rows[:-1]):
        for front in row:
            for back in rig.rows[number + 1]:
                a, b = rig.boxes()[front], rig.boxes()[back]
                if a["at"][0] == b["at"][0] and a["size"] == b["size"] == [72, 120, 55]:
                    may.append((front, back))
    if not may:
        return None
    front, back = r.choice(may)
    rig.boxes()[front]["knob_height"] = 150
    rig.boxes()[back]["stepped"] = "yes"
    return [front, back]


@fault("weight-and-balance", "risk", "a heavy case for one person")
def too_heavy(rig: Rig, r: Random):
    if not rig.rows:
        return None
    board = rig.sections["board"]
    if "case" not in board:
        return None
    board["case"] |= {"empty_weight": "30 kg", "lifters": 1}
    return ["board", "case"]
