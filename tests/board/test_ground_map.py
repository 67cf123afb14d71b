"""The earth map: well-formed, with everything named in its text alternative, and loops that stand out."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from boardwright import judge
from boardwright.report.drawings import DRAWINGS
from boardwright.report.earth_map import LOOP_COLOUR

ROOT = Path(__file__).parents[2]
NS = "{http://www.w3.org/2000/svg}"

RIG = """
pedals: {drive: {kind: overdrive}, split: {kind: splitter}}
isolators: {iso: {kind: transformer, screen: SCREEN}}
amps: {one: {kind: valve, class: I, required: yes}, two: {kind: valve, class: I}}
audio: [guitar > drive > split, split > one, {path: split > iso > two, lead: {length: 5 m, ends: [straight, angled]}}]
"""


def _map(text: str) -> tuple[str, ET.Element]:
    source = DRAWINGS["earth-map"](*judge(text))
    return source, ET.fromstring(source)


@pytest.mark.parametrize(
    "file", sorted(str(file.relative_to(ROOT)) for file in [*(ROOT / "demo_boards").glob("*.yaml"), *(ROOT / "docs/lessons/boards").glob("*.yaml")])
)
def test_every_board_has_one_that_is_well_formed(file):
    source, root = _map((ROOT / file).read_text("utf-8"))
    assert root.find(f"{NS}title").text.startswith("Earth map of ")
    assert root.find(f"{NS}desc").text
    assert "<script" not in source and "<style" not in source and " style=" not in source and "href" not in source
    width, height = float(root.get("width")), float(root.get("height"))
    for text in root.iter(f"{NS}text"):
        assert 0 <= float(text.get("x")) <= width and 0 <= float(text.get("y")) <= height + 1


def test_a_loop_stands_out_and_is_told():
    source, root = _map(RIG.replace("SCREEN", "through"))
    assert source.count(f'stroke="{LOOP_COLOUR}"') >= 5  # two leads, two cords, and the earth between them
    assert "Loop 1: from the wall by the mains cord of one" in root.find(f"{NS}desc").text


def test_one_earth_stands_out_and_is_told():
    source, root = _map(RIG.replace("SCREEN", "lifted"))
    assert LOOP_COLOUR not in source
    assert "one earth" in [text.text for text in root.iter(f"{NS}text")]
    assert "Isolator iso: apart" in root.find(f"{NS}desc").text
    assert "iso: lifted" in [text.text for text in root.iter(f"{NS}text")]


def test_what_is_not_known_is_dashed_and_told():
    source, root = _map(RIG.replace("SCREEN", "unknown"))
    assert "if it is one" in root.find(f"{NS}desc").text
    assert f'stroke="{LOOP_COLOUR}" stroke-width="4" stroke-opacity="1" stroke-dasharray' in source


def test_everything_is_named_in_the_text_alternative():
    text = (ROOT / "demo_boards/saltmarsh-tour.yaml").read_text("utf-8")
    board, _ = judge(text)
    told = _map(text)[1].find(f"{NS}desc").text
    for name in [*board.spec.pedals, *board.spec.switchers, *board.spec.isolators, *board.spec.amps]:
        assert name in told, name


def test_a_board_without_leads_is_told_to_have_none():
    assert "No leads are described" in _map("pedals: {a: {kind: delay}}\n")[1].find(f"{NS}desc").text


HOSTILE = """
board: {name: '<script>&"'}
pedals: {größe_1: {kind: delay}, 音-2: {kind: reverb}}
amps: {combo: {class: I}}
audio: [guitar > größe_1 > 音-2 > combo]
"""


def test_hostile_names_stay_text():
    source, _ = _map(HOSTILE)
    assert "<script" not in source and "größe_1" in source and "音-2" in source
