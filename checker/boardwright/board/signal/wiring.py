"""``Spec`` to signal graph: which ways lead through each kind of box, and which switches guard them."""

from __future__ import annotations

from dataclasses import dataclass, field

from boardwright.board.audio import GUITAR, Audio, Hop, insert_name, is_source, return_jack, send_jack
from boardwright.board.signal.graph import HEARD, NO_DELAY, Edge, Graph, Guard, Node
from boardwright.board.signal.jacks import Job, is_link, is_return, is_send, jack_spec, job_of, side_of
from boardwright.board.signal.stages import Role, Stage, Written
from boardwright.board.signal.switches import Switch, Switches, SwitchKind
from boardwright.spec.fields import YesNo
from boardwright.spec.figure import Figure
from boardwright.spec.problem import Path
from boardwright.spec.read import Spec
from boardwright.spec.sections.amps import Amp
from boardwright.spec.sections.pedals import Pedal
from boardwright.spec.sections.presets import Preset
from boardwright.spec.sections.switchers import END, START, Loop, Switcher, Tap

IN, OUT = "in", "out"
SIDES = ("l", "r")


@dataclass(eq=False)
class Wiring:
    """Everything of the sound that follows from the text alone."""

    stages: dict[str, Stage]
    graph: Graph
    switches: Switches


def assemble_wiring(spec: Spec, audio: Audio) -> Wiring:
    builder = _Builder(spec, audio)
    builder.find_stages()
    builder.join()
    graph = Graph(builder.edges)
    switches = Switches(_in_signal_order(graph, builder.switches))
    for name, preset in spec.presets.items():
        positions = builder.positions(preset)
        switches.add_preset(name, ("presets", name), positions, bool(preset.quiet), bool(preset.louder))
    return Wiring(builder.stages, graph, switches)


def _in_signal_order(graph: Graph, switches: dict[str, Switch]) -> list[Switch]:
    """Switches as the sound meets them, which keeps diagrams small; positions of a selector stay together."""
    met: dict[str, None] = {}
    for node in graph.order:
        for edge in graph.leaving[node]:
            for id_, _ in edge.guard:
                met[id_] = None
    met |= dict.fromkeys(switches)
    ordered: dict[str, Switch] = {}
    for id_ in met:
        switch = switches[id_]
        is_selector = switch.kind is SwitchKind.SELECT
        together = [each for each in switches.values() if each.kind is SwitchKind.SELECT and each.thing == switch.thing] if is_selector else [switch]
        ordered |= {each.id: each for each in together}
    return list(ordered.values())


def loop_switch(switcher: str, loop: str) -> str:
    return f"{switcher}.{loop}"


def send_switch(mixer: str, send: str) -> str:
    return f"{mixer}.send {send}"


def select_switch(switcher: str, position: str) -> str:
    return f"{switcher}={position}"


def mute_switch(node: Node) -> str:
    return f"{node} muted"


_ROLES = {"instruments": Role.SOURCE, "pedals": Role.BOX, "switchers": Role.SWITCHER, "isolators": Role.BOX, "amps": Role.AMP}
"""Sections whose things are part of the sound."""


@dataclass(eq=False)
class _Builder:
    spec: Spec
    audio: Audio
    stages: dict[str, Stage] = field(default_factory=dict)
    switches: dict[str, Switch] = field(default_factory=dict)
    edges: list[Edge] = field(default_factory=list)
    ins: dict[str, dict[str, None]] = field(default_factory=dict)
    """By thing, the jacks that leads end at."""
    outs: dict[str, dict[str, None]] = field(default_factory=dict)
    muted: dict[Node, str] = field(default_factory=dict)
    """Outputs that some preset mutes, with their switch."""

    # --- things -----------------------------------------------------------------------------------------------------

    def find_stages(self) -> None:
        spec, hops = self.spec, self.audio.hops
        for key, role in _ROLES.items():
            for name, section in getattr(spec, key).items():
                self._stage(name, role, (key, name), section)
        if spec.guitar is not None:
            self._stage(GUITAR, Role.SOURCE, ("guitar",), spec.guitar)
        starts, ends = set(self.audio.leaving), set(self.audio.arriving)
        for hop in hops:
            for jack in (hop.start, hop.end):
                if jack.thing not in self.stages:
                    lone_end = jack.thing in ends and jack.thing not in starts
                    lone_start = jack.thing in starts and jack.thing not in ends
                    is_amp = lone_end and not self._is_looped(jack.thing)
                    role = Role.SOURCE if is_source(spec, jack.thing) or lone_start else Role.AMP if is_amp else Role.BOX
                    self._stage(jack.thing, role, hop.path, None)
        self._mutes()
        self._footswitches()

    def _is_looped(self, name: str) -> bool:
        paths = (hop.path for hop in self.audio.arriving.get(name, ()))
        return any(path[0] == "switchers" and path[2] in ("loops", "inserts") for path in paths)

    def _stage(self, name: str, role: Role, path: Path, section: Written) -> None:
        self.stages[name] = Stage(name, role, path, section)

    def _footswitches(self) -> None:
        """A pedal in a loop is left on, unless some preset frees it; any other keeps its own footswitch."""
        for switcher, section in self.spec.switchers.items():
            for key, loop in (section.loops or {}).items():
                boxes = [*(loop.unit or ()), *filter(None, (loop.send_to, loop.return_from))]
                for jack in boxes:
                    if jack.thing in self.stages:
                        self.stages[jack.thing].loop = (switcher, key)
        self._find_wired_loops()
        named = {name for preset in self.spec.presets.values() for name in (*(preset.free or ()), *preset.switched)}
        for stage in self.stages.values():
            if stage.role is not Role.BOX or stage.always_on or not stage.carries_sound:
                continue
            if stage.loop is None or stage.name in named:
                stage.switch = stage.name
                silences = stage.mutes and not (stage.pedal and stage.pedal.send_only)  # on a send of its own it mutes nobody else
                self._switch(stage.name, SwitchKind.FOOTSWITCH, stage.name, stage.name, stage.path, silences=silences)

    def _find_wired_loops(self) -> None:
        """Boxes that arrows put between a switcher's send and its return stand in that loop too."""
        for hop in self.audio.hops:
            switcher = self.spec.switchers.get(hop.start.thing)
            key = (hop.start.jack or "").removeprefix("send_").removesuffix("_l").removesuffix("_r")
            if switcher is None or not is_send(hop.start.jack) or key not in (switcher.loops or {}):
                continue
            way, here = [], hop.end.thing
            while (stage := self.stages.get(here)) and stage.role is Role.BOX and here not in way:
                way.append(here)
                here = next((after.end.thing for after in self.audio.leaving.get(here, ())), "")
            if here == hop.start.thing:
                for name in way:
                    self.stages[name].loop = self.stages[name].loop or (hop.start.thing, key)

    def _switch(self, id_: str, kind: SwitchKind, thing: str, name: str, path: Path, silences: bool = False) -> str:
        self.switches.setdefault(id_, Switch(id_, kind, thing, name, path, silences))
        return id_

    def _mutes(self) -> None:
        for name, preset in self.spec.presets.items():
            for place, jack in enumerate(preset.mute or ()):
                for node in self.mute_nodes(jack.thing, jack.jack):
                    self.muted[node] = self._switch(
                        mute_switch(node), SwitchKind.MUTE, node.thing, str(jack), ("presets", name, "mute", place), silences=True
                    )

    def mute_nodes(self, name: str, jack: str | None) -> list[Node]:
        """The outputs that a preset's ``mute`` means: an output of a switcher, or everything out of a thing."""
        if jack is not None:
            return [Node(name, jack)] if name in self.stages else []
        if name in self.stages:
            stage = self.stages[name]
            if stage.role is Role.AMP:
                return [Node(name, HEARD)]
            if not isinstance(stage.section, Switcher):
                return [Node(name, OUT)]
            unnamed = [OUT] if any(self._out_of(hop) == OUT for hop in self.audio.leaving.get(name, ())) else []
            return [Node(name, out) for out in dict.fromkeys([*out_names(stage.section), *unnamed])]
        return [Node(each, name) for each, section in self.spec.switchers.items() if name in out_names(section)]

    # --- presets ----------------------------------------------------------------------------------------------------

    def positions(self, preset: Preset) -> dict[str, bool]:
        """Every switch that a preset fixes. Loops, sends and mutes that it does not list are off."""
        free, switched = set(preset.free or ()), preset.switched
        positions: dict[str, bool] = {}
        closed = {mute_switch(node) for jack in preset.mute or () for node in self.mute_nodes(jack.thing, jack.jack)}
        for id_, switch in self.switches.items():
            said = switched.get(switch.thing)
            if switch.kind in (SwitchKind.LOOP, SwitchKind.SEND):
                positions[id_] = switch.name in (said or ())
            elif switch.kind is SwitchKind.MUTE:
                positions[id_] = id_ in closed
            elif switch.kind is SwitchKind.SELECT:
                wanted = (preset.select or {}).get(switch.thing) or (said[0] if said else None)
                if wanted is not None:
                    positions[id_] = switch.name == wanted
            elif said:
                positions[id_] = said[0].lower() in ("on", "in", "yes", "engaged")
            elif self.stages[switch.thing].loop is not None and switch.thing not in free:
                positions[id_] = True
        return positions

    # --- ways -------------------------------------------------------------------------------------------------------

    def join(self) -> None:
        for hop in self.audio.hops:
            start, end = self._exit(hop), self._entry(hop)
            if job_of(hop.start.jack) in (Job.AUDIO, Job.SPEAKER) and job_of(hop.end.jack) in (Job.AUDIO, Job.SPEAKER):
                self.edges.append(Edge(start, end, hop=hop))
        for stage in self.stages.values():
            ins, outs = list(self.ins.get(stage.name, ())), list(self.outs.get(stage.name, ()))
            if stage.role is Role.AMP:
                self._amp(stage, ins, outs)
            elif stage.role is Role.SWITCHER:
                _SwitcherWays(self, stage, ins, outs).join()
            elif stage.role is Role.BOX and stage.carries_sound:
                ins = [jack for jack in ins if job_of(jack, jack_spec(stage.jacks, jack)) in (Job.AUDIO, Job.SPEAKER)]
                if stage.kind_name == "mixer" and isinstance(stage.section, Pedal):
                    self._mixer(stage, stage.section, ins, outs)
                else:
                    self._box(stage, ins, outs)

    def _entry(self, hop: Hop) -> Node:
        thing, jack = hop.end.thing, hop.end.jack or IN
        used = self.ins.setdefault(thing, {})
        if hop.end.jack is None and jack in used and self.stages[thing].kind_name == "mixer":
            jack = f"{IN} {len(used) + 1}"  # a mixer has an input for each lead
        used[jack] = None
        return Node(thing, jack)

    def _exit(self, hop: Hop) -> Node:
        jack = self._out_of(hop)
        self.outs.setdefault(hop.start.thing, {})[jack] = None
        return Node(hop.start.thing, jack)

    def _out_of(self, hop: Hop) -> str:
        """The output that a lead leaves by: the only one that has a name, or the one that has none."""
        thing, jack = hop.start.thing, hop.start.jack
        section = self.stages[thing].section
        if jack is None and isinstance(section, Switcher):
            names = out_names(section)
            led_on = {other.start.jack for other in self.audio.leaving.get(thing, ())}  # one led on by its name is not meant twice
            jack = names[0] if len(names) == 1 and OUT not in names and names[0] not in led_on else OUT
        return jack or OUT

    def _way(
        self, start: Node, end: Node, guard: Guard = (), stage: Stage | None = None, *, engaged: bool = False, copies: bool = True,
        latency: Figure = NO_DELAY, polarity: int | None = 1, drives: bool | None = False, sure: bool = True,
    ) -> None:  # fmt: skip
        if end in self.muted:
            guard = (*guard, (self.muted[end], False))
        self.edges.append(Edge(start, end, guard, stage, None, engaged, copies, latency, polarity, drives, sure))

    def _engaged(self, stage: Stage, start: Node, end: Node, guard: Guard = (), copies: bool = True) -> None:
        self._way(
            start, end, guard, stage, engaged=True, copies=copies and stage.copies, latency=stage.copy_latency,
            polarity=stage.polarity, drives=stage.drives_engaged,
        )  # fmt: skip

    def _box(self, stage: Stage, ins: list[str], outs: list[str]) -> None:
        """A pedal or isolator: each input to each output of its side, engaged and bypassed."""
        name = stage.name
        for link in [jack for jack in outs if is_link(jack)]:
            outs = [jack for jack in outs if jack != link]
            for jack in ins:
                self._way(Node(name, jack), Node(name, link), stage=stage)
        sends, returns = [jack for jack in outs if is_send(jack)], [jack for jack in ins if is_return(jack)]
        if sends and returns:  # a loop of its own, as a noise gate has: both halves are always in
            ins, outs = [jack for jack in ins if jack not in returns], [jack for jack in outs if jack not in sends]
            for starts, ends in ((ins, sends), (returns, outs)):
                for jack, other in ((a, b) for a in starts for b in ends if _fits(a, b, starts)):
                    self._engaged(stage, Node(name, jack), Node(name, other))
            return
        on: Guard = ((stage.switch, True),) if stage.switch else ()
        for jack in ins:
            for other in outs:
                start, end = Node(name, jack), Node(name, other)
                if _fits(jack, other, ins):
                    if not stage.mutes:
                        self._engaged(stage, start, end, on)
                    if stage.switch:
                        self._way(
                            start, end, ((stage.switch, False),), stage, copies=stage.copies_bypassed, latency=stage.latency_bypassed,
                            polarity=stage.polarity_bypassed, drives=stage.drives_bypassed,
                        )  # fmt: skip
                elif stage.has_tail:  # an echo of the left comes out on the right too
                    self._engaged(stage, start, end, on, copies=False)

    def _mixer(self, stage: Stage, pedal: Pedal, ins: list[str], outs: list[str]) -> None:
        """Inputs go to sends and, unless the dry sound is muted, to the outputs; returns go to the outputs."""
        name, sends = stage.name, pedal.sends or []
        send_of = {jack: _send_named(jack, sends) for jack in (*ins, *outs)}
        mains = [jack for jack in ins if send_of[jack] is None]
        finals = [jack for jack in outs if send_of[jack] is None]
        for send in sends:
            self._switch(send_switch(name, send), SwitchKind.SEND, name, send, (*stage.path, "sends"))
        for jack in outs:
            send = send_of[jack]
            if send is not None:
                for main in mains:
                    self._engaged(stage, Node(name, main), Node(name, jack), ((send_switch(name, send), True),))
        for jack in ins:
            send = send_of[jack]
            if send is None and pedal.dry == "muted" and sends:
                continue
            stays = send is None or pedal.keeps_return is YesNo.YES
            guard: Guard = () if stays or send is None else ((send_switch(name, send), True),)
            for final in finals:
                if _fits(jack, final, ins):
                    self._engaged(stage, Node(name, jack), Node(name, final), guard)

    def _amp(self, stage: Stage, ins: list[str], outs: list[str]) -> None:
        """Input, preamplifier, effects loop, power amplifier; its loudspeaker output goes the way of its loudspeaker."""
        name, amp = stage.name, stage.section if isinstance(stage.section, Amp) else None
        power, heard = Node(name, "power"), Node(name, HEARD)
        returns = [jack for jack in ins if is_return(jack)]
        sends = [jack for jack in outs if is_send(jack)]
        in_series = not (amp and amp.loop and amp.loop.mode == "parallel")
        for jack in ins:
            if job_of(jack, jack_spec(stage.jacks, jack)) not in (Job.AUDIO, Job.SPEAKER):
                continue
            here = Node(name, jack)
            if jack not in returns:
                for send in sends:
                    self._way(here, Node(name, send), stage=stage, drives=True)
                if returns and sends and in_series:
                    continue
            self._way(here, power, stage=stage, latency=stage.copy_latency, polarity=stage.polarity, drives=True)
        self._way(power, heard, stage=stage, drives=True)
        for jack in outs:
            if jack not in sends:
                self._way(power, Node(name, jack), stage=stage, drives=True)


def _fits(jack: str, other: str, ins: list[str]) -> bool:
    """Whether an input and an output are of one side. Where only one side is plugged in, it feeds both outputs."""
    side, to = side_of(jack), side_of(other)
    return side is None or to is None or side == to or not {*SIDES} <= {side_of(each) for each in ins}


def _send_named(jack: str, sends: list[str]) -> str | None:
    """The send that a mixer's jack belongs to: ``send_a``, ``a_send``, ``a``, ``a_l``, ``return_a`` …"""
    stem = jack
    for word in ("send_", "return_"):
        stem = stem.removeprefix(word)
    for word in ("_l", "_r", "_send", "_return"):
        stem = stem.removesuffix(word)
    return stem if stem in sends else None


def out_names(section: Written) -> list[str]:
    """The outputs that a switcher describes."""
    if not isinstance(section, Switcher):
        return [OUT]
    return [*(section.outs or ()), *(section.select or ()), *(section.split or ())]


@dataclass(eq=False)
class _SwitcherWays:
    """The ways through one switcher: its inputs, its loops in a row with taps between them, its outputs."""

    builder: _Builder
    stage: Stage
    ins: list[str]
    outs: list[str]
    places: dict[str, dict[str, Node]] = field(default_factory=dict)
    """``start``, each loop's name and ``end``: the node behind it, for each side (``""`` where it is mono)."""

    @property
    def section(self) -> Switcher:
        assert isinstance(self.stage.section, Switcher)
        return self.stage.section

    def node(self, jack: str, side: str = "") -> Node:
        return Node(self.stage.name, f"{jack} {side}".rstrip())

    def way(self, start: Node, end: Node, guard: Guard = (), *, polarity: int | None = 1, drives: bool = False, sure: bool = True) -> None:
        self.builder._way(start, end, guard, self.stage, polarity=polarity, drives=drives, sure=sure)

    def buffers(self, place: str) -> bool:
        return Tap(place) in (self.section.buffer or ())

    def join(self) -> None:
        section = self.section
        plugged = {side_of(jack) for jack in self.ins if jack.startswith(IN)}
        wide = (section.channels is not None and section.channels.in_ == 2) or {*SIDES} <= plugged
        self.places[START] = self._begin([*SIDES] if wide else [""])
        here = self._insert(START, self.places[START])
        for key, loop in (section.loops or {}).items():
            here = self._insert(key, self._loop(key, loop, here))
        self.places[END] = self._insert(END, here) if END in self._inserts() else here
        self._finish()

    def _inserts(self) -> dict[str, Loop]:
        return {tap.after: insert for tap, insert in (self.section.inserts or {}).items()}

    def _begin(self, sides: list[str]) -> dict[str, Node]:
        starts = {side: self.node(START, side) for side in sides}
        selecting = {jack for position, jacks in self._positions().items() for jack in jacks}
        for jack in self.ins:
            if is_return(jack) or job_of(jack) is not Job.AUDIO:
                continue
            side = side_of(jack) if jack not in selecting and jack not in (self.section.mix or ()) else None
            for to in [side] if side in starts else starts:
                assert to is not None
                drives = self.buffers(START) or (jack in (self.section.mix or ()) and self.stage.drives_engaged)
                guards = self._guards(jack) if jack in selecting else [()]
                for guard in guards:
                    self.way(Node(self.stage.name, jack), starts[to], guard, polarity=self.stage.polarity, drives=drives)
        return starts

    def _loop(self, key: str, loop: Loop, before: dict[str, Node]) -> dict[str, Node]:
        switch = loop_switch(self.stage.name, key)
        silences = loop.send_only is YesNo.YES
        self.builder._switch(switch, SwitchKind.LOOP, self.stage.name, key, (*self.stage.path, "loops", key), silences)
        after = {side: self.node(f"behind {key}", side) for side in ([*SIDES] if loop.stereo and "" in before else before)}
        on, off = ((switch, True),), ((switch, False),)
        for side, end in after.items():
            start = before.get(side, before.get("", end))
            send, back = self._jacks(key, side, loop)
            if side == "r" and send not in self.outs and back not in self.ins and not loop.stereo:
                self.way(start, end)  # a mono loop in a stereo switcher takes the left side
                continue
            self.way(start, end, off)
            if send in self.outs:
                self.way(start, Node(self.stage.name, send), on)
            if back in self.ins:
                self.way(Node(self.stage.name, back), end, () if loop.keeps_return else on)
            plugged = send in self.outs or back in self.ins
            if loop.normalled is YesNo.YES and not plugged:
                self.way(start, end, on)
            elif loop.normalled in (None, YesNo.UNKNOWN) and not plugged:
                self.way(start, end, on, sure=False)
        return after

    def _jacks(self, key: str, side: str, loop: Loop) -> tuple[str, str]:
        tail = f"_{side}" if side and loop.stereo else ""
        return send_jack(key) + tail, return_jack(key) + tail

    def _insert(self, key: str, here: dict[str, Node]) -> dict[str, Node]:
        """What always stands behind a loop: an insert, then a buffer; the tap comes behind both."""
        insert, name = self._inserts().get(key), insert_name(key)
        if insert is not None:
            onward = {side: self.node(f"beyond {key}", side) for side in here}
            for side, start in here.items():
                send, back = self._jacks(name, side, insert)
                if side == "r" and send not in self.outs:
                    self.way(start, onward[side])
                    continue
                if send in self.outs or back in self.ins:
                    if send in self.outs:
                        self.way(start, Node(self.stage.name, send))
                    if back in self.ins:
                        self.way(Node(self.stage.name, back), onward[side])
                else:
                    self.way(start, onward[side])
            here = onward
        if self.buffers(key) and key not in (START, END):
            onward = {side: self.node(f"after {key}", side) for side in here}
            for side, start in here.items():
                self.way(start, onward[side], drives=True)
            here = onward
        self.places[key] = here
        return here

    def _positions(self) -> dict[str, list[str]]:
        """Each position of the selector, with the jacks that it joins."""
        ways = self.section.select or {}
        return {position: [end for end in ends if end in ways] or [position] for position, ends in ways.items()}

    def _guards(self, jack: str) -> list[Guard]:
        """The positions of the selector that join this jack."""
        name = self.stage.name
        return [((select_switch(name, position), True),) for position, jacks in self._positions().items() if jack in jacks]

    def _finish(self) -> None:
        section, name = self.section, self.stage.name
        for position in section.select or ():
            self.builder._switch(select_switch(name, position), SwitchKind.SELECT, name, position, (*self.stage.path, "select", position))
        described = section.outs or {}
        for jack in self.outs:
            if is_send(jack) or job_of(jack) is not Job.AUDIO:
                continue
            stem = jack if jack in described else jack[:-2] if side_of(jack) and jack[:-2] in described else jack
            out = described.get(stem)
            places = self.places.get(out.tap.after if out and out.tap else END, {})
            polarity = {"inverts": -1, "unknown": None}.get(out.polarity or "", self.stage.polarity) if out else self.stage.polarity
            guards = self._guards(jack) if jack in (section.select or {}) else [()]
            side = side_of(jack) if jack not in (section.select or {}) else None
            for place in [places[side]] if side in places else list(places.values())[:1]:
                for guard in guards:
                    self.way(place, Node(name, jack), guard, polarity=polarity, drives=self.buffers(END) or self.stage.drives_engaged)
