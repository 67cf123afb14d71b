"""Boards of any size for the bench and the tests: made up, but built the way that people build them."""

from __future__ import annotations

import random

RIG = 25
"""Devices in one rig: what one player takes along. Bigger boards are several rigs."""

_KINDS = (
    ("tuner", 40, True), ("compressor", 8, False), ("overdrive", 6, False), ("chorus", 25, False), ("delay", 180, True),
    ("distortion", 12, False), ("tremolo", 15, False), ("reverb", 220, True), ("boost", 6, False), ("phaser", 12, False),
    ("noise-gate", 15, False), ("equaliser", 20, False), ("octave", 30, False), ("looper", 150, True), ("fuzz", 3, False),
)  # fmt: skip
_BRICK = 8
"""Outlets of one supply."""


def board(devices: int, seed: int = 1) -> str:
    """The text of a board of so many devices.

    Rigs of 25, each with its amplifier; supplies of eight isolated outlets that a front unit feeds; every fifth outlet
    with a daisy chain of two; here and there a lead described in full, a measured draw, an outlet that is rather full.
    """
    chance = random.Random(seed)
    outlets: list[list[str]] = [[]]
    pedals: list[str] = []
    chains: list[list[str]] = [[]]
    for number in range(devices):
        kind, milliamps, digital = _KINDS[number % len(_KINDS)]
        name = f"{kind.replace('-', '_')}_{number + 1}"
        if len(chains[-1]) == RIG:
            chains.append([])
        behind = chains[-1][-1] if number % 5 == 4 and chains[-1] and not digital else None
        if not behind:
            if len(outlets[-1]) == _BRICK:
                outlets.append([])
            outlets[-1].append(_outlet(500 if milliamps > 100 else 100))
        outlet = f"brick_{len(outlets)}.{len(outlets[-1])}"
        drawn = round(milliamps * chance.uniform(0.8, 1.2))
        how = chance.choice(("", "", "", " measured"))
        x, y = 110 * (11 - number % 12) + 10, 170 * (number // 12) + 10
        pedals.append(
            f"  {name}: {{kind: {kind}, needs: 9V dc centre-negative {drawn}mA{how}, feed: {_feed(outlet, behind, chance)}, "
            f"{'digital: yes, ' if digital else ''}size: [72, 120, 55], at: [{x}, {y}]}}"
        )
        chains[-1].append(name)
    return "\n".join(
        [
            f"board: {{name: Bench board of {devices}, for: tour, frame: {{size: [1330, {170 * (devices // 12 + 1)}], material: metal}}}}",
            'place: {country: "GB", ambient: 30 °C}',
            "guitar: {pickups: single-coil, lead: 6 m}",
            *(["instruments:"] if len(chains) > 1 else []),
            *(f"  guitar_{rig}: {{kind: guitar, lead: 6 m}}" for rig, _ in enumerate(chains, 1) if rig > 1),
            "supplies:",
            *_supplies(outlets),
            "pedals:",
            *pedals,
            "amps:",
            *(f"  amp_{rig}: {{kind: valve, class: I}}" for rig, _ in enumerate(chains, 1)),
            "audio:",
            *(f"  - {' > '.join([f'guitar_{rig}' if rig > 1 else 'guitar', *chain, f'amp_{rig}'])}" for rig, chain in enumerate(chains, 1)),
            "",
        ]
    )


def _outlet(rating: int) -> str:
    return f"9V dc centre-negative {rating}mA"


def _feed(outlet: str, behind: str | None, chance: random.Random) -> str:
    if behind:
        return f"{{from: {outlet}, after: {behind}, lead: 200 mm}}"
    if chance.random() < 0.2:
        return f"{{from: {outlet}, lead: {{length: 600 mm, gauge: 24 AWG}}}}"
    return outlet


def _supplies(outlets: list[list[str]]) -> list[str]:
    """Bricks of eight outlets, and for every eight bricks a front unit that feeds them."""
    lines = []
    for first in range(0, len(outlets), _BRICK):
        front = f"front_{first // _BRICK + 1}"
        fed = outlets[first : first + _BRICK]
        gives = ", ".join(f"{place}: 24V dc centre-positive 3A 4-pin" for place, _ in enumerate(fed, 1))
        lines += [
            f"  {front}:",
            "    {class: II, mark: yes, kind: switch-mode, input: 100-240V ac 50/60Hz, isolated: yes, total: 600 W,",
            f"     ventilated: yes, outlets: {{{gives}}}}}",
        ]
        for place, phrases in enumerate(fed, 1):
            gives = ", ".join(f"{number}: {phrase}" for number, phrase in enumerate(phrases, 1))
            lines += [
                f"  brick_{first + place}:",
                f"    {{class: III, kind: switch-mode, needs: 24V dc centre-positive 1A 4-pin, feed: {front}.{place}, isolated: yes,",
                f"     total: 30 W, efficiency: 85 %, size: [220, 90, 30], under: yes, outlets: {{{gives}}}}}",
            ]
    return lines


if __name__ == "__main__":
    import sys

    print(board(int(sys.argv[1]) if len(sys.argv) > 1 else RIG), end="")
