"""What a meter shows on leads by themselves, out of the board or not yet in it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from boardwright import limits
from boardwright.board.audio import Hop
from boardwright.board.bench.expected import Expected
from boardwright.board.feeding import Line, per_metre
from boardwright.board.ground_bonds import Bond
from boardwright.board.ground_hum import lead_length, screen_resistance
from boardwright.board.layout.leads import Lead
from boardwright.spec.figure import Figure, Origin, weakest

if TYPE_CHECKING:
    from boardwright.board.assemble import Board

BY_HAND = ("soldered", "crimped", "clamped")
END_TO_END = "Ohms from one plug to the other, after taking away what the meter shows with its own probes together. Bend the lead at both plugs."
ACROSS = "Ohms from tip to sleeve of one plug, the other plug free. Bend the lead at both plugs."


def readings(board: Board) -> Iterator[Expected]:
    hops = {(str(hop.start), str(hop.end), hop.path): hop for hop in board.audio.hops}
    screens = {id(bond.hop): bond for bond in board.ground.screens if bond.hop is not None}
    for lead in board.layout.leads:
        if lead.carries == "audio":
            hop = hops.get((str(lead.start.jack), str(lead.end.jack), lead.path))
            yield from _of_lead(lead, audio_length(board, lead, hop), _sleeve(hop, screens))
    lines = {(name, line.path): line for name, device in board.power.devices.items() for line in device.lines}
    for lead in board.layout.leads:
        line = lines.get((lead.end.name, lead.path))
        if line is not None and lead.carries in ("dc", "ac-low"):
            yield from _of_power_lead(lead, line)


def audio_length(board: Board, lead: Lead, hop: Hop | None) -> Figure:
    """Length of an audio lead (m): as stated, or a usual one for where it runs."""
    if lead.length is not None and lead.length.known:
        return lead.length
    if hop is None:
        return Figure(limits.BOARD_LEAD.value, limits.BOARD_LEAD.value, "m", Origin.ASSUMED)
    return lead_length(board, hop)


def is_handmade(board: Board, lead: Lead) -> bool:
    """Whether its plugs were put on at a bench, so that nobody but the builder has tried it."""
    if lead.daisy or lead.made == "moulded" or lead.carries not in ("audio", "dc", "ac-low", "control"):
        return False
    section = lead.run.section if lead.run else None
    if lead.made in BY_HAND or (section is not None and (section.cut is not None or section.stock)):
        return True
    return not lead.leaves_board and any(stock.carries == lead.carries for stock in board.spec.stock.values())


def _sleeve(hop: Hop | None, screens: dict[int, Bond]) -> bool | None:
    """Whether the sleeve goes through; ``None`` where nobody knows."""
    if hop is None or hop.start.thing == hop.end.thing:
        return True
    bond = screens.get(id(hop))
    return False if bond is None else True if bond.sure else None


def _of_power_lead(lead: Lead, line: Line) -> Iterator[Expected]:
    """Inside to inside (``tip``) and barrel to barrel (``sleeve``); in a lead that swaps them, from the one to the other."""
    each = line.resistance.value / 2
    how = END_TO_END if line.reversals % 2 == 0 else f"{END_TO_END} This lead swaps its contacts: go from the inside of one plug to the barrel of the other."
    for of in ("tip", "sleeve"):
        yield Expected((lead.label,), "ohms", lead.path, how, of=of, value=each, high=each + limits.READING_LEAD.value, origin=line.resistance.origin)
    yield Expected((lead.label,), "ohms", lead.path, ACROSS, of="tip-to-sleeve", low=limits.READING_OPEN.value)


def _of_lead(lead: Lead, length: Figure, sleeve: bool | None) -> Iterator[Expected]:
    origin = weakest([length.origin, Origin.ASSUMED])  # what its conductors are made of is nowhere stated
    where = (lead.label,)
    core = length.value * per_metre(None) + 2 * limits.CONTACT.value
    yield Expected(where, "ohms", lead.path, END_TO_END, of="tip", value=core, high=core + limits.READING_LEAD.value, origin=origin)
    screen = screen_resistance(length.value)
    if sleeve:
        yield Expected(where, "ohms", lead.path, END_TO_END, of="sleeve", value=screen, high=screen + limits.READING_LEAD.value, origin=origin)
    elif sleeve is False:
        yield Expected(where, "ohms", lead.path, END_TO_END, of="sleeve", low=limits.READING_APART.value)
    yield Expected(where, "ohms", lead.path, ACROSS, of="tip-to-sleeve", low=limits.READING_OPEN.value)
