"""Random boards, and what is true of them by going through every state and every path.

A board grows piece by piece from the guitar. Each piece adds lines to the board's text, which the package reads, and wires to
a list of its own, which only this file reads: so the two descriptions share nothing but the meaning of the text. A wire
leads from a point to a point while some switches stand so, and says what it does to a copy of the sound.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import combinations, product
from random import Random


@dataclass(frozen=True)
class Wire:
    start: int
    end: int
    when: tuple[tuple[str, bool], ...] = ()
    late: int = 0
    """Tenths of a millisecond."""
    sign: int = 1
    sound: str | None = None
    """The pedal whose own sound is on it."""
    copy: bool = True
    unknown: str | None = None
    """The pedal of which nobody knows how late it is."""


@dataclass
class Chance:
    random: Random
    most: int = 12
    unknown_share: float = 0.0
    points: int = 1
    wires: list[Wire] = field(default_factory=list)
    pedals: list[str] = field(default_factory=list)
    switchers: list[str] = field(default_factory=list)
    amps: dict[str, int] = field(default_factory=dict)
    amp_lines: list[str] = field(default_factory=list)
    audio: list[str] = field(default_factory=list)
    presets: list[str] = field(default_factory=list)
    free: list[str] = field(default_factory=list)
    """Switches that are on or off."""
    selectors: list[list[str]] = field(default_factory=list)
    """Switches of which exactly one is on."""
    tails: dict[str, bool] = field(default_factory=dict)
    """Pedals with a tail, and whether it rings on when they are off."""
    sounds: list[str] = field(default_factory=list)

    @property
    def switches(self) -> int:
        return len(self.free) + sum(map(len, self.selectors))

    def point(self) -> int:
        self.points += 1
        return self.points - 1

    def text(self) -> str:
        parts = [("pedals", self.pedals), ("switchers", self.switchers), ("amps", self.amp_lines), ("presets", self.presets)]
        lines = [f"{key}:\n  " + "\n  ".join(each) for key, each in parts if each]
        return "\n".join([*lines, "audio:\n  - " + "\n  - ".join(self.audio)]) + "\n"

    # --- pieces -----------------------------------------------------------------------------------------------------

    def pedal(self, here: int, looped: bool = False, keeps: bool = False) -> tuple[str, int]:
        """A pedal behind a point: its name and the point behind it."""
        r = self.random
        name, there = f"p{len(self.sounds)}", self.point()
        self.sounds.append(name)
        has_switch = not looped and self.switches < self.most and r.random() < 0.8
        bypass = r.choice(["true-bypass", "buffered"]) if has_switch or looped else "always-on"
        late, late_off, sign = r.choice([0, 0, 1, 2, 4, 15]), r.choice([0, 0, 0, 3]), r.choice([1, 1, 1, -1])
        unknown = name if r.random() < self.unknown_share else None
        said = [f"bypass: {bypass}", f"polarity: {'same' if sign == 1 else 'inverts'}"]
        said.append("digital: yes, latency: unknown" if unknown else f"latency: {late / 10} ms")
        if late_off and has_switch:
            said.append(f"latency_bypassed: {late_off / 10} ms")
        kind = r.choice(["chorus", "overdrive", "delay"])
        copy = True
        if kind == "delay":
            how = r.choice(["wet", "dry", "digital"])
            copy = how != "wet"
            said.append({"wet": "mix: wet-only", "dry": "dry_through: yes", "digital": "dry_through: digital"}[how])
            late, unknown = (0, None) if how == "dry" else (late, unknown)
            trails = r.random() < 0.7
            said.append(f"trails: {'wanted' if trails else 'no'}")
            self.tails[name] = bypass != "true-bypass" and trails
        self.pedals.append(f"{name}: {{kind: {kind}, {', '.join(said)}}}")
        on = ((name, True),) if has_switch else ()
        self.wires.append(Wire(here, there, on, late, sign, name, copy, unknown))
        if has_switch:
            self.free.append(name)
            # set to the effect alone, it lets the dry sound through only where its bypass is a plain wire
            self.wires.append(Wire(here, there, ((name, False),), late_off, copy=copy or bypass == "true-bypass"))
        return name, there

    def add_pedal(self, jack: str, here: int) -> list[tuple[str, int]]:
        name, there = self.pedal(here)
        self.audio.append(f"{jack} > {name}")
        return [(name, there)]

    def add_split(self, jack: str, here: int) -> list[tuple[str, int]]:
        name = f"split{self.points}"
        self.pedals.append(f"{name}: {{kind: splitter}}")
        self.audio.append(f"{jack} > {name}")
        ends = [self.point(), self.point()]
        self.wires += [Wire(here, end) for end in ends]
        return [(f"{name}.a", ends[0]), (f"{name}.b", ends[1])]

    def add_selector(self, jack: str, here: int) -> list[tuple[str, int]]:
        name, ways = f"sel{self.points}", self.random.choice([["a", "b"], ["a", "b", "c"]])
        self.switchers.append(f"{name}: {{select: [{', '.join(ways)}]}}")
        self.audio.append(f"{jack} > {name}")
        self.selectors.append([f"{name}={way}" for way in ways])
        ends = [self.point() for _ in ways]
        self.wires += [Wire(here, end, ((f"{name}={way}", True),)) for way, end in zip(ways, ends, strict=True)]
        return [(f"{name}.{way}", end) for way, end in zip(ways, ends, strict=True)]

    def add_loops(self, jack: str, here: int) -> list[tuple[str, int]]:
        r = self.random
        name = f"hub{self.points}"
        self.audio.append(f"{jack} > {name}")
        loops, places = [], []
        for number in range(1, r.choice([1, 2, 3]) + 1):
            if self.switches >= self.most:
                break
            switch, there = f"{name}.{number}", self.point()
            self.free.append(switch)
            self.wires.append(Wire(here, there, ((switch, False),)))
            if r.random() < 0.15:
                passes = r.random() < 0.5
                loops.append(f"{number}: {{empty: yes, normalled: {'yes' if passes else 'no'}}}")
                if passes:
                    self.wires.append(Wire(here, there, ((switch, True),)))
            else:
                keeps = r.random() < 0.3
                inside = self.point()
                self.wires.append(Wire(here, inside, ((switch, True),)))
                units, way = [], inside
                for _ in range(r.choice([1, 1, 2])):
                    unit, way = self.pedal(way, looped=True, keeps=keeps)
                    units.append(unit)
                self.wires.append(Wire(way, there, () if keeps else ((switch, True),)))
                loops.append(f"{number}: {{unit: [{', '.join(units)}]{', keeps_return: yes' if keeps else ''}}}")
            places.append((number, there))
            here = there
        if not places:
            return [(name, self._on(here))]
        taps = r.sample(places, k=min(len(places), r.choice([1, 1, 2])))
        outs, ends = [], []
        for number, place in taps:
            out, end = f"o{number}", self.point()
            outs.append(f"{out}: after {number}")
            when: tuple[tuple[str, bool], ...] = ()
            if self.switches < self.most and r.random() < 0.3:
                mute = f"{name}.{out} muted"
                self.free.append(mute)
                self.presets.append(f"silence{self.points}: {{mute: {name}.{out}, quiet: yes}}")
                when = ((mute, False),)
            self.wires.append(Wire(place, end, when))
            ends.append((f"{name}.{out}", end))
        self.switchers.append(f"{name}: {{loops: {{{', '.join(loops)}}}, outs: {{{', '.join(outs)}}}}}")
        return ends

    def _on(self, here: int) -> int:
        there = self.point()
        self.wires.append(Wire(here, there))
        return there

    def add_sends(self, jack: str, here: int) -> list[tuple[str, int]]:
        """A mixer with a send, through a pedal and back."""
        r, name, there = self.random, f"sum{self.points}", self.point()
        muted, keeps = r.random() < 0.5, r.random() < 0.5
        self.pedals.append(
            f"{name}: {{kind: mixer, polarity: same, sends: [x], dry: {'muted' if muted else 'through'}, keeps_return: {'yes' if keeps else 'no'}}}"
        )
        send = f"{name}.send x"
        self.free.append(send)
        inside = self.point()
        self.wires.append(Wire(here, inside, ((send, True),)))
        unit, way = self.pedal(inside)
        self.wires.append(Wire(way, there, () if keeps else ((send, True),)))
        if not muted:
            self.wires.append(Wire(here, there))
        self.audio += [f"{jack} > {name}.in", f"{name}.send_x > {unit}, {unit} > {name}.return_x"]
        return [(f"{name}.out", there)]

    def add_join(self, first: tuple[str, int], second: tuple[str, int]) -> list[tuple[str, int]]:
        name, there = f"mix{self.points}", self.point()
        self.pedals.append(f"{name}: {{kind: mixer, polarity: same}}")
        self.audio += [f"{first[0]} > {name}.in_1", f"{second[0]} > {name}.in_2"]
        self.wires += [Wire(first[1], there), Wire(second[1], there)]
        return [(f"{name}.out", there)]

    def add_twin(self, first: tuple[str, int], second: tuple[str, int]) -> list[tuple[str, int]]:
        """A pedal with two channels and one footswitch, which two sounds go through side by side."""
        r, name = self.random, f"p{len(self.sounds)}"
        self.sounds.append(name)
        late, late_off, sign = r.choice([0, 2, 5, 11]), r.choice([0, 3]), r.choice([1, -1])
        said = f"polarity: {'same' if sign == 1 else 'inverts'}, latency: {late / 10} ms, latency_bypassed: {late_off / 10} ms"
        self.pedals.append(f"{name}: {{kind: chorus, channels: {{in: 2, out: 2}}, {said}}}")
        self.free.append(name)
        ends = []
        for side, (jack, here) in (("l", first), ("r", second)):
            there = self.point()
            self.audio.append(f"{jack} > {name}.in_{side}")
            self.wires.append(Wire(here, there, ((name, True),), late, sign, name))
            self.wires.append(Wire(here, there, ((name, False),), late_off))
            ends.append((f"{name}.out_{side}", there))
        return ends

    def add_amp(self, jack: str, here: int) -> None:
        name, heard, late = f"amp{len(self.amps)}", self.point(), self.random.choice([0, 0, 3])
        self.amp_lines.append(f"{name}: {{kind: valve, polarity: same, latency: {late / 10} ms}}")
        self.audio.append(f"{jack} > {name}")
        self.wires.append(Wire(here, heard, (), late))
        self.amps[name] = heard

    # --- every state, every path ------------------------------------------------------------------------------------

    def states(self):
        """Every state that the board can be in."""
        for free in product([False, True], repeat=len(self.free)):
            for chosen in product(*self.selectors):
                state = dict(zip(self.free, free, strict=True))
                state |= {switch: switch in chosen for switches in self.selectors for switch in switches}
                yield state

    def live(self, state) -> dict[int, list[Wire]]:
        found: dict[int, list[Wire]] = {}
        for wire in self.wires:
            if all(state[switch] is on for switch, on in wire.when):
                found.setdefault(wire.start, []).append(wire)
        return found

    def paths(self, live, start: int, copies_only: bool = False):
        """Every path from a point: where it ends, and the wires on it."""
        work = [(start, ())]
        while work:
            here, way = work.pop()
            yield here, way
            for wire in live.get(here, ()):
                if wire.copy or not copies_only:
                    work.append((wire.end, (*way, wire)))


def board_by_chance(random: Random, most: int = 12, unknown_share: float = 0.0) -> Chance:
    board = Chance(random, most, unknown_share)
    ends = [("guitar", 0)]
    for _ in range(random.randint(2, 7)):
        jack, here = ends.pop(random.randrange(len(ends)))
        room = board.most - board.switches
        pieces = [board.add_pedal, board.add_pedal]
        if len(ends) < 3:
            pieces.append(board.add_split)
        if room >= 3 and len(ends) < 3:
            pieces.append(board.add_selector)
        if room >= 1:
            pieces += [board.add_loops, board.add_loops]
        if room >= 2:
            pieces.append(board.add_sends)
        if ends and random.random() < 0.35:
            other = ends.pop(random.randrange(len(ends)))
            twin = board.switches < board.most and random.random() < 0.5
            ends += (board.add_twin if twin else board.add_join)((jack, here), other)
        else:
            ends += random.choice(pieces)(jack, here)
    for number, (jack, here) in enumerate(ends):
        if number == 0 or (len(board.amps) < 3 and random.random() < 0.85):
            board.add_amp(jack, here)
    return board


@dataclass
class Truth:
    """What is true of a board, by looking at each state."""

    hears: dict[str, list[bool]] = field(default_factory=dict)
    """By amplifier, for each state in order."""
    sounding: dict[tuple[str, str], list[bool]] = field(default_factory=dict)
    heard_at: dict[tuple[str, str], list[bool]] = field(default_factory=dict)
    by_wiring: set[tuple[str, str]] = field(default_factory=set)
    """Pairs of pedal and amplifier between which no wire leads, whatever is switched."""
    apart_in_air: int = 0
    """The most (tenths of a millisecond) that copies arrive apart at two amplifiers."""
    apart_in_box: int = 0
    opposed_in_air: bool = False
    opposed_in_box: bool = False
    doubted: set[str] = field(default_factory=set)


def truth_of(board: Chance, opposed_within: int = 50) -> Truth:
    truth = Truth()
    fed_somewhere: dict[str, bool] = dict.fromkeys(board.sounds, False)
    leaves: dict[tuple[str, str], list[bool]] = {(s, a): [] for s in board.sounds for a in board.amps}
    for state in board.states():
        live = board.live(state)
        ends: dict[int, list[tuple[Wire, ...]]] = {}
        for end, way in board.paths(live, 0):
            ends.setdefault(end, []).append(way)
        onward = {point: {end for end, _ in board.paths(live, point)} for point in range(board.points)}
        sounds = {wire.sound: wire for wire in board.wires if wire.sound in board.tails}
        for amp, heard in board.amps.items():
            ways = ends.get(heard, [])
            truth.hears.setdefault(amp, []).append(bool(ways))
            for sound in board.sounds:
                truth.sounding.setdefault((sound, amp), []).append(any(wire.sound == sound for way in ways for wire in way))
        for sound, wire in sounds.items():
            on = all(state[switch] is at for switch, at in wire.when)
            fed_somewhere[sound] |= on and wire.start in ends
            for amp, heard in board.amps.items():
                leaves[sound, amp].append(heard in onward[wire.end] and (on or board.tails.get(sound, False)))
        _copies(board, live, ends, onward, truth, opposed_within)
    for pair, now in truth.sounding.items():
        later = leaves[pair] if pair[0] in board.tails and fed_somewhere[pair[0]] else [False] * len(now)
        truth.heard_at[pair] = [a or b for a, b in zip(now, later, strict=True)]
    _wiring(board, truth)
    return truth


def _copies(board: Chance, live, ends, onward, truth: Truth, opposed_within: int) -> None:
    begins = {0} | {wire.end for wires in live.values() for wire in wires if not wire.copy and wire.start in ends}
    audible = {point for point in range(board.points) if onward[point] & set(board.amps.values())}
    for begin in begins:
        arrivals: dict[int, set[tuple[int, int, frozenset[str]]]] = {}
        for end, way in board.paths(live, begin, copies_only=True):
            sign = 1
            for wire in way:
                sign *= wire.sign
            unknown = frozenset(wire.unknown for wire in way if wire.unknown)
            arrivals.setdefault(end, set()).add((sum(wire.late for wire in way), sign, unknown))
        for point, here in arrivals.items():
            if point in audible:
                for one, other in combinations(here, 2):
                    truth.apart_in_box = max(truth.apart_in_box, abs(one[0] - other[0]))
                    truth.opposed_in_box |= one[1] != other[1] and abs(one[0] - other[0]) < opposed_within
                    truth.doubted |= one[2] ^ other[2]
        for a, b in combinations(board.amps.values(), 2):
            for one, other in product(arrivals.get(a, ()), arrivals.get(b, ())):
                truth.apart_in_air = max(truth.apart_in_air, abs(one[0] - other[0]))
                truth.opposed_in_air |= one[1] != other[1] and abs(one[0] - other[0]) < opposed_within
                truth.doubted |= one[2] ^ other[2]


def _wiring(board: Chance, truth: Truth) -> None:
    """Reach with every switch left out."""
    onward: dict[int, set[int]] = {}
    for point in reversed(range(board.points)):
        onward[point] = set()
        work = [point]
        while work:
            here = work.pop()
            if here not in onward[point]:
                onward[point].add(here)
                work += [wire.end for wire in board.wires if wire.start == here]
    truth.by_wiring = {(sound, amp) for sound in board.sounds for amp in board.amps}
    for wire in board.wires:
        if wire.sound and wire.start in onward[0]:
            truth.by_wiring -= {(wire.sound, amp) for amp, heard in board.amps.items() if heard in onward[wire.end]}
