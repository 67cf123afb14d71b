"""The cut list: every lead with its ends, its cut length and its label, what to buy, and which reel to cut it from."""

from __future__ import annotations

import csv
import io
import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.layout.cuts import Bought, Cut
from boardwright.board.layout.leads import POWER, Lead
from boardwright.board.layout.packing import Packing, pack
from boardwright.physics.lengths import length_tolerance
from boardwright.report import svg
from boardwright.spec.figure import tell

COLUMNS = ("label", "from", "to", "cable", "plugs", "finished", "cut", "may be over", "basis", "cut from", "label text")

HEADS = ("done", "lead", "from", "to", "plugs", "finished", "cut", "at most over", "cut from")
"""Of the printed sheet."""


@dataclass(frozen=True, slots=True)
class Row:
    """A lead to be made. Lengths in metres; ``over``: how much longer than wanted the made lead may be."""

    label: str
    start: str
    end: str
    plugs: tuple[str, str]
    finished: float
    cut: float
    over: float
    basis: str
    piece: str
    """The reel or bought length that it is cut from."""

    @property
    def text(self) -> str:
        """What stands on both of its labels."""
        return f"{self.label} {self.start} > {self.end}"


@dataclass(slots=True)
class Group:
    """All leads of one cable. Lengths in metres."""

    cable: str
    rows: list[Row]
    packing: Packing
    cut: float
    needed: float
    """With a little to spare."""
    reels: float
    plugs: dict[str, int] = field(default_factory=dict)
    """Plugs to have, by kind, spares included."""
    two_conductors: bool = False


@dataclass(slots=True)
class CutList:
    groups: list[Group]
    bought: list[Bought]
    """Leads that are bought as they are."""
    ways_proposed: bool

    @property
    def rows(self) -> list[Row]:
        return [row for group in self.groups for row in group.rows]


def cut_list(board: Board) -> CutList:
    """Every lead of a board, to be made or to be bought. Lengths are never short of what is wanted."""
    listed = board.layout.list_of_leads
    by_cable: dict[str, list[Cut]] = {}
    for each in listed:
        if isinstance(each, Cut):
            by_cable.setdefault(each.cable, []).append(each)
    groups = [_group(board, cable, cuts) for cable, cuts in by_cable.items()]
    bought = [each for each in listed if isinstance(each, Bought)]
    return CutList(groups, bought, any(each.basis == "proposed" for each in listed))


def _group(board: Board, cable: str, cuts: list[Cut]) -> Group:
    stock = board.spec.stock.get(cuts[0].stock or "")
    reels = [reel.value for reel in (stock.reels if stock else None) or () if reel.known]
    lengths = [cut.length for cut in cuts]
    sold = stock.sold_by.value if stock and stock.sold_by is not None and stock.sold_by.known else 0.0
    packing = pack(lengths, reels, max(sold, max(lengths)) if sold else _by_the_metre(lengths, reels))
    of_piece = {number: _piece_name(place, piece.bought, piece.length) for place, piece in enumerate(packing.pieces, 1) for number in piece.cuts}
    rows = [_row(cut, of_piece.get(number, "")) for number, cut in enumerate(cuts)]
    total = math.fsum(cut.length for cut in cuts)  # two Pythons round a plain sum apart
    group = Group(cable, rows, packing, total, total * (1 + limits.CUT_SPARE.value), sum(reels), two_conductors=cuts[0].lead.carries in POWER)
    counts = Counter(plug for row in rows for plug in row.plugs)
    group.plugs = {kind: count + max(1, round(count * limits.PLUG_SPARE.value)) for kind, count in counts.items()}
    return group


def _by_the_metre(lengths: list[float], reels: list[float]) -> float | None:
    """One new length (m) for all that the reels do not hold, spare included, in whole metres; ``None`` if they hold all."""
    rest = sum(lengths[number] for number in pack(lengths, reels, None).left)
    return float(math.ceil(rest * (1 + limits.CUT_SPARE.value) - 1e-9)) if rest else None


def _piece_name(number: int, bought: bool, length: float) -> str:
    return f"{'new length' if bought else 'reel'} {number} ({_metres(length)})"


def _row(cut: Cut, piece: str) -> Row:
    lead = cut.lead
    start, end = (str(end.jack) for end in lead.ends)
    return Row(lead.label, start, end, _plugs(lead), cut.wanted, cut.length, length_tolerance(cut.wanted), cut.basis, piece)


def _plugs(lead: Lead) -> tuple[str, str]:
    kind = {"audio": "audio", "midi": "MIDI", "control": "control"}.get(lead.carries, "power")
    return f"{lead.start.shape} {kind}", f"{lead.end.shape} {kind}"


def _metres(length: float) -> str:
    return f"{length:.2f} m"


def _mm(length: float) -> str:
    return f"{length * 1000:.0f} mm"


# --- text ---------------------------------------------------------------------------------------------------------


def to_text(found: CutList) -> str:
    """The list for a terminal, at 80 columns."""
    return "\n".join(_lines(found)).rstrip() + "\n"


def _lines(found: CutList) -> Iterator[str]:
    if not found.groups and not found.bought:
        yield "No leads are described."
        return
    for group in found.groups:
        yield f"{group.cable}: {len(group.rows)} leads"
        name = max([4, *(len(f"{row.start} > {row.end}") for row in group.rows)])
        name = min(name, 38)
        yield f"  {'lead':<7}{'from > to':<{name}}  {'finished':>9}  {'cut':>9}  {'over':>6}"
        for row in group.rows:
            joins = f"{row.start} > {row.end}"
            joins = joins if len(joins) <= name else joins[: name - 1] + "…"
            yield f"  {row.label:<7}{joins:<{name}}  {_mm(row.finished):>9}  {_mm(row.cut):>9}  {'+' + _mm(row.over):>6}"
        yield f"  Cable: {_metres(group.cut)} in cuts, {_metres(group.needed)} with {tell(limits.CUT_SPARE.value, '%')} to spare."
        for number, piece in enumerate(group.packing.pieces, 1):
            labels = " ".join(group.rows[cut].label for cut in piece.cuts)
            yield from _folded(f"  {_piece_name(number, piece.bought, piece.length)}: {labels}, {_mm(max(piece.left, 0))} left over")
        plugs = ", ".join(f"{count} {kind}" for kind, count in group.plugs.items())
        yield from _folded(f"  Plugs, spares included: {plugs}.")
        if group.two_conductors:
            yield "  Two conductors: mark the one that goes to the plug's inside, at both ends."
        yield ""
    if found.bought:
        yield "Bought as they are"
        for each in found.bought:
            length = "length not known: its way is not described" if each.wanted is None else _mm(each.wanted)
            yield f"  {each.lead.label:<7}{each.lead.joins}  {length}"
        yield ""
    yield "Label every piece before you cut it: the same text at both ends."
    if found.ways_proposed:
        yield "Lengths without a drawn way follow proposed ways. Measure with string first."


def _folded(line: str) -> Iterator[str]:
    from textwrap import wrap

    yield from wrap(line, 80, initial_indent="  ", subsequent_indent="      ", break_on_hyphens=False)


# --- CSV ----------------------------------------------------------------------------------------------------------


def to_csv(found: CutList) -> str:
    """One line for each lead, lengths in whole millimetres, for spreadsheets and label printers."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for group in found.groups:
        for row in group.rows:
            writer.writerow(
                [
                    *map(_harmless, (row.label, row.start, row.end, group.cable, " / ".join(row.plugs))),
                    *(f"{length * 1000:.0f}" for length in (row.finished, row.cut, row.over)),
                    row.basis,
                    row.piece,
                    _harmless(row.text),
                ]
            )
    for each in found.bought:
        start, end = (str(end.jack) for end in each.lead.ends)
        length = "" if each.wanted is None else f"{each.wanted * 1000:.0f}"
        cells = map(_harmless, (each.lead.label, start, end, "bought as it is", ""))
        writer.writerow([*cells, length, "", "", each.basis, "", _harmless(f"{each.lead.label} {each.lead.joins}")])
    return out.getvalue()


def _harmless(text: str) -> str:
    """A cell that no spreadsheet takes for a formula."""
    return f"'{text}" if text[:1] in "=+-@\t\r" else text


# --- printable sheet ----------------------------------------------------------------------------------------------


def to_sheet(found: CutList, board: Board) -> str:
    """The list as a page to print, with a box to tick for each lead and its label text to cut out."""
    name = svg.clean((board.spec.board.name if board.spec.board else None) or "board")
    return _SHEET.format(name=name, body="\n".join([*tables(found), *_labels(found)]))


def tables(found: CutList, heading: str = "h2") -> Iterator[str]:
    """The list as HTML, a table for each cable, each under a ``heading``."""
    for group in found.groups:
        yield f"<{heading}>{svg.clean(group.cable)}: {len(group.rows)} leads</{heading}>"
        yield "<table><thead><tr>" + "".join(f"<th>{head}</th>" for head in HEADS) + "</tr></thead><tbody>"
        for row in group.rows:
            cells = (
                row.label,
                row.start,
                row.end,
                " / ".join(dict.fromkeys(row.plugs)),
                _mm(row.finished),
                _mm(row.cut),
                f"+{_mm(row.over)}",
                row.piece,
            )
            yield "<tr><td class='tick'></td>" + "".join(f"<td>{svg.clean(cell)}</td>" for cell in cells) + "</tr>"
        yield "</tbody></table>"
        plugs = ", ".join(f"{count} {kind}" for kind, count in group.plugs.items())
        yield f"<p>Cable: {_metres(group.cut)} in cuts, {_metres(group.needed)} with spare. Plugs, spares included: {svg.clean(plugs)}.</p>"
        if group.two_conductors:
            yield "<p>Two conductors: mark the one that goes to the plug's inside, at both ends.</p>"
    if found.bought:
        yield f"<{heading}>Bought as they are</{heading}><ul>"
        for each in found.bought:
            length = "length not known" if each.wanted is None else _mm(each.wanted)
            yield f"<li>{svg.clean(each.lead.label)}: {svg.clean(each.lead.joins)}, {length}</li>"
        yield "</ul>"
    if found.ways_proposed:
        yield "<p>Lengths without a drawn way follow proposed ways. Measure with string first.</p>"


def _labels(found: CutList) -> Iterator[str]:
    yield "<h2>Labels</h2><p>Two of each, one for either end.</p><div class='labels'>"
    for row in found.rows:
        yield f"<span>{svg.clean(row.text)}</span><span>{svg.clean(row.text)}</span>"
    yield "</div>"


_SHEET = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<title>{name}: cut list</title>
<style>
@page {{ size: A4; margin: 12mm; }}
body {{ font: 10pt/1.35 system-ui, sans-serif; color: #000; background: #fff; max-width: 186mm; margin: 0 auto; }}
h1 {{ font-size: 14pt; }} h2 {{ font-size: 11pt; break-after: avoid; }}
table {{ border-collapse: collapse; width: 100%; font-size: 8pt; }}
th, td {{ border: 0.3mm solid #888; padding: 0.6mm 1.4mm; text-align: left; }}
tr {{ break-inside: avoid; }} thead {{ display: table-header-group; }}
td:nth-child(n + 5) {{ white-space: nowrap; }}
.tick {{ width: 5mm; }}
.labels {{ display: flex; flex-wrap: wrap; gap: 1.5mm; font-size: 8pt; }}
.labels span {{ border: 0.2mm dashed #888; padding: 0.8mm 1.5mm; break-inside: avoid; }}
</style>
</head>
<body>
<h1>{name}: cut list</h1>
{body}
</body>
</html>
"""
