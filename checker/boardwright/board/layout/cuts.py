"""Every lead as something to make or to buy: wanted length, cut length, cable."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from boardwright import limits
from boardwright.board.layout.leads import Lead
from boardwright.board.layout.lengths import cut_length, strip_of, wanted_length

if TYPE_CHECKING:
    from boardwright.board.layout.layout import Layout
    from boardwright.board.layout.ways import LeadWay

CABLES = {"audio": "screened audio", "dc": "power, two conductors", "ac-low": "low-voltage AC, two conductors", "control": "control"}
"""What a lead is cut from where no ``stock`` is described, by what it carries."""


@dataclass(frozen=True, slots=True)
class Cut:
    """A lead to be cut. Lengths in metres; ``wanted`` is from tip to tip."""

    lead: Lead
    cable: str
    stock: str | None
    wanted: float
    strip: float
    length: float
    basis: str
    """Where the wanted length comes from: ``stated``, ``drawn`` or ``proposed``."""


@dataclass(frozen=True, slots=True)
class Bought:
    """A lead that is bought as it is. ``wanted`` is ``None`` where its way is not known."""

    lead: Lead
    wanted: float | None
    basis: str


def cuts_of(layout: Layout) -> list[Cut]:
    """The leads to be made, in the order of the board."""
    return [each for each in layout.list_of_leads if isinstance(each, Cut)]


def list_leads(layout: Layout) -> list[Cut | Bought]:
    """Every lead. Sound on the board is made, the rest is bought, unless ``made``, ``cut`` or ``stock`` says otherwise."""
    ways = {id(each.lead): each for each in layout.ways}
    listed: list[Cut | Bought] = []
    for lead in layout.leads:
        wanted, basis = _wanted(lead, ways.get(id(lead)))
        stock = _stock(layout, lead)
        if wanted is None or not _is_made(lead, stock):
            listed.append(Bought(lead, None if wanted is None else _rounded(wanted), basis))
            continue
        section = lead.run.section if lead.run else None
        stated = section.strip.value if section and section.strip is not None and section.strip.known else None
        strip = strip_of(lead.made, stated)
        cable = stock or CABLES.get(lead.carries, lead.carries)
        listed.append(Cut(lead, cable, stock, wanted, strip, cut_length(wanted, strip), basis))
    return listed


def _wanted(lead: Lead, way: LeadWay | None) -> tuple[float | None, str]:
    if lead.length is not None and lead.length.known and lead.length.value > 0:
        return lead.length.value, "stated"
    if way is None or way.length is None:
        return None, "not known"
    return wanted_length(way.length), "proposed" if way.proposed else "drawn"


def _rounded(wanted: float) -> float:
    """Up to the step in which leads are sold."""
    step = limits.LENGTH_STEP.value
    return math.ceil(wanted / step - 1e-9) * step


def _stock(layout: Layout, lead: Lead) -> str | None:
    named = lead.run.section.stock if lead.run else None
    if named in layout.spec.stock:
        return named
    return next((name for name, stock in layout.spec.stock.items() if stock.carries == lead.carries), None)


def _is_made(lead: Lead, stock: str | None) -> bool:
    if lead.daisy or lead.made == "moulded" or lead.carries in ("mains", "usb"):
        return False
    section = lead.run.section if lead.run else None
    if lead.made in ("soldered", "crimped", "clamped") or (section and (section.cut is not None or section.stock)):
        return True
    return not lead.leaves_board and (lead.carries == "audio" or stock is not None)
