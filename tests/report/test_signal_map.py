"""The signal map and the pickup's response: that they show what the engine says."""

from __future__ import annotations

import math
from pathlib import Path
from xml.etree import ElementTree

import pytest

from boardwright import judge
from boardwright.board.signal import State
from boardwright.physics import pickup
from boardwright.report.response_plot import BOTTOM, CEILING, FLOOR, HIGHEST, LEFT, LOWEST, REFERENCE, RIGHT, TOP, pickup_of, response_plot
from boardwright.report.signal_map import signal_map

ROOT = Path(__file__).parents[2]
SVG = "{http://www.w3.org/2000/svg}"
BOARDS = sorted(ROOT.glob("demo_boards/*.yaml"))


def _tour():
    return judge((ROOT / "demo_boards/saltmarsh-tour.yaml").read_text("utf-8"))


def _labels(element):
    return [text.text or "" for text in element.iter(f"{SVG}text")]


@pytest.mark.parametrize("board", BOARDS, ids=lambda path: path.stem)
def test_every_thing_that_a_lead_joins_is_on_the_map(board):
    judged, report = judge(board.read_text("utf-8"))
    drawing = ElementTree.fromstring(signal_map(judged, report))
    shown = " ".join([*_labels(drawing), *(title.text or "" for title in drawing.iter(f"{SVG}title"))])
    for hop in judged.audio.hops:
        for name in (hop.start.thing, hop.end.thing):
            assert name in shown, f"{name} is missing"
    width, height = (float(drawing.get(side)) for side in ("width", "height"))
    for text in drawing.iter(f"{SVG}text"):
        assert 0 <= float(text.get("x")) <= width and 0 <= float(text.get("y")) <= height


def test_a_preset_lights_what_is_live_in_it():
    judged, report = _tour()
    for preset in judged.signal.switches.presets:
        live = {id(edge.hop) for edge in judged.signal.live(State({}, preset, "")) if edge.hop is not None}
        drawing = ElementTree.fromstring(signal_map(judged, report, preset=preset))
        named = [group for group in drawing.iter(f"{SVG}g") if preset in (group.get("data-live") or "").split()]
        assert bool(named) == bool(live)
        assert all(group.get("opacity") is None for group in named)
        faded = [group for group in drawing.iter(f"{SVG}g") if group.get("opacity")]
        assert not any(preset in (group.get("data-live") or "").split() for group in faded)


def test_a_promise_lights_what_it_rests_on():
    judged, report = _tour()
    drawing = ElementTree.fromstring(signal_map(judged, report, promise=0))
    lit = {label for group in drawing.iter(f"{SVG}g") if not group.get("opacity") for label in _labels(group)[:1]}
    faded = {label for group in drawing.iter(f"{SVG}g") if group.get("opacity") for label in _labels(group)[:1]}
    assert "centre" in lit, "the amplifier that the promise protects"
    assert {"left", "right"} <= faded, "the amplifiers that it does not speak of"


def test_names_from_a_board_stay_text():
    judged, report = judge("board: {name: '<script>alert(1)</script>'}\npedals: {a: {kind: boost}}\namps: {x: {kind: valve}}\naudio: [guitar > a > x]")
    drawing = signal_map(judged, report)
    ElementTree.fromstring(drawing)
    assert "<script" not in drawing


def test_the_curve_is_the_response_of_the_formula():
    judged, report = _tour()
    _, coil, found = pickup_of(judged)
    brightest = max(found, key=coil.treble)
    drawing = ElementTree.fromstring(response_plot(judged, report))
    curve = next(path.get("d") for path in drawing.iter(f"{SVG}path") if path.get("d").count("L") > 50)
    for point in curve.removeprefix("M").split("L")[::6]:
        x, y = map(float, point.split())
        frequency = LOWEST * (HIGHEST / LOWEST) ** ((x - LEFT) / (RIGHT - LEFT))
        level = CEILING - (y - TOP) / (BOTTOM - TOP) * (CEILING - FLOOR)
        wanted = pickup.level(frequency, REFERENCE, coil.pickup, brightest.capacitance, coil.load(brightest))
        assert math.isclose(level, min(CEILING, max(FLOOR, wanted)), abs_tol=0.1)
