"""Who hands messages to whom, who listens on which channel, and what other leads carry no sound."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.layout.cuts import Bought, Cut
from boardwright.board.layout.leads import DATA
from boardwright.report.book.chapter import Absent, Book
from boardwright.report.book.markup import Child, Html, table, tag
from boardwright.report.book.reading import CARRIED

THRU = {"hard": "by wire", "soft": "by its processor", "none": "no"}


def pieces(book: Book) -> list[Html] | Absent:
    leads = [_lead(each) for each in book.board.layout.list_of_leads if each.lead.carries in DATA]
    boxes = list(_boxes(book))
    if not leads and not boxes:
        return Absent("no MIDI, control or computer leads are described.")
    parts = []
    if leads:
        parts += [tag("h3", "Leads"), table(("lead", "from", "to", "carries", "length"), leads)]
    if boxes:
        parts += [tag("h3", "Channels"), table(("box", "listens on", "sends on", "hands messages on", "socket"), boxes)]
    return parts


def _lead(listed: Cut | Bought) -> tuple[Child, ...]:
    lead = listed.lead
    length = "?" if listed.wanted is None else f"{listed.wanted * 1000:.0f} mm"
    return lead.label, str(lead.start.jack), str(lead.end.jack), CARRIED[lead.carries], length


def _boxes(book: Book) -> Iterator[tuple[Child, ...]]:
    for section in (book.board.spec.switchers, book.board.spec.pedals):
        for name, box in section.items():
            midi = box.midi
            if midi is None:
                continue
            listens = "every channel" if midi.omni else "" if midi.channel is None else str(midi.channel)
            sends = ", ".join(str(channel) for channel in midi.sends or () if channel is not None)
            yield name, listens, sends, THRU.get(midi.thru or "", ""), (midi.jack or "").upper()
