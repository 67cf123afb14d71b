"""Which box stands in which loop, and what every preset sets and lets through, in words."""

from __future__ import annotations

from boardwright.board.signal.diagrams import TooManyStates
from boardwright.board.signal.signal import Signal
from boardwright.board.signal.stages import Role, Stage
from boardwright.board.signal.switches import PresetStates, State, SwitchKind
from boardwright.report.book.chapter import Absent, Book
from boardwright.report.book.markup import Child, Html, prose, table, tag
from boardwright.spec.sections.isolators import Isolator
from boardwright.spec.sections.switchers import Loop


def pieces(book: Book) -> list[Html] | Absent:
    switchers = book.board.spec.switchers.items()
    loops = [(name, "always in" if key is None else key, _within(loop)) for name, switcher in switchers for key, loop in switcher.in_order()]
    parts = []
    if loops:
        parts += [tag("h3", "Loops"), table(("switcher", "loop", "what stands in it"), loops)]
    presets = book.board.signal.switches.presets
    if presets:
        parts += [tag("h3", "Presets"), tag("p", "Loops, sends and mutes that a preset does not name are off.", class_="lead-in")]
        parts.append(table(("preset", "switched", "what is heard"), [_preset(book, preset) for preset in presets.values()]))
    elif loops:
        parts.append(tag("p", "No presets are described."))
    return parts or Absent("no switcher and no presets are described.")


def _within(loop: Loop) -> str:
    if loop.unit:
        return ", then ".join(str(jack) for jack in loop.unit)
    ends = [f"send to {loop.send_to}" if loop.send_to else "", f"return from {loop.return_from}" if loop.return_from else ""]
    return ", ".join(filter(None, ends)) or "empty"


def _preset(book: Book, preset: PresetStates) -> tuple[Child, ...]:
    switches = book.board.signal.switches
    loopers = {each.thing for each in switches.ordered if each.kind is SwitchKind.LOOP}
    # What a pedal that stays in a loop does is no switch of the player's.
    named = [switches[id_].words(True, alone=len(loopers) < 2) for id_, is_on in preset.positions.items() if is_on]
    section = book.board.spec.presets[preset.name]
    if section.free:
        named.append(f"by foot: {', '.join(f'`{each}`' for each in section.free)}")
    marks = [word for word, is_so in (("meant to be silent", preset.quiet), ("meant to be louder", preset.louder)) if is_so]
    said = ", ".join(named) or "nothing"
    return preset.name, prose(f"{said} ({', '.join(marks)})" if marks else said), _heard(book.board.signal, preset)


def _colours(stage: Stage) -> bool:
    """Whether it is a box that a player would name among what is heard."""
    return stage.role is not Role.AMP and not isinstance(stage.section, Isolator)


def _heard(signal: Signal, preset: PresetStates) -> Child:
    """At each amplifier, the sources and the boxes whose own sound is on what is heard."""
    try:
        live = set(signal.live(State({}, preset.name, "")))
    except TooManyStates as error:
        return f"cannot tell: too many {error.of}"
    heard: dict[str, list[str]] = {}
    for amp in signal.amps:
        behind = signal.graph.behind([signal.heard(amp)], live.__contains__)
        onward = sorted((edge for edge in live if edge.end in behind), key=lambda edge: signal.graph.order[edge.start])
        sources = [name for name in signal.sources if any(node in behind for node in signal.starts(name))]
        engaged = [edge.stage.name for edge in onward if edge.engaged and edge.stage is not None and _colours(edge.stage)]
        way = ", ".join(dict.fromkeys([*sources, *engaged])) if sources else "nothing"
        heard.setdefault(way, []).append(amp)
    return [tag("div", tag("strong", " and ".join(amps)), f": {way}") for way, amps in heard.items()]
