"""Positive-ground pedal shorts a shared supply.

## What it finds
An outlet whose plus and minus end up joined through the screens of the audio leads, because a pedal whose ground is plus
shares its supply with pedals whose ground is minus.

## Why it matters
Some vintage-style fuzzes are wired upside down: their ground is plus. Alone that is harmless. Share its supply with
normal pedals, and the screens of your patch leads become a short circuit.

## How it decides
It follows the metal: which pole of its outlet each pedal's ground is on, which grounds the screens of the audio leads
join (screens are never switched), and which returns are one inside a supply that is not isolated. If an outlet's two
poles end in one piece of metal, it is a dead short, and the way round is printed. A plug the wrong way round turns a normal
pedal upside down too, so where nobody said which way round a plug is, and others share its supply's return, it asks.

## How to mend it
An isolated outlet of its own, with a reversing lead if its jack needs one; or a battery.

## Source
Physics.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.conductors import MINUS, PLUS, grounded_on, pole
from boardwright.board.feeding import Device
from boardwright.board.power import Circuit
from boardwright.rules import things
from boardwright.rules.power._feeds import polarity_question
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, trips
from boardwright.spec.power_phrase import Flow


@rule(Severity.FAULT, lesson="quiet-power", explained_by=("outlets-combined-without-permission", "plug-polarity-reversed"))
def positive_ground_shorts_shared_supply(board: Board) -> Iterator[Judgement]:
    metal = board.conductors
    pools = board.power.pools()
    for outlet in board.power.outlets:
        circuits = board.power.circuits_of(outlet)
        hung = [pair for circuit in circuits for pair in circuit.hung]
        if not hung or outlet.gives.flow is Flow.AC:
            continue
        neighbours = pools.get(board.power.pool(outlet), [])
        upside_down = [device for device, line in hung if grounded_on(device, line) == PLUS]
        unsure = [device for device, _ in hung if _may_be_positive(device)]
        about = [*map(things.of_device, upside_down or unsure or [hung[0][0]]), things.of_outlet(outlet)]
        if metal.joined(pole(outlet, PLUS), pole(outlet, MINUS)):
            way = metal.way(pole(outlet, PLUS), pole(outlet, MINUS))
            who = things.listed([device.name for device in upside_down]) if upside_down else f"What hangs on `{outlet.id}`"
            does = "have their ground on plus and share" if len(upside_down) > 1 else "has its ground on plus and shares"
            yield trips(
                Severity.FAULT,
                about,
                f"{who} {does} a supply with pedals whose ground is minus. Plus and minus of outlet "
                f"`{outlet.id}` are joined: by {', then '.join(way)}. That is a dead short.",
                "Give it an isolated outlet of its own, or a battery.",
                at=upside_down[0].lines[0].path if upside_down else outlet.path,
            )
        elif unsure and len(neighbours) > 1:
            name = unsure[0].name
            yield cannot_tell(
                Severity.FAULT,
                about,
                f"Is `{name}` a positive-ground circuit? With nothing plugged into the wall, measure: is the sleeve of its audio jack "
                "joined to the plus or to the minus of its power jack?",
                before_power=True,
            )
        elif upside_down and len(neighbours) > 1 and not board.audio.described:
            question = f"`{upside_down[0].name}` has its ground on plus and shares a supply. Which pedals is it patched to? Write `audio`."
            yield cannot_tell(Severity.FAULT, about, question, before_power=True)
        elif len(neighbours) > 1 and (turned := _unknown_polarity(circuits)):
            device, question = turned
            yield cannot_tell(Severity.FAULT, [things.of_device(device), things.of_outlet(outlet)], question, before_power=True)
        else:
            yield clear(*about)


def _unknown_polarity(circuits: list[Circuit]) -> tuple[Device, str] | None:
    """A device that may get plus where it wants minus, which puts its ground on plus too; and what to ask."""
    for circuit in circuits:
        for device, _ in circuit.hung:
            asked = None if device.takes_nothing or device.needs.flow is Flow.AC or device.supply else polarity_question(circuit, device)
            if asked is not None:
                return device, asked
    return None


def _may_be_positive(device: Device) -> bool:
    """Whether it is of a kind that is often positive-ground, and does not say."""
    pedal = device.pedal
    if pedal is None or pedal.ground in ("negative", "positive", "isolated"):
        return False
    return pedal.kind in ("fuzz", "treble-booster") or pedal.transistors == "germanium" or pedal.ground == "unknown"
