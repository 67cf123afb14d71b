"""A wide ring of leads beside a transformer.

## What it finds
A ring on the board, of an audio screen and a shared power return or of two screens, that spans enough area near a mains
transformer to be heard.

## Why it matters
A big open ring of wire next to a transformer is a generator. Run go and return side by side, and the ring disappears.

## How it decides
It needs places: without a layout it does not apply. The ring's corners are the middles of its boxes, and the way of a lead where
`runs` draw it. Its area times the transformer's stray field gives a voltage (Faraday's law): {{ limit field-of-laminated }} at
{{ limit field-at }} for a plain core, {{ limit field-of-toroid }} for a toroid, falling with the cube of distance. The screen's share of the
ring's resistance, times all the gain behind it, must stay below {{ limit ring-floor }} at the amplifier. An estimate, to some 10 dB.

## How to mend it
Lead power and patch leads of a row along the same edge, 2 to 3 cm apart; shorter leads; isolated outlets.

## Source
Faraday's law; field of a dipole. The stray fields are orders of magnitude.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.ground_bonds import Bond, Node, Via
from boardwright.board.ground_hum import distance, lead_length, mains_frequency, middle, ring_area, screen_resistance
from boardwright.board.ground_paths import rings
from boardwright.board.layout.boxes import Box
from boardwright.board.layout.geometry import Point
from boardwright.physics.fields import dipole_field, loop_emf
from boardwright.physics.noise import level_after
from boardwright.rules.earth._loops import thing
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Number, Severity, Thing, cannot_tell, clear, limit, over, trips
from boardwright.spec.figure import tell

_FIELDS = {"linear-laminated": limits.FIELD_OF_LAMINATED, "linear-toroid": limits.FIELD_OF_TOROID}


@rule(Severity.ADVICE, lesson="one-earth")
def wide_loop_near_transformer(board: Board) -> Iterator[Judgement]:
    placed = {box.name: box for box in board.layout.placed}
    supplies = [box for box in placed.values() if box.is_supply]
    iron = [box for box in supplies if getattr(box.section, "kind", None) in _FIELDS]
    unsure = [box for box in supplies if getattr(box.section, "kind", None) in (None, "unknown")]
    if not supplies:
        return
    if not iron and not unsure:
        yield clear(*(Thing(box.name, box.path) for box in supplies))
        return
    found = [each for ring in rings(_metal(board)) if (each := _judged(board, ring, placed, iron)) is not None] if iron else []
    if found:
        yield from found
    elif unsure:
        names = " and ".join(f"`{box.name}`" for box in unsure)
        yield cannot_tell(
            Severity.ADVICE, [Thing(box.name, box.path) for box in unsure], f"What is inside {names}: a transformer, or a switch-mode converter?"
        )
    else:
        yield clear(*(Thing(box.name, box.path) for box in iron))


def _metal(board: Board) -> list[Bond]:
    return [bond for bond in board.ground.bonds if bond.sure and bond.via in (Via.SCREEN, Via.RETURN) and not bond.to_earth]


def _judged(board: Board, ring: list[Bond], placed: dict[str, Box], iron: list[Box]) -> Judgement | None:
    lead = ring[0]
    corners = _corners(board, ring, placed)
    if lead.hop is None or len(corners) < 3:
        return None
    area, centre = ring_area(corners), middle(corners)
    nearest = min(iron, key=lambda box: _apart(box, centre))
    apart = max(_apart(nearest, centre), limits.FIELD_AT.value)
    field = dipole_field(apart, _FIELDS[getattr(nearest.section, "kind", "")].value, limits.FIELD_AT.value)
    screens = sum(screen_resistance(lead_length(board, bond.hop).value) for bond in ring if bond.hop is not None)
    share = screen_resistance(lead_length(board, lead.hop).value) / (screens + limits.RING_RETURN.value)
    volts = loop_emf(mains_frequency(board), area, field) * share
    gain = board.signal.gain_to_amp(lead.hop.end.thing)
    if gain is None or not volts:
        return None
    level = level_after(volts, gain)
    if not over(level, limits.RING_FLOOR.value):
        return None
    return trips(
        Severity.ADVICE,
        [thing(board, lead.hop.end.thing), thing(board, lead.hop.start.thing), Thing(nearest.name, nearest.path)],
        f"{_sentence(lead)} closes a ring of {tell(area, 'm²', 2)} with {ring[1].says}, {tell(apart, 'm', 2)} from the "
        f"transformer in `{nearest.name}`. "
        f"About {tell(level, 'dBV', 2)} of hum arrive at the amplifier.",
        "Lay that lead along the power leads, 2 to 3 cm beside them, or use isolated outlets.",
        [
            Number("area", tell(area, "m²", 2), area, "m²", "stated"),
            Number("field there", tell(field, "T", 2), field, "T", "assumed"),
            Number("induced, the lead's share", tell(volts, "V", 2), volts, "V", "assumed"),
            Number("gain behind it", tell(gain, "dB"), gain, "dB", "assumed"),
            limit("heard above", limits.RING_FLOOR),
        ],
        at=lead.path,
    )


def _sentence(lead: Bond) -> str:
    assert lead.hop is not None
    return f"The lead from `{lead.hop.start.thing}` to `{lead.hop.end.thing}`"


def _corners(board: Board, ring: list[Bond], placed: dict[str, Box]) -> list[Point]:
    """The ring on the board: the middle of each placed box, and the drawn way of each lead between them."""
    corners: list[Point] = []
    here = ring[0].a
    for bond in ring:
        there = bond.other(here)
        spot = _spot(here, placed)
        way = _drawn(board, here, there)
        if way:
            corners += way
        elif spot is not None and spot not in corners:
            corners.append(spot)
        here = there
    return corners


def _spot(node: Node, placed: dict[str, Box]) -> Point | None:
    box = placed.get(node[1].partition(".")[0] if node[0] == "pole" else node[1])
    return box.footprint.middle if box is not None and box.footprint is not None else None


def _drawn(board: Board, here: Node, there: Node) -> list[Point]:
    """The way that ``runs`` draw between two nodes, in this direction."""
    for run in board.layout.runs:
        joins = run.section.joins
        if joins is None or not run.has_way:
            continue
        ends = [str(jack) if node[0] == "pole" else jack.thing for jack, node in zip(joins, (here, there), strict=True)]
        back = [str(jack) if node[0] == "pole" else jack.thing for jack, node in zip(joins, (there, here), strict=True)]
        if ends == [here[1], there[1]]:
            return list(run.points)
        if back == [there[1], here[1]]:
            return list(reversed(run.points))
    return []


def _apart(box: Box, point: Point) -> float:
    assert box.footprint is not None
    return distance(box.footprint.middle, point)
