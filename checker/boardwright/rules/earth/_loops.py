"""What several earth rules say of a loop: what it is really about, how loud it may be, and how to cure it."""

from __future__ import annotations

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.ground import Loop
from boardwright.board.ground_bonds import Via
from boardwright.board.ground_hum import Hum, loop_hum
from boardwright.rules.verdict import Number, Thing
from boardwright.spec.figure import tell

KEEP_EARTH = "Every mains earth stays in place, as the local electrical code wants it; in doubt, ask a qualified person."
"""Ends every remedy for hum: the cure is on the signal side."""

HUM = "hum, an estimate"
"""What the number that a finding of a loop begins with is called."""


def thing(board: Board, name: str) -> Thing:
    """A thing of the ground graph; what is no thing of its own (the mains of a frame) is named by its section."""
    return Thing(name, board.ground.path_of(name))


def subject(board: Board, loop: Loop) -> str:
    """What a loop is really about: an isolator that something goes round or that passes its screen; else a computer on its
    way; else the amplifier that closes it."""
    for name, far in board.ground.isolated:
        near_and_far = {("ground", name), far}
        if any({bond.a, bond.b} == near_and_far for bond in loop.way):
            return name
    for name, far in board.ground.isolated:
        way = board.ground.side_path(far)
        if way and {bond.says for bond in way} & {bond.says for bond in loop.way if bond.via is not Via.SCREEN}:
            return name
    computers = [name for name in loop.cords if name in board.spec.computers]
    return computers[0] if computers else loop.back.owner


def things_of(board: Board, loop: Loop) -> list[Thing]:
    """The subject first, then the two whose mains cords the loop goes by."""
    return [thing(board, name) for name in dict.fromkeys([subject(board, loop), *reversed(loop.cords)])]


def hum_numbers(board: Board, loop: Loop) -> list[Number]:
    """The estimate and all that it rests on."""
    hum = loop_hum(board, loop)
    return [] if hum is None else [*_estimate(hum), *_assumptions(hum)]


def _estimate(hum: Hum) -> list[Number]:
    return [
        Number(HUM, f"about {tell(hum.volts, 'V', 2)}", hum.volts, "V", "assumed"),
        Number("against a guitar", tell(hum.against_guitar, "dB", 2), hum.against_guitar, "dB", "assumed"),
    ]


def _assumptions(hum: Hum) -> list[Number]:
    difference = hum.difference
    return [
        Number("between the earths", tell(difference.value, "V"), difference.value, "V", "assumed"),
        Number("leads of the loop", tell(hum.length.value, "m"), hum.length.value, "m", hum.length.origin.word),
        Number("their screens", tell(hum.screen, "Ω", 2), hum.screen, "Ω", "assumed"),
        Number("the way through the wall", tell(limits.EARTH_WAY.value, "Ω"), limits.EARTH_WAY.value, "Ω", "assumed"),
        Number("induced by the room", tell(hum.induced, "V", 2), hum.induced, "V", "assumed"),
        Number("area of the loop", tell(hum.area, "m²", 2), hum.area, "m²", "assumed"),
        Number("field of the room", tell(limits.ROOM_FIELD.value, "T"), limits.ROOM_FIELD.value, "T", "assumed"),
    ]


def cure(board: Board, loop: Loop) -> str:
    """How to open a loop on the signal side."""
    who = subject(board, loop)
    spec = board.spec
    ends = f"`{next((name for name in (loop.back.owner, *loop.cords) if name in spec.amps), loop.back.owner)}`"
    if who in spec.isolators or who in spec.pedals or who in spec.switchers:
        if any({("ground", who)} < {bond.a, bond.b} and bond.hop is None for bond in loop.way if bond.via is Via.SCREEN):
            return f"Set the screen of `{who}` to lifted: that opens the loop on the signal side. {KEEP_EARTH}"
        return f"Open the way round `{who}`: a floating contact, an insulated jack, a lead whose screen ends at one side. {KEEP_EARTH}"
    if loop.goes_by(Via.USB):
        return f"Run the computer on its battery, put an isolator into its lead, or unplug that lead during the show. {KEEP_EARTH}"
    return f"Put an isolating transformer with a lifted screen into the audio lead to {ends}, and plug both into one block. {KEEP_EARTH}"
