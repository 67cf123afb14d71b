"""The card for the day that it goes quiet: the rescue first, then the tests that find the fault soonest, and when to stop."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.hunt import Explained, Hunt, NoHunt
from boardwright.board.hunt.causes import OTHER_FIRST, explains
from boardwright.board.signal.switches import SwitchKind
from boardwright.report.book import spares
from boardwright.report.book.cautions import stop
from boardwright.report.book.chapter import Absent, Book
from boardwright.report.book.markup import Html, paragraph, points, prose, table, tag
from boardwright.report.hunt import STOP, numbered
from boardwright.rules.verdict import Severity
from boardwright.spec.sections.symptom import Symptom

SILENT = "silent"
MOST_TESTS = 60
"""A card that takes more would be a book of its own."""


def pieces(book: Book) -> list[Html] | Absent:
    try:
        hunt = Hunt(book.board, Symptom(kind=SILENT), list(_explained(book)))
    except NoHunt as reason:
        return Absent(str(reason))
    source, amp = hunt.situation.source, hunt.situation.ends[0]
    parts = [
        tag("p", "Keep this page with the board.", class_="lead-in"),
        tag("h3", "Rescue"),
        points(_rescue(book, source, amp), "ol"),
    ]
    if settings := list(_settings(book)):
        parts += [tag("h3", "Is it meant to be quiet?"), points(settings)]
    return [tag("div", parts, stop(), tag("h3", "Find the fault"), list(_tests(hunt)), class_="card")]


def _explained(book: Book) -> Iterator[Explained]:
    """Dangers, which forbid any test, and what was found that silences a board."""
    for finding in book.report.findings:
        danger = finding.severity == Severity.DANGER
        about = finding.things[0].name
        if danger or explains(book.board, SILENT, finding.rule, about):
            yield Explained(finding.rule, finding.sentence, finding.remedy, about, danger)


def _rescue(book: Book, source: str, amp: str) -> Iterator[str]:
    rescue = [each for each in book.board.spec.spares.values() if each.rescue == "yes"]
    lead = ", ".join(str(cell) for cell in spares.row(rescue[0])[::2] if cell) if rescue else "any lead that is long enough; none is named as a rescue lead"
    yield f"One lead, `{source}` straight into `{amp}` ({lead}). If there is sound, play on: the amplifier is good, and the fault is on the board."
    for name, switcher in book.board.spec.switchers.items():
        if switcher.unpowered == "passes":
            yield f"`{name}` passes the sound with its power pulled, as the text says: if it hangs, pull its power plug and play on without it."
        elif switcher.unpowered == "silent":
            yield f"`{name}` is silent without power: look at its light and its outlet first."
    yield f"No sound with the one lead either? Then it is `{amp}`, the lead, or `{source}`: try each with another."


def _settings(book: Book) -> Iterator[str]:
    switches = book.board.signal.switches
    quiet = [name for name, preset in switches.presets.items() if preset.quiet]
    if quiet:
        yield f"Silent on purpose: preset {', '.join(f'`{name}`' for name in quiet)}."
    muting = list(dict.fromkeys(switch.thing for switch in switches.ordered if switch.silences and switch.kind is SwitchKind.FOOTSWITCH))
    if muting:
        yield f"Silent while it is on: {', '.join(f'`{name}`' for name in muting)}."
    treadles = [name for name, stage in book.board.signal.stages.items() if stage.kind_name == "volume-pedal"]
    if treadles:
        yield f"Silent with the heel down: {', '.join(f'`{name}`' for name in treadles)}."


def _tests(hunt: Hunt) -> Iterator[Html]:
    if hunt.stops:
        yield from (paragraph(f"{each.sentence} {each.remedy}") for each in hunt.stops)
        yield paragraph(STOP)
        return
    tests = numbered(hunt)
    yield paragraph(f"{OTHER_FIRST} Play `{hunt.situation.source}` {hunt.situation.words}. Begin with test 1.", class_="lead-in")
    rows = [(str(number), *map(prose, (f"{step.probe.do} {step.probe.ask}", good, bad))) for number, step, good, bad in tests[:MOST_TESTS]]
    yield table(("test", "do this", "yes", "no"), rows, "tests")
    if len(tests) > MOST_TESTS:
        yield paragraph("For the tests beyond these, hunt on with the checker.")
