"""Control lead wired the other way.

## What it finds
An expression pedal whose wiper is on the wrong contact, whose plug has too few contacts or whose pot does not suit; a
footswitch of the wrong kind; and TRS MIDI of two types on one lead.

## Why it matters
Control pedals are simple, but come in mirror-image wirings. The wrong one is not dangerous, it just misbehaves.

## How it decides
What the lead states is compared with what the jack wants: wiper on tip or ring, the pot within its range (10 kΩ to 50 kΩ
where none is stated), contact open or closed, action momentary or latching, TRS where two things are switched. MIDI on TRS
comes as type A and type B, which are mirror images: one meets the other only through a crossing lead.

## How to mend it
The switch on the pedal, a crossing adaptor, or a lead with the two wires swapped.

## Source
The MIDI specification for TRS adaptors (RP-054); common practice for the rest.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import midi_leads, midi_of, thing
from boardwright.rules.verdict import Judgement, Severity, Thing, cannot_tell, clear, trips
from boardwright.spec.figure import Figure
from boardwright.spec.sections.boxes import ExpressionJack, SwitchJack
from boardwright.spec.sections.control import ControlLead

_USUAL_POT = (10e3, 50e3)


@rule(Severity.RISK, lesson="control-and-midi")
def control_jack_wiring_mismatch(board: Board) -> Iterator[Judgement]:
    for number, lead in board.spec.control.items():
        if lead.from_ is None or lead.to is None:
            continue
        about = [Thing(jack.thing, board.names.get(jack.thing, ("control", number))) for jack in (lead.to, lead.from_)]
        stage = board.signal.stages.get(lead.to.thing)
        section = stage.section if stage else None
        source = board.signal.stages.get(lead.from_.thing)
        exp, switch = getattr(section, "exp", None), getattr(section, "switch_in", None)
        if source is not None and source.kind_name == "expression-pedal":
            yield _expression(lead, exp, about, ("control", number))
        else:
            yield _switch(lead, switch, about, ("control", number))
    yield from _midi(board)


def _expression(lead: ControlLead, exp: ExpressionJack | None, about: list[Thing], at) -> Judgement:
    wants = exp.wiper if exp else None
    low, high = _range(exp.pot if exp else None)
    if lead.plug == "ts":
        return trips(Severity.RISK, about, f"The expression pedal of `{about[0].name}` is on a two-contact lead: it needs three.", "Use a TRS lead.", at=at)
    if lead.pot is not None and lead.pot.known and not low <= lead.pot.value <= high:
        return trips(
            Severity.RISK,
            about,
            f"The expression pedal has a pot of {lead.pot}, and `{about[0].name}` works with {low / 1e3:g} to {high / 1e3:g} kΩ: "
            "its sweep bunches up at one end.",
            "Use a pedal with a pot that suits.",
            at=at,
        )
    if wants not in ("tip", "ring"):
        return clear(*about)
    if lead.wiper not in ("tip", "ring"):
        question = f"Is the wiper of `{lead.from_}` on tip or ring? If the sweep does nothing until the very end, it is the other one."
        return cannot_tell(Severity.RISK, about, question, at=at)
    if lead.wiper != wants:
        return trips(
            Severity.RISK,
            about,
            f"`{about[0].name}` wants the wiper on the {wants}, and `{lead.from_}` has it on the {lead.wiper}: the sweep jumps, or is stuck.",
            "Flip the switch on the pedal, if it has one, or use a crossing adaptor.",
            at=at,
        )
    return clear(*about)


def _range(pot: Figure | None) -> tuple[float, float]:
    return (pot.low, pot.high) if pot is not None and pot.low is not None and pot.high is not None and pot.low < pot.high else _USUAL_POT


def _switch(lead: ControlLead, switch: SwitchJack | None, about: list[Thing], at) -> Judgement:
    if lead.functions == "2" and lead.plug == "ts":
        return trips(Severity.RISK, about, f"Two things are to be switched at `{about[0].name}`, and the lead has two contacts.", "Use a TRS lead.", at=at)
    if switch is None:
        return clear(*about)
    for has, wants in ((lead.contact, switch.contact), (lead.action, switch.action)):
        if _differ(has, wants):
            tap = " Tap tempo then takes two presses for each tap." if (has, wants) == ("latching", "momentary") else ""
            return trips(
                Severity.RISK,
                about,
                f"`{about[0].name}` wants a {wants} footswitch, and `{lead.from_}` is {has}.{tap}",
                f"Use a footswitch that is {wants}, or set it so.",
                at=at,
            )
    if _differ(lead.plug, switch.plug):
        has, wants = str(lead.plug).upper(), str(switch.plug).upper()
        said = f"The footswitch jack of `{about[0].name}` is for a {wants} plug, and the lead of `{lead.from_}` has {has}."
        return trips(Severity.RISK, about, said, f"Use a {wants} lead.", at=at)
    return clear(*about)


def _differ(has: str | None, wants: str | None) -> bool:
    return has is not None and wants is not None and "unknown" not in (has, wants) and has != wants


def _midi(board: Board) -> Iterator[Judgement]:
    for start, end, number in midi_leads(board):
        kinds = [midi.jack if midi else None for midi in (midi_of(board, start.thing), midi_of(board, end.thing))]
        if set(kinds) == {"trs-a", "trs-b"} and not board.spec.midi[number].crosses:
            one, other = ((kind or "")[-1].upper() for kind in kinds)
            yield trips(
                Severity.RISK,
                [thing(board, end.thing), thing(board, start.thing)],
                f"`{start.thing}` has MIDI on TRS type {one} and `{end.thing}` type {other}: tip and ring are swapped.",
                "Use a crossing lead or adaptor between them.",
                at=("midi", number),
            )
        elif all(kinds):
            yield clear(thing(board, end.thing))
