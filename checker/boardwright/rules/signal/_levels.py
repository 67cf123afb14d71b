"""Classes of level, and how loud the sound can get."""

from __future__ import annotations

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.signal import Edge, Node, Role, Stage
from boardwright.board.signal.graph import Walk, stated_gain
from boardwright.physics import levels
from boardwright.spec.figure import Figure, Origin, assumed, figure, unknown
from boardwright.spec.sections.amps import Amp

NOMINAL = {
    "pickup": -20.0,
    "instrument": -10.0,
    "line": -10.0,
    "line-consumer": -10.0,
    "line-professional": 1.78,
    "mic": -50.0,
    "speaker": 20.0,
}
"""Nominal level (dBV) of each class. Line classes are −10 dBV and +4 dBu by convention; the others are common practice."""


def gives(stage: Stage, jack: str) -> str | None:
    """Class of level that comes out of a box; ``None`` where it passes on what it gets."""
    if stage.role is Role.SOURCE:
        level = getattr(stage.section, "level", None)
        return level if isinstance(level, str) else "pickup" if stage.is_passive_pickup else "instrument"
    if stage.role is Role.AMP:
        loop = stage.section.loop if isinstance(stage.section, Amp) else None
        return loop.level if loop and "send" in jack else None
    if stage.kind_name in ("di",):
        return "mic"
    if stage.kind_name == "reamp":
        return "pickup"
    if stage.role is Role.SWITCHER or not stage.drives_engaged or stage.kind_name in ("splitter", "mixer", "tuner", "buffer"):
        return None
    return getattr(stage.section, "level", None) or stage.kind.level


def takes(stage: Stage, jack: str) -> str | None:
    """Class of level that an input is made for; ``None`` where it takes whatever comes."""
    if isinstance(stage.section, Amp):
        amp = stage.section
        if "return" in jack:
            return amp.loop.level if amp.loop else None
        if amp.level:
            return amp.level
        return None if amp.kind in ("desk", "interface") else "instrument"
    if stage.kind_name in ("di", "reamp", "transformer", "splitter", "mixer", "volume-pedal", "load-box") or stage.role is Role.SWITCHER:
        return None
    return getattr(stage.section, "level", None) or "instrument"


def ceiling(board: Board, stage: Stage) -> Figure:
    """Peak (V) that a box takes before it distorts, stated or from its supply."""
    stated = getattr(stage.section, "max_in", None)
    if stated is not None and stated.known:
        return figure(levels.volts_from_dbu(stated.value) * 2**0.5, "V", stated.origin)
    return rail(board, stage)


def rail(board: Board, stage: Stage) -> Figure:
    """Peak (V) that a stage can make from its supply."""
    device = board.power.devices.get(stage.name)
    if device is None or device.takes_nothing:
        return unknown("V")
    volts = device.outlets[0].volts if device.outlets else device.needs.nominal
    if not volts or volts <= limits.RAIL_LOSS.value:
        return unknown("V")
    return figure(levels.peak_ceiling(volts, limits.RAIL_LOSS.value), "V", Origin.ASSUMED)


def raises(edge: Edge) -> bool:
    """Whether a box that is on states that it makes louder."""
    return edge.engaged and edge.stage is not None and edge.stage.stated_gain is not None and (edge.stage.stated_gain.high or 0) > 0


def peaks(board: Board) -> dict[Node, tuple[float, Walk | None, bool]]:
    """The loudest peak (V) at each node over all states, with the way that it came, and whether a box on it raises it.

    Unity where no gain is stated.
    """
    signal, order = board.signal, board.signal.graph.order
    best: dict[Node, tuple[float, Walk | None, bool]] = {}
    for name in signal.sources:
        for node in signal.starts(name):
            best[node] = (source_peak(signal.stages[name]).value, None, False)
    for node in order:
        if node not in best:
            continue
        peak, walk, raised = best[node]
        for edge in signal.graph.leaving[node]:
            if order[edge.end] <= order[node]:
                continue
            loud = _through(board, edge, peak)
            if edge.end not in best or loud > best[edge.end][0]:
                best[edge.end] = (loud, Walk(edge, walk), raised or raises(edge))
    return best


def source_peak(stage: Stage) -> Figure:
    """Peak (V) of a source played hard."""
    level = getattr(stage.section, "level", None)
    if isinstance(level, Figure) and level.known:
        return level
    if isinstance(level, str) and level in NOMINAL:
        return assumed(levels.volts_from_dbv(NOMINAL[level]) * 2**0.5, "V")
    return assumed(limits.PICKUP_PEAK.value, "V")


def _through(board: Board, edge: Edge, peak: float) -> float:
    stage = edge.stage
    if stage is None or not edge.engaged or stage.role is Role.SWITCHER:
        return peak
    loud = peak * levels.ratio_of(stated_gain(edge)[1])
    stated = getattr(stage.section, "max_out", None)
    bounds = [rail(board, stage).value_or(float("inf"))] if stage.drives_engaged else []
    if stated is not None and stated.known:
        bounds.append(levels.volts_from_dbu(stated.value) * 2**0.5)
    elif stage.kind.ceiling is not None:
        bounds.append(max(stage.kind.ceiling, peak))
    return min([loud, *bounds])
