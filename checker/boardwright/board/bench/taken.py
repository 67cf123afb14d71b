"""The readings that were taken, each beside what is expected of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from boardwright import limits
from boardwright.board.bench.expected import BAD, GOOD, Expected
from boardwright.board.bench.ground_readings import expected_between
from boardwright.board.bench.power_readings import power_leads
from boardwright.spec.figure import Figure
from boardwright.spec.problem import Path
from boardwright.spec.sections.readings import Reading

if TYPE_CHECKING:
    from boardwright.board.assemble import Board


@dataclass(frozen=True, slots=True)
class Taken:
    """One reading of one thing (or between two), with everything that it may be held against."""

    where: tuple[str, ...]
    path: Path
    reading: Reading
    got: Figure | str
    expected: tuple[Expected, ...]
    """None where nothing is predicted; several where the reading does not say whether it was loaded."""

    @property
    def name(self) -> str:
        return " and ".join(self.where)

    @property
    def due(self) -> str | None:
        """What should have been read, in words: all that it may be, or what its taker expected."""
        if self.expected:
            if self.reading.of == "all":
                return ", ".join(f"{(each.of or '').replace('-', ' ')} {each.window}" for each in self.expected)
            return " or ".join(dict.fromkeys(each.window for each in self.expected))
        if self.reading.expect is not None:
            return str(self.reading.expect)
        return GOOD if self.got in (GOOD, BAD) else None

    @property
    def agrees(self) -> bool | None:
        """Whether it is as expected; ``None`` where that cannot be told."""
        if not self.expected:
            return self._as_the_builder_expected
        said = [each.agrees(self.got) for each in self.expected]
        if self.reading.of == "all":
            return None if None in said else all(said)
        return True if True in said else False if False in said else None

    @property
    def _as_the_builder_expected(self) -> bool | None:
        """Against ``expect``, in the windows of the checker's own predictions."""
        meant, got = self.reading.expect, self.got
        if got in (GOOD, BAD):
            return got == GOOD
        if meant == "unknown":
            return None
        if isinstance(meant, str) or isinstance(got, str) or meant is None or not meant.known or not got.known or meant.unit != got.unit:
            return None if meant is None or isinstance(meant, Figure) is not isinstance(got, Figure) else meant == got
        off = {"V": limits.READING_VOLTS, "A": limits.READING_CURRENT}.get(meant.unit)
        room = off.value * abs(meant.value) if off else {"Ω": limits.READING_LEAD, "s": limits.READING_LATENCY}[meant.unit].value
        return abs(got.value - meant.value) <= room + 1e-9


def taken(board: Board) -> Iterator[Taken]:
    """Every reading that was written down, thing by thing."""
    index: dict[str, list[Expected]] = {}
    if board.spec.readings:
        for each in board.expected:
            index.setdefault(each.where[0], []).append(each)
        for device, label in _only_leads(board).items():
            index[device] = [*index.get(device, []), *(each for each in index.get(label, ()) if each.what == "volts")]
    for number, reading in board.spec.readings.items():
        if reading.got is None or reading.got == "unknown" or reading.what in (None, "unknown") or not reading.where:
            continue
        path: Path = ("readings", number)
        if reading.what == "ohms" and reading.of is None and len(reading.where) == 2:
            one, other = reading.where
            found = expected_between(board, one, other)
            yield Taken((str(one), str(other)), path, reading, reading.got, (found,) if found else ())
            continue
        for jack in reading.where:
            yield Taken((str(jack),), path, reading, reading.got, tuple(_meant(reading, index.get(str(jack), []))))


def _only_leads(board: Board) -> dict[str, str]:
    """Labels of power leads by the device that each feeds, where it is the only one: volts read at that device were read at its plug."""
    labels = power_leads(board)
    lines = {name: device.lines for name, device in board.power.devices.items() if len(device.lines) == 1}
    return {name: label for name, (line,) in lines.items() if (label := labels.get((name, line.path), name)) != name}


def _meant(reading: Reading, found: list[Expected]) -> Iterator[Expected]:
    """Those that a reading can be about."""
    for each in found:
        if each.what != reading.what or (each.what == "sound" and each.preset != reading.preset):
            continue  # an earth loop hums in every preset
        if reading.what == "ohms" and reading.of not in ("all", each.of):
            continue
        if reading.what == "volts" and reading.condition in ("no-load", "loaded") and each.condition != reading.condition:
            continue
        yield each
