"""The card for the day that it goes quiet: the rescue first, then the tests that halve the chain, and when to stop."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass

from boardwright.board.audio import GUITAR
from boardwright.board.signal.diagrams import TooManyStates
from boardwright.board.signal.graph import Edge
from boardwright.board.signal.switches import State, SwitchKind
from boardwright.physics.search import Split, half_split
from boardwright.report.book import spares
from boardwright.report.book.cautions import stop
from boardwright.report.book.chapter import Absent, Book
from boardwright.report.book.markup import Html, paragraph, points, prose, table, tag


@dataclass(frozen=True, slots=True)
class Part:
    """A lead and the box that it leads to: what can be told good or bad by listening at the box's output."""

    name: str
    output: str


def pieces(book: Book) -> list[Html] | Absent:
    amp, source = _amp(book), _source(book)
    if amp is None or source is None:
        return Absent("no way from a guitar to an amplifier is described.")
    parts = [tag("p", "Keep this page with the board.", class_="lead-in")]
    parts += [tag("h3", "1  Rescue"), points(_rescue(book, source, amp), "ol")]
    if settings := list(_settings(book)):
        parts += [tag("h3", "2  Is it meant to be quiet?"), points(settings)]
    state = _state(book, source, amp)
    chain = list(_chain(book, book.board.signal.way_of(source, amp, state))) if state is not None else []
    if state is not None and len(chain) > 1:
        parts += [tag("h3", "3  Halve the way, and halve again"), *_tests(book, chain, state, source, amp)]
    return [tag("div", parts, stop(), class_="card")]


def _amp(book: Book) -> str | None:
    """The amplifier that must be heard; where none is said to be required, the first."""
    required = [name for name, amp in book.board.spec.amps.items() if amp.required == "yes"]
    return next((name for name in (*required, *book.board.signal.amps) if name in book.board.signal.amps), None)


def _source(book: Book) -> str | None:
    sources = book.board.signal.sources
    return GUITAR if GUITAR in sources else next(iter(sources), None)


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


def _state(book: Book, source: str, amp: str) -> State | None:
    """The state that the tests are made in: the first preset that is heard, or else one that takes the fewest switches."""
    signal = book.board.signal
    try:
        return signal.switches.witness(signal.diagrams.without(signal.hears(amp, source), signal.switches.quiet))
    except TooManyStates:
        return None


def _chain(book: Book, way: list[Edge]) -> Iterator[Part]:
    hops = [edge.hop for edge in way if edge.hop is not None]
    for hop, onward in zip(hops, [*hops[1:], None], strict=True):
        lead = book.lead(hop.path, hop.start, hop.end)
        label = f"lead {lead.label}" if lead else f"the lead `{hop.start}` to `{hop.end}`"
        yield Part(f"{label} or `{hop.end.thing}`", str(onward.start) if onward else "")


def _tests(book: Book, chain: list[Part], state: State, source: str, amp: str) -> Iterator[Html]:
    plan = half_split([1.0] * len(chain), [1.0] * (len(chain) - 1))
    yield paragraph(
        f"Play `{source}` {state.words}. To listen at a socket, pull its plug and run a good lead from there straight into `{amp}`. "
        "Start with test 1. Where two things are left, change the lead first."
    )
    waiting, numbers, rows = deque([plan.first]), 1, []
    while waiting:
        test = waiting.popleft()
        if not isinstance(test, Split):
            continue
        answers = []
        for then in (test.good, test.bad):
            if isinstance(then, Split):
                numbers += 1
                waiting.append(then)
                answers.append(f"test {numbers}")
            else:
                answers.append(f"it is {chain[then].name}")
        rows.append((str(len(rows) + 1), *(prose(cell) for cell in (f"Listen at `{chain[test.after].output}`.", *answers))))
    yield table(("test", "do", "sound", "no sound"), rows)
