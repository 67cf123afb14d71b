"""A bench with a broken rig on it: it answers a hunt's tests by what networkx says of the wires, and knows nothing of suspects.

The rig is drawn from the board's ways and from its text; one thing of it is broken; a test is an operation on the drawing
(a lead more, a part put right) and a question of plain reachability.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import networkx as nx

from boardwright.board.assemble import Board
from boardwright.board.hunt import Hunt, NoHunt, Probe, ProbeKind
from boardwright.board.hunt.situation import situation
from boardwright.board.signal import State
from boardwright.spec.fields import Jack
from boardwright.spec.sections.symptom import Symptom

WALL = "wall"


@dataclass(frozen=True)
class Broken:
    """One thing broken: ``lead`` (or one of its plugs), ``box``, ``power lead``, ``outlet``."""

    kind: str
    name: str


def everything(board: Board) -> Iterator[Broken]:
    """Each lead, each of its two plugs, each box, each power lead and each outlet of a board, in turn."""
    for hop in board.audio.hops:
        if not hop.is_air:
            name = f"{hop.start} > {hop.end}"
            yield from (Broken("lead", name), Broken("first plug", name), Broken("second plug", name))
    for section in ("pedals", "switchers", "isolators", "amps"):
        for name, box in getattr(board.spec, section).items():
            yield Broken("box", name)
            if getattr(box, "feed", None):
                yield Broken("power lead", name)
    for name, supply in board.spec.supplies.items():
        yield from (Broken("outlet", f"{name}.{outlet}") for outlet in supply.outlets or ())
        if supply.feed:
            yield Broken("power lead", name)


class Rig:
    """A rig of which one thing is broken."""

    def __init__(self, board: Board, broken: Broken | None) -> None:
        self.board, self.broken = board, broken
        self.spec = board.spec

    # --- power ------------------------------------------------------------------------------------------------------

    @cached_property
    def dark(self) -> set[str]:
        """Boxes that get no power although they have a feed."""
        return self._dark(self.broken)

    def _dark(self, broken: Broken | None) -> set[str]:
        tree = nx.DiGraph()
        fed = set()
        for section in ("pedals", "switchers", "isolators", "supplies"):
            for name, box in getattr(self.spec, section).items():
                feeds = getattr(box, "feed", None) or []
                if len(feeds) == 1:
                    fed.add(name)
                    ends = [str(jack) for jack in feeds[0].from_ or ()]
                    start = feeds[0].after or (ends[0] if ends else None)
                    if start and not (broken and broken.kind == "power lead" and broken.name == name):
                        tree.add_edge(WALL if start == "battery" else start, name)
                elif feeds or section == "supplies":
                    tree.add_edge(WALL, name)
                for outlet in getattr(box, "outlets", None) or {} if section == "supplies" else {}:
                    if not (broken and broken.kind == "outlet" and broken.name == f"{name}.{outlet}"):
                        tree.add_edge(name, f"{name}.{outlet}")
        lit = nx.descendants(tree, WALL) if WALL in tree else set()
        return fed - lit

    # --- sound ------------------------------------------------------------------------------------------------------

    def drawn(self, positions: dict[str, bool], broken: Broken | None, dark: set[str]) -> nx.MultiDiGraph:
        graph = nx.MultiDiGraph()
        for edge in self.board.signal.graph.edges:
            graph.add_nodes_from([edge.start, edge.end])
            if any(positions[id_] is not is_on for id_, is_on in edge.guard):
                continue
            if edge.hop is not None:
                name = f"{edge.hop.start} > {edge.hop.end}"
                if not (broken and broken.kind in ("lead", "first plug", "second plug") and broken.name == name):
                    graph.add_edge(edge.start, edge.end, own=None)
            elif edge.stage is not None:
                name = edge.stage.name
                if broken and broken.kind == "box" and broken.name == name:
                    continue
                if name in dark and not self._passes_dark(name, positions, edge):
                    continue
                graph.add_edge(edge.start, edge.end, own=name if edge.engaged else None)
        return graph

    def _passes_dark(self, name: str, positions: dict[str, bool], edge) -> bool:  # type: ignore[no-untyped-def]
        box = self.spec.pedals.get(name) or self.spec.switchers.get(name) or self.spec.isolators.get(name)
        if box is None or box.needs in (None, "none") or box.unpowered == "passes":
            return box is not None and (box.unpowered == "passes" or box.needs == "none")
        return not edge.engaged and positions.get(name) is False and getattr(box, "bypass", None) in ("true-bypass", "relay")

    def gets(self, graph: nx.MultiDiGraph, start, end, via: str | None) -> bool:  # type: ignore[no-untyped-def]
        """Whether sound gets from one node to another; with ``via``, by way of that box's own sound."""
        if start not in graph or end not in graph:
            return False
        ahead = nx.descendants(graph, start) | {start}
        if via is None:
            return end in ahead
        behind = nx.ancestors(graph, end) | {end}
        return any(a in ahead and b in behind for a, b, own in graph.edges(data="own") if own == via)

    def heard(self, positions: dict[str, bool], source: str, amp: str, via: str | None = None, whole: bool = False) -> bool:
        graph = self.drawn(positions, None if whole else self.broken, set() if whole else self.dark)
        return any(self.gets(graph, start, self.board.signal.heard(amp), via) for start in self.board.signal.starts(source))

    # --- what a person notices --------------------------------------------------------------------------------------

    def noticed(self) -> Symptom | None:
        """The symptom as its player would tell it: in every state if there, else in a preset, in a loop, or of one box."""
        signal = self.board.signal
        switches = signal.switches
        states = [("always", None)]
        states += [(name, State({}, name, "")) for name, preset in switches.presets.items() if not preset.quiet]
        states += [(switch.id, State({switch.id: True}, None, "")) for switch in switches.ordered if switch.kind in ("loop", "select")]
        for name, state in states:
            symptom = Symptom(kind="silent", when=[name.replace("=", ".")])
            try:
                positions = switches.complete(state) if state else situation(self.board, symptom).positions
            except NoHunt:
                continue
            for source in signal.sources:
                amps = [amp for amp in signal.amps if self.heard(positions, source, amp, whole=True)]
                lost = [amp for amp in amps if not self.heard(positions, source, amp)]
                if lost:
                    when = [name.replace("=", "."), source]
                    return Symptom(kind="silent", when=when, at=None if lost == amps else lost)
        for name in signal.stages:
            if signal.effect_edges(name):
                for source in signal.sources:
                    try:
                        found = situation(self.board, Symptom(kind="silent", when=[name, source]))
                    except NoHunt:
                        continue
                    amps = [amp for amp in signal.amps if self.heard(found.positions, source, amp, name, whole=True)]
                    lost = [amp for amp in amps if not self.heard(found.positions, source, amp, name)]
                    if lost:
                        return Symptom(kind="silent", when=[name, source], at=None if lost == amps else lost)
        return self._thinner(states)

    def _thinner(self, states) -> Symptom | None:  # type: ignore[no-untyped-def]
        """Nothing is silent; where ways run side by side, one that is missing is heard as thin."""
        signal = self.board.signal
        for name, _ in states:
            for source in signal.sources:
                symptom = Symptom(kind="weak", when=[name.replace("=", "."), source])
                try:
                    found = situation(self.board, symptom)
                except NoHunt:
                    continue
                start = signal.starts(source)[0]
                thin = [amp for amp in found.ends if not self._whole(found, start, signal.heard(amp), self.broken, self.dark)]
                if thin:
                    return Symptom(kind="weak", when=symptom.when, at=None if thin == found.ends else thin)
        return None

    def _whole(self, found, start, end, broken, dark, around: str | None = None) -> bool:  # type: ignore[no-untyped-def]
        """Whether all the ways from one node to another are there that should be."""
        ways = []
        for graph in (self.drawn(found.positions, None, set()), self.drawn(found.positions, broken, dark)):
            if around:
                self._join_round(graph, around, found.via)
            between = (nx.descendants(graph, start) | {start}) & (nx.ancestors(graph, end) | {end})
            ways.append({(a, b) for a, b in graph.edges() if a in between and b in between and not (around and a.thing == b.thing == around)})
        return ways[0] == ways[1]

    # --- answering tests --------------------------------------------------------------------------------------------

    def answers(self, hunt: Hunt, probe: Probe) -> str:
        return "good" if self._is_good(hunt, probe) else "bad"

    def _is_good(self, hunt: Hunt, probe: Probe) -> bool:
        found = hunt.situation
        broken, dark = self.broken, self.dark
        start, end = self.board.signal.starts(found.source)[0], self.board.signal.heard(found.ends[0])
        match probe.kind:
            case ProbeKind.LOOK:
                return True
            case ProbeKind.LAMPS:
                if probe.id == "lamps":
                    return not dark
                outlets = {f"{probe.about}.{outlet}" for outlet in self.spec.supplies[probe.about].outlets or ()}
                working = outlets - ({broken.name} if broken and broken.kind == "outlet" else set())
                return probe.about not in dark and bool(working)
            case ProbeKind.VOLTS:
                return probe.about not in dark
            case ProbeKind.LISTEN:
                graph = self.drawn(found.positions, broken, dark)
                node = self._node(probe.about, "start")
                own_amp = not (hunt.symptom.another_amp or found.fine)
                if own_amp and broken == Broken("box", found.ends[0]):
                    return False
                if found.kind == "weak":
                    return self._whole(found, start, node, broken, dark)
                via = found.via if found.via and self.gets(self.drawn(found.positions, None, set()), start, node, found.via) else None
                return self.gets(graph, start, node, via)
            case ProbeKind.INJECT:
                graph = self.drawn(found.positions, broken, dark)
                node = self._node(probe.about, "end")
                if found.kind == "weak":
                    return self._whole(found, node, end, broken, dark)
                behind = found.via and self.gets(self.drawn(found.positions, None, set()), start, node, found.via)
                return self.gets(graph, node, end, None if behind else found.via)
        if probe.kind is ProbeKind.SWAP and broken and broken.kind.endswith(("lead", "plug")) and probe.about == f"lead {broken.name}":
            broken = None
        if probe.kind is ProbeKind.FEED and broken == Broken("power lead", probe.about):
            broken = None
        if probe.kind is ProbeKind.OUTLET and broken == Broken("outlet", probe.about):
            broken = None
        dark = self._dark(broken)
        graph = self.drawn(found.positions, broken, dark)
        via = found.via
        if probe.kind is ProbeKind.AROUND:
            if probe.about in self.board.signal.amps:
                return self._without_amp(graph, found, start, probe.about)
            if found.kind == "weak":
                return self._whole(found, start, end, broken, dark, probe.about)
            self._join_round(graph, probe.about, via)
        if found.kind == "weak":
            return self._whole(found, start, end, broken, dark)
        return self.gets(graph, start, end, via)

    def _join_round(self, graph, box: str, via: str | None) -> None:  # type: ignore[no-untyped-def]
        """A good lead from what comes into a box to what goes out of it."""
        ins = [self._node(hop.end, "end") for hop in self.board.audio.arriving.get(box, ())]
        outs = [self._node(hop.start, "start") for hop in self.board.audio.leaving.get(box, ())]
        graph.add_edges_from((a, b, {"own": box if box == via else None}) for a in ins for b in outs)

    def _without_amp(self, graph, found, start, amp: str) -> bool:  # type: ignore[no-untyped-def]
        """Whether the lead that goes into an amplifier brings the sound."""
        return any(self.gets(graph, start, self._node(hop.end, "end"), found.via) for hop in self.board.audio.arriving.get(amp, ()))

    def _node(self, jack: str | Jack, end: str):  # type: ignore[no-untyped-def]
        return next(getattr(edge, end) for edge in self.board.signal.graph.edges if edge.hop and str(getattr(edge.hop, end)) == str(jack))


@dataclass(frozen=True)
class Caught:
    """How one hunt went."""

    broken: Broken
    tests: int
    one_by_one: int
    """Tests that going through the suspects from the front would have taken."""
    named: bool
    left: int


def caught(board: Board, broken: Broken) -> Caught | None:
    """Hunt one broken thing down; ``None`` where nothing is missed without it, so that nobody would ever look."""
    rig = Rig(board, broken)
    symptom = rig.noticed()
    if symptom is None:
        return None
    hunt = Hunt(board, symptom)
    order = [each.id for each in hunt.all]
    while (test := hunt.next_test) is not None:
        hunt.answer(rig.answers(hunt, test))
    names = {
        "lead": f"lead {broken.name}", "first plug": f"lead {broken.name}", "second plug": f"lead {broken.name}", "box": f"{broken.name} itself",
        "power lead": f"power lead of {broken.name}", "outlet": f"outlet {broken.name}",
    }  # fmt: skip
    wanted = names[broken.kind]
    left = [each.id for each in hunt.found]
    supply = board.spec.supplies.get(broken.name.partition(".")[0])
    if broken.kind == "outlet" and supply and len(supply.outlets or ()) == 1:
        wanted = f"{broken.name.partition('.')[0]} itself"  # nobody can tell the two apart from outside
    place = order.index(wanted) + 1 if wanted in order else len(order)
    return Caught(broken, len(hunt.record), min(place, len(order) - 1), wanted in left, len(left))
