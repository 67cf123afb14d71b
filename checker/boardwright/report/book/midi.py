"""Who hands messages to whom, who listens on which channel, and what other leads carry no sound."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.layout.leads import DATA
from boardwright.report.book.chapter import Absent, Book
from boardwright.report.book.markup import Child, Html, table, tag
from boardwright.report.book.reading import CARRIED
from boardwright.spec.figure import tell

THRU = {"hard": "by wire", "soft": "by its processor", "none": "no"}


def pieces(book: Book) -> list[Html] | Absent:
    leads = [_lead(book, lead.label, lead) for lead in book.board.layout.leads if lead.carries in DATA]
    boxes = list(_boxes(book))
    if not leads and not boxes:
        return Absent("no MIDI, control or computer leads are described.")
    parts = []
    if leads:
        parts += [tag("h3", "Leads"), table(("lead", "from", "to", "carries", "length"), leads)]
    if boxes:
        parts += [tag("h3", "Channels"), table(("box", "listens on", "sends on", "hands messages on", "socket"), boxes)]
    return parts


def _lead(book: Book, label: str, lead) -> tuple[Child, ...]:  # type: ignore[no-untyped-def]
    length = lead.length.value if lead.length is not None and lead.length.known else None
    return label, str(lead.start.jack), str(lead.end.jack), CARRIED[lead.carries], "?" if length is None else tell(length, "m")


def _boxes(book: Book) -> Iterator[tuple[Child, ...]]:
    for section in (book.board.spec.switchers, book.board.spec.pedals):
        for name, box in section.items():
            midi = box.midi
            if midi is None:
                continue
            listens = "every channel" if midi.omni else "" if midi.channel is None else str(midi.channel)
            sends = ", ".join(str(channel) for channel in midi.sends or () if channel is not None)
            yield name, listens, sends, THRU.get(midi.thru or "", ""), (midi.jack or "").upper()
