"""Proposed places and proposed ways: they keep the rules that we hold drawn ones to, and they are quick."""

from __future__ import annotations

import math
import random
import time
from itertools import pairwise

import pytest

from big_board import big_board
from boardwright import judge
from boardwright.board.assemble import assemble
from boardwright.board.layout.geometry import Rect, angle_between, crossings, length_beside, path_length
from boardwright.board.layout.routing import ABOVE, BELOW, find_ways
from boardwright.report.cut_list import cut_list, to_csv, to_text
from boardwright.report.layout import layout as draw
from boardwright.report.print_sheets import print_sheets
from boardwright.rules.routing.audio_beside_power import BOUNDS
from boardwright.rules.run import run
from boardwright.rules.verdict import Verdict
from boardwright.spec.read import read


def _board(text):
    board = assemble(read(text))
    assert not board.spec.problems, board.spec.problems
    return board


def _parts(way, layer):
    return [part for part, on in zip(pairwise(way.points), way.layers, strict=True) if on == layer]


def test_every_lead_of_a_big_board_gets_a_way_that_keeps_the_rules():
    layout = _board(big_board()).layout
    ways = layout.ways
    assert len(layout.leads) >= 60 and len(ways) == len(layout.leads)
    assert not [each.lead.joins for each in ways if each.way.forced]
    _keep_the_rules(layout, ways)


def _keep_the_rules(layout, ways):
    boxes = [box for box in layout.boxes.values() if box.footprint is not None]
    for each in ways:
        for part, layer in zip(pairwise(each.way.points), each.way.layers, strict=True):
            assert part[0][0] == part[1][0] or part[0][1] == part[1][1], "square"
            for box in boxes:
                if (BELOW if box.under else ABOVE) == layer and box not in (each.lead.start.box, each.lead.end.box):
                    assert not _cuts_into(part, box.footprint), (each.lead.joins, box.name)
    sound = [each for each in ways if each.lead.carries == "audio"]
    for other in (each for each in ways if each.lead.carries in BOUNDS):
        near, longest, _ = BOUNDS[other.lead.carries]
        for each in sound:
            for layer in (ABOVE, BELOW):
                theirs = _parts(other.way, layer)
                beside = sum(length_beside(part, one, near.value, math.radians(30)) for part in _parts(each.way, layer) for one in theirs)
                assert beside <= longest.value, (each.lead.joins, other.lead.joins, beside)
                for part in _parts(each.way, layer):
                    for one in theirs:
                        assert all(math.isclose(found.angle, math.pi / 2) for found in crossings(part, one))


def _cuts_into(part, rect):
    (ax, ay), (bx, by) = part
    inner = rect.grown(-0.001, -0.001, -0.001, -0.001)
    return Rect(min(ax, bx), min(ay, by), max(ax, bx), max(ay, by)).overlap(inner) > (0, 0) and (
        min(ax, bx) < inner.right and max(ax, bx) > inner.left and min(ay, by) < inner.back and max(ay, by) > inner.front
    )


def test_lengths_are_those_of_the_ways():
    layout = _board(big_board()).layout
    for each in layout.ways:
        if each.length is not None:
            flat = path_length(each.way.points)
            straight = math.dist(each.way.points[0], each.way.points[-1])
            assert each.length >= flat - 1e-9 >= straight - 2e-9
            # sockets at half the height of two boxes, steps of 25 and 50 mm, at most a few passes of 22 mm
            assert each.length - flat < 0.3


def test_given_openings_are_the_only_way_down():
    text = """
board: {frame: {size: [400, 300], gap_under: 60}}
supplies: {s: {under: yes, size: [120, 60, 30], at: [20, 20], outlets_on: right, outlets: {1: 9V dc centre-negative 100mA}}}
pedals: {a: {kind: boost, needs: 9V dc centre-negative 10mA, feed: s.1, size: [70, 120, 55], at: [300, 150]}}
openings: {hole: {dia: 25, at: [200, 285], edge: wood}}
"""
    (each,) = _board(text).layout.ways
    assert not each.way.forced and each.way.passes == 1
    turn = next(number for number, (a, b) in enumerate(pairwise(each.way.layers)) if a != b)
    assert each.way.points[turn + 1] == pytest.approx((0.2, 0.285))


def test_a_lead_that_is_shut_in_is_said_to_be():
    text = """
board: {frame: {size: [300, 150]}}
pedals:
  a: {kind: boost, size: [70, 120, 55], at: [0, 10], jacks: {out: [right, 60]}}
  b: {kind: boost, size: [70, 150, 55], at: [70, 0]}
  c: {kind: boost, size: [70, 120, 55], at: [200, 10], jacks: {in: [right, 60]}}
audio: [a > c]
"""
    (each,) = _board(text).layout.ways
    assert each.way.forced


def test_proposed_places_pass_the_rules_they_are_made_for():
    rng = random.Random(7)
    for _ in range(60):
        count = rng.randint(2, 9)
        pedals, fixed = {}, []
        for number in range(count):
            treadle = rng.random() < 0.2
            size = [rng.randint(80, 110), rng.randint(230, 260), 80] if treadle else [rng.choice([45, 70, 72, 120]), rng.choice([95, 120, 130]), 55]
            keys = [f"size: {size}", f"kind: {'wah' if treadle else 'overdrive'}"]
            if rng.random() < 0.4:
                keys.append("jacks: rear")
            pedals[f"p{number}"] = keys
            fixed.append(f"p{number}")
        frame = "board: {frame: {size: [1500, 330]}}\n"
        chain = f"audio: [guitar > {' > '.join(fixed)} > combo]\namps: {{combo: {{kind: valve}}}}\n"
        proposed = _board(frame + "pedals:\n" + "".join(f"  {name}: {{row: 1, {', '.join(keys)}}}\n" for name, keys in pedals.items()) + chain)
        if proposed.layout.overfull:
            continue
        places = {box.name: [round(x * 1000) for x in box.corner] for box in proposed.layout.boxes.values()}
        assert all(box.proposed for box in proposed.layout.boxes.values()) and proposed.layout.is_proposed
        # what we propose, written down as a person would, must be found in order
        written = _board(frame + "pedals:\n" + "".join(f"  {name}: {{at: {places[name]}, {', '.join(keys)}}}\n" for name, keys in pedals.items()) + chain)
        rules = ["boxes-overlap", "box-off-the-frame", "plug-has-no-room", "footswitches-too-close"]
        tripped = [judged.sentence for _, judged in run(written, rules).judgements if judged.verdict is Verdict.TRIPS]
        assert not tripped, (tripped, places)


def test_rows_fill_from_the_right_as_sound_runs():
    board = _board("board: {frame: {size: [500, 150]}}\npedals: {a: {row: 1}, b: {row: 1}, c: {row: 1}}\naudio: [b > a > c]\n")
    left_to_right = sorted(board.layout.boxes.values(), key=lambda box: box.corner)
    assert [box.name for box in left_to_right] == ["c", "a", "b"]


def test_proposals_go_around_what_has_a_place():
    text = "board: {frame: {size: [500, 150]}}\npedals: {a: {row: 1}, b: {row: 1}, fixed: {at: [250, 10]}}\n"
    layout = _board(text).layout
    assert layout.boxes["fixed"].corner == (0.25, 0.01) and not layout.boxes["fixed"].proposed
    rects = [box.footprint for box in layout.boxes.values()]
    assert all(a.shared(b) == 0 for a in rects for b in rects if a is not b)


def test_big_board_is_routed_drawn_and_listed_in_two_seconds():
    text = big_board()
    judge("pedals: {a: {kind: boost}}")  # imports and models are not what is measured
    find_ways.cache_clear()
    start = time.process_time()
    board, report = judge(text)
    drawing = draw(board, report)
    listed = cut_list(board)
    assert drawing and to_text(listed) and to_csv(listed) and print_sheets(board)
    assert time.process_time() - start < 2


def test_ways_of_an_unmoved_board_are_kept():
    """An edit that moves nothing must not cost a new search."""
    first = _board(big_board()).layout.ways
    second = _board(big_board().replace("20mA", "21mA")).layout.ways
    assert all(a.way is b.way for a, b in zip(first, second, strict=True))


def test_angles_of_parts_are_acute():
    assert angle_between(((0, 0), (1, 0)), ((0, 0), (-1, 1))) == pytest.approx(math.pi / 4)
