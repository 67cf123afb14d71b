"""The build plan: always made from the board's text, row by row from the front, with what to measure at each step.

Front row first, because it is what feet need exactly placed, and because each later row is laid behind leads that can still be
reached. Power before sound, because a fault in power is found more cheaply with nothing patched to it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from boardwright.board.bench.ear_readings import sounds
from boardwright.board.bench.expected import Expected
from boardwright.board.bench.lead_readings import is_handmade
from boardwright.board.layout.leads import Lead
from boardwright.board.signal.switches import State
from boardwright.board.signal.wiring import loop_switch

if TYPE_CHECKING:
    from boardwright.board.assemble import Board

MAINS_FIRST = (
    "Whatever is at mains voltage (inlets, cords, blocks, what is inside a supply) is factory-made or a qualified person's work, "
    "finished and tested before you begin; your local electrical code comes first. No step of this plan is done at mains voltage."
)


@dataclass(frozen=True, slots=True)
class PlanStep:
    """One step of the plan. ``do`` and ``row`` are written the same in ``steps``."""

    number: int
    do: str
    row: int | None
    of: str | None
    title: str
    things: tuple[str, ...] = ()
    leads: tuple[str, ...] = ()
    """Each as its label and what it joins."""
    readings: tuple[Expected, ...] = ()
    note: str = ""
    done: bool = False
    """Whether ``steps`` says that it was done."""


def assemble_plan(board: Board) -> list[PlanStep]:
    """The whole plan. A board of which little is described gets a short one."""
    done = {(step.do, step.row or 1, step.of) for step in board.spec.steps.values()}
    steps = []
    for number, step in enumerate(_Planner(board).steps(), 1):
        was = (step.do, step.row or 1, step.of) in done or (step.of is not None and (step.do, 1, step.of.rpartition(".")[2]) in done)
        steps.append(replace(step, number=number, done=was))
    return steps


def rows_of(board: Board) -> dict[str, int]:
    """The row of each box on the deck, counted from the front; all in row 1 where no rows are described.

    What stands nowhere in particular goes with the last row, which is built with everything else in place.
    """
    layout = board.layout
    places = {row.number: place for place, row in enumerate(layout.deck.rows, 1)} if layout.deck.frame.rows else {}
    found: dict[str, int] = {}
    for name, box in layout.boxes.items():
        if not box.under and not box.is_supply:
            number = box.section.row or (box.row.number if box.row else None)
            found[name] = places.get(number or 0, len(places) or 1)
    return found


class _Planner:
    def __init__(self, board: Board) -> None:
        self.board = board
        self.row_of = rows_of(board)
        self.labelled = {id(lead): f"{lead.label} {lead.joins}" for lead in board.layout.leads}

    # --- what belongs where -------------------------------------------------------------------------------------------

    @cached_property
    def rows(self) -> list[int]:
        return sorted(set(self.row_of.values()))

    def boxes(self, row: int) -> list[str]:
        """The boxes of a row, as the sound meets them."""
        return [name for name in self.in_order if self.row_of[name] == row]

    @cached_property
    def in_order(self) -> list[str]:
        order: dict[str, int] = {}
        for node, place in self.board.signal.graph.order.items():
            order[node.thing] = min(place, order.get(node.thing, place))
        return sorted(self.row_of, key=lambda name: order.get(name, len(order) + 1_000_000))

    @cached_property
    def leads(self) -> dict[tuple[str, object], list[Lead]]:
        """Every lead by the step that it is laid in."""
        found: dict[tuple[str, object], list[Lead]] = {}
        for lead in self.board.layout.leads:
            found.setdefault(self._step_of(lead), []).append(lead)
        return found

    def _step_of(self, lead: Lead) -> tuple[str, object]:
        rows = [self.row_of[end.name] for end in lead.ends if end.name in self.row_of]
        row = max(rows, default=self.rows[-1] if self.rows else 1)
        if lead.carries in ("dc", "ac-low"):
            return ("power", self.row_of[lead.end.name]) if lead.end.name in self.row_of else ("frame", None)
        if lead.carries != "audio":
            return ("preset", None) if lead.carries != "mains" else ("mains", None)
        if lead.path[0] == "switchers" and lead.path[2] == "loops":
            return "loop", f"{lead.path[1]}.{lead.path[3]}"
        amp = next((end.name for end in lead.ends if end.name in self.board.signal.amps), None)
        return ("amp", amp) if amp is not None else ("audio", row)

    def expected(self, *names: str, what: tuple[str, ...] = (), condition: str | None = None) -> Iterator[Expected]:
        for name in names:
            for each in self._by_name.get(name, ()):
                if (not what or each.what in what) and (condition is None or each.condition == condition):
                    yield each

    @cached_property
    def _by_name(self) -> dict[str, list[Expected]]:
        found: dict[str, list[Expected]] = {}
        for each in self.board.expected:
            found.setdefault(each.where[-1], []).append(each)
        return found

    @cached_property
    def listening(self) -> str | None:
        """The amplifier that serves for listening while the board is built."""
        amps = self.board.signal.amps
        required = [name for name in amps if getattr(self.board.signal.stages[name].section, "required", None)]
        return next(iter([*required, *amps]), None)

    # --- the steps ----------------------------------------------------------------------------------------------------

    def steps(self) -> Iterator[PlanStep]:
        if not self.row_of and not self.board.power.supplies:
            return
        yield from self._begin()
        for row in self.rows:
            yield from self._row(row)
        yield from self._loops()
        yield from self._presets()
        for amp in self.board.signal.amps:
            yield self._amp(amp)
        yield from self._end()

    def _step(self, do: str, title: str, row: int | None = None, of: str | None = None, leads: list[Lead] | None = None, **more) -> PlanStep:  # type: ignore[no-untyped-def]
        more["readings"] = tuple(more.get("readings", ()))
        more["things"] = tuple(more.get("things", ()))
        return PlanStep(0, do, row, of, title, leads=tuple(self.labelled[id(lead)] for lead in leads or ()), **more)

    def _begin(self) -> Iterator[PlanStep]:
        whose = "Rows are as described." if self.board.layout.deck.frame.rows else "No rows are described, so everything is taken as one, in the order of the sound."
        paper = "Print the board in its true size, lay every box and every plug on the paper, and put your foot where it will go."
        yield self._step("dry-fit", "Lay everything out on paper", things=self.in_order, note=f"{paper} {whose}")
        supplies = list(self.board.power.supplies)
        used = {outlet.id for circuit in self.board.power.circuits for outlet in circuit.outlets}
        spare = [outlet.id for outlet in self.board.power.outlets if outlet.id not in used]
        leads = self.leads.get(("frame", None), [])
        plugs = [lead.label for lead in leads]
        yield self._step(
            "frame", "Frame, feet and supplies", things=supplies, leads=leads,
            readings=self.expected(*spare, *plugs, what=("volts",), condition="no-load"), note=MAINS_FIRST,
        )  # fmt: skip

    def _row(self, row: int) -> Iterator[PlanStep]:
        boxes = self.boxes(row)
        called = f"Row {row}: " if len(self.rows) > 1 else ""
        yield self._step("place", _title(f"{called}put the boxes down"), row, things=boxes)
        power = self.leads.get(("power", row), [])
        if power:
            yield self._step("power", _title(f"{called}lay the power leads"), row, leads=power, note="Leave every plug out of its box until it is measured.")
            yield self._step(
                "meter", _title(f"{called}measure, plug in, measure again"), row, readings=self._metered(power, boxes),
                note="First with every plug free. Plug a box in only when its own plug reads right; then once more with the whole row on.",
            )  # fmt: skip
        audio = self.leads.get(("audio", row), [])
        if audio:
            made = [lead.label for lead in audio if is_handmade(self.board, lead)]
            yield self._step(
                "audio", _title(f"{called}lay the audio leads"), row, leads=audio, readings=self.expected(*made, what=("ohms",)),
                note="Measure each lead that you made before it goes in, while you bend it at both plugs." if made else "",
            )  # fmt: skip
            yield self._listen(row, boxes, called)

    def _metered(self, power: list[Lead], boxes: list[str]) -> Iterator[Expected]:
        labels = [lead.label for lead in power]
        yield from self.expected(*labels, what=("volts",), condition="no-load")
        yield from self.expected(*labels, what=("volts",), condition="loaded")
        yield from self.expected(*boxes, what=("current",))

    def _listen(self, row: int, boxes: list[str], called: str) -> PlanStep:
        sounding = [name for name in boxes if name in self.board.signal.stages and self.board.signal.stages[name].loop is None]
        last = sounding[-1] if sounding else boxes[-1] if boxes else ""
        note = f"Guitar in, an amplifier turned low on a long lead from `{last}`. Everything bypassed: the guitar, as plain as through one lead. "
        if self._gaps(row) > 1:
            note += "Where the sound goes on to a row that is not built yet, bridge the gap with a spare lead. "
        note += "Then each box by itself, on and off. "
        note += "If it was good before this row and is not now, the fault is in this row."
        finished = row == self.rows[-1] and not any(key[0] == "loop" for key in self.leads) and self.listening
        resting = self.expected(self.listening, what=("sound",)) if finished and self.listening else ()
        readings = [each for each in resting if each.preset is None]
        return self._step("listen", _title(f"{called}listen"), row, things=sounding, readings=readings, note=note)

    def _gaps(self, row: int) -> int:
        """How many leads go from what is built to what is not, once this row is."""
        later = {name for name, number in self.row_of.items() if number > row}
        return sum(lead.end.name in later and lead.start.name not in later for (do, _), leads in self.leads.items() if do == "audio" for lead in leads)

    def _loops(self) -> Iterator[PlanStep]:
        for (do, of), leads in self.leads.items():
            if do == "loop" and isinstance(of, str):
                yield self._step("loop", f"Loop {of}", of=of, leads=leads, readings=self._through_loop(of), note="Lay it, engage it, hear it, take it out again.")

    def _through_loop(self, of: str) -> Iterator[Expected]:
        """What is heard with this loop in and all else off, at the first amplifier that it changes anything at."""
        switcher, _, loop = of.partition(".")
        switches = self.board.signal.switches
        switch = loop_switch(switcher, loop)
        if switch not in switches.level:
            return
        state = State({switch: True}, None, "")
        resting = {each.where: each.word for each in sounds(self.board, None)}
        changed = [each for each in sounds(self.board, state) if each.word != resting[each.where]]
        changed.sort(key=lambda each: each.where != (self.listening,))
        yield from (replace(each, condition=f"with loop {loop} in") for each in changed[:1])

    def _presets(self) -> Iterator[PlanStep]:
        leads = self.leads.get(("preset", None), [])
        presets = list(self.board.spec.presets)
        if not leads and not presets:
            return
        names = [self.listening] if self.listening else []
        readings = [each for each in self.expected(*names, what=("sound",)) if each.preset is not None]
        title = "Presets and MIDI" if presets and leads else "Presets" if presets else "MIDI and control leads"
        yield self._step("preset", title, things=presets, leads=leads, readings=readings, note="Call each up from another one, and listen on the way." if presets else "")

    def _amp(self, amp: str) -> PlanStep:
        apart = [each for each in self._by_name.get(amp, ()) if each.condition == "unplugged"]
        presets = bool(self.board.spec.presets)
        heard = [each for each in self.expected(amp, what=("sound",)) if (each.preset is not None) is presets]
        leads = self.leads.get(("amp", amp), [])
        note = "First the meter, with every mains plug pulled. Then alone, turned low: listen for hum before you play. Then together with those before it; "
        note += "after the last one, measure between the grounds once more."
        return self._step("amp", f"Amplifier {amp}", of=amp, leads=leads, readings=[*apart, *self.expected(amp, what=("hum",)), *heard], note=note)

    def _end(self) -> Iterator[PlanStep]:
        yield self._step("shake", "Shake it", note="Lift it, tilt it, carry it down a stair, press every plug sideways. Then listen to everything once more.")
        labels = [lead for lead in self.board.layout.leads if lead.carries != "mains"]
        if labels:
            yield self._step("label", "Label both ends of every lead", leads=labels, note="The same text at both ends, as on the cut list.")
        yield self._step("papers", "Papers and spares", note="Print the handover papers, set every knob, photograph it, and pack what is under `spares`.")


def _title(words: str) -> str:
    return words[:1].upper() + words[1:]
