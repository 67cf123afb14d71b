"""The cautions that travel with every board."""

from __future__ import annotations

from boardwright.report.book.chapter import Book
from boardwright.report.book.markup import Html, paragraph, points, tag
from boardwright.rules.wall import DEFER

YOURS = (
    "Yours to touch is what comes out of the low-voltage side of closed, factory-made supplies: power leads, plugs, patch leads, fixing.",
    "Not yours, unless you are trained and, where you live, licensed: mains cords, inlets and fuses, and the inside of any supply, "
    "amplifier or valve pedal. Some hold hundreds of volts after the plug is out.",
    "Every protective earth stays connected, all the way to the wall. Hum is cured on the signal side.",
    "Measure a power lead before it meets a pedal, and plug the pedal in last. A meter set to amps is a short circuit: never put it across an outlet.",
)

STOP = (
    "a tingle from strings, a microphone, a chassis or a jack",
    "a smell of burning, smoke, crackling, or anything too hot to keep a hand on",
    "a breaker or residual-current device that trips, and trips again",
    "a wall outlet that is loose, warm, scorched or without an earth, or a damaged cord",
    "anything wet that is plugged in",
)


def pieces(book: Book) -> list[Html]:
    return [points(YOURS), stop(), paragraph(DEFER)]


def stop() -> Html:
    """When to switch off and ask; the card for a quiet board says it too."""
    return tag(
        "div",
        tag("p", tag("strong", "Switch off at the wall, leave it off, and ask a qualified person"), " if there is"),
        points(STOP),
        tag("p", "If somebody is being shocked, do not touch them: cut the power first, then call for help."),
        class_="boxed",
    )
