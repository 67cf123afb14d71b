"""Magnetic coupling: Neumann's double integral, done numerically, against the closed form that the checker uses."""

from __future__ import annotations

import math
from random import Random

from scipy.constants import mu_0
from scipy.integrate import quad

from boardwright.physics.inductance import Filament, mutual_inductance
from gauntlet.good_boards import good_board

Point = tuple[float, float, float]
_AGREE = 1e-6
"""Relative."""


def judge(seed: int) -> tuple[int, list[str]]:
    """Pairs of leads of a board that has places, one of them raised a little and pulled askew."""
    r = Random(seed)
    while len(runs := good_board(seed).sections.get("runs", [])) < 2:
        seed += 1
    differs = []
    pairs = [r.sample(runs, 2) for _ in range(3)]
    for one, other in pairs:
        first, second = _filament(one, 0.0, 0.0), _filament(other, r.uniform(0.002, 0.02), r.uniform(-0.1, 0.1))
        ours, numerical = mutual_inductance(first, second), _neumann(first, second)
        if not math.isclose(ours, numerical, rel_tol=_AGREE, abs_tol=1e-14):
            differs.append(f"board {seed}, {one['id']} and {other['id']}: scipy {numerical:.6e} H, the checker {ours:.6e} H")
    return len(pairs), differs


def _filament(run: dict, height: float, slant: float) -> Filament:
    """A lead's way in metres, its far end pulled aside."""
    (ax, ay), (bx, by) = run["path"]
    return Filament((ax / 1000, ay / 1000, height), (bx / 1000, by / 1000 + slant, height + slant / 10))


def _neumann(first: Filament, second: Filament) -> float:
    a, c = first.start, second.start
    u, v = ([q - p for p, q in zip(each.start, each.end, strict=True)] for each in (first, second))
    cosine = sum(p * q for p, q in zip(u, v, strict=True))

    def along_second(y: float) -> float:
        """The inner integral over the first run, from a point of the second: of 1/√(quadratic), by its antiderivative."""
        point = [p + y * k for p, k in zip(c, v, strict=True)]
        length = math.hypot(*u)
        along = sum((p - q) * k for p, q, k in zip(point, a, u, strict=True)) / length
        off = math.sqrt(max(0.0, math.dist(point, a) ** 2 - along**2))
        return (math.asinh((length - along) / off) + math.asinh(along / off)) / length

    integral, _ = quad(along_second, 0, 1, epsabs=0, epsrel=1e-10, limit=400)
    return mu_0 / (4 * math.pi) * cosine * integral
