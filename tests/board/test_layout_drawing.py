"""The layout drawing and the cut list: true to scale, complete, and readable by everyone."""

from __future__ import annotations

import csv
import io
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from click.testing import CliRunner

from big_board import big_board
from boardwright import judge
from boardwright.cli import main
from boardwright.report.cut_list import COLUMNS, cut_list, to_csv, to_sheet, to_text
from boardwright.report.layout import LEFT, TOP, layout

SVG = "{http://www.w3.org/2000/svg}"
DEMOS = sorted((Path(__file__).parents[2] / "demo_boards").glob("*.yaml"))


def _drawn(text):
    board, report = judge(text)
    return board, report, ET.fromstring(layout(board, report))


def test_boxes_are_where_and_as_large_as_they_are():
    board, _, picture = _drawn(big_board())
    rects = {tuple(float(rect.get(key)) for key in ("x", "y", "width", "height")) for rect in picture.iter(f"{SVG}rect")}
    scale = 1.0  # the widest boards: one drawing unit for each millimetre
    for box in board.layout.boxes.values():
        x, y = box.corner
        expected = (LEFT + x * 1000 * scale, TOP + (520 - (y + box.depth) * 1000) * scale, box.width * 1000 * scale, box.depth * 1000 * scale)
        assert any(found == pytest.approx(expected, abs=0.06) for found in rects), box.name


def test_every_box_is_named_in_the_picture_and_in_words():
    board, _, picture = _drawn(big_board())
    words = {text.text for text in picture.iter(f"{SVG}text")}
    described = picture.find(f"{SVG}desc").text
    for name in board.layout.boxes:
        assert name in words and name in described
    assert "Row 2, raised 25 mm, from the left" in described and "+50 mm" in words and "100 mm" in words


def test_findings_are_marked_where_they_are():
    text = "board: {frame: {size: [400, 200]}}\npedals: {a: {size: [70, 120, 55], at: [10, 10]}, b: {size: [70, 120, 55], at: [60, 10]}}"
    _, report, picture = _drawn(text)
    assert [finding.rule for finding in report.findings] == ["boxes-overlap"]
    assert "fault" in {text.text for text in picture.iter(f"{SVG}text")}


def test_a_board_without_places_says_so():
    _, _, picture = _drawn("pedals: {a: {kind: boost}}")
    assert "No places are described" in picture.find(f"{SVG}desc").text


def test_a_proposal_is_marked_as_one():
    _, _, picture = _drawn("board: {frame: {size: [400, 150]}}\npedals: {a: {row: 1}, b: {row: 1}}")
    assert "proposed places" in picture.find(f"{SVG}title").text
    assert any("all places (dashed) are proposals" in (text.text or "") for text in picture.iter(f"{SVG}text"))


def test_the_caption_counts_what_is_proposed_and_says_which():
    boxes = "a: {size: [70, 120, 55], at: [10, 10]}, b: {size: [70, 120, 55], at: [110, 10]}, c: {size: [70, 120, 55], row: 1}"
    text = f"board: {{frame: {{size: [400, 150]}}}}\npedals: {{{boxes}}}\naudio: [a > b > c]\nruns: [{{joins: a > b, path: [[10, 70], [100, 70]]}}]\n"
    _, _, picture = _drawn(text)
    told = " ".join(text.text or "" for text in picture.iter(f"{SVG}text"))
    assert "1 of 3 places (dashed) are proposals" in told and "1 of 2 ways are proposals" in told


@pytest.mark.parametrize("name", ["<b>&amp;\"'", "a\u0000b", "\U0001f3b8 board"])
def test_any_name_draws(name):
    board, report = judge('board: {name: "x", frame: {size: [400, 200]}}\npedals: {ä_1: {size: [70, 120, 55], at: [10, 10]}}')
    report.board = type(report.board)(name, None)
    ET.fromstring(layout(board, report))


@pytest.mark.parametrize("file", DEMOS, ids=lambda file: file.stem)
def test_worked_examples_draw_and_list(file):
    board, _, picture = _drawn(file.read_text("utf-8"))
    assert picture.find(f"{SVG}title").text
    listed = cut_list(board)
    assert to_text(listed) and to_csv(listed) and to_sheet(listed, board)
    assert all(len(line) <= 80 for line in to_text(listed).splitlines())


def test_every_lead_is_listed_once_and_never_short():
    board, _ = judge(big_board())
    listed = cut_list(board)
    labels = [row.label for row in listed.rows] + [each.lead.label for each in listed.bought]
    assert sorted(labels) == sorted(lead.label for lead in board.layout.leads) and len(labels) == len(set(labels))
    for row in listed.rows:
        assert row.cut >= row.finished + 2 * 0.010 - 1e-9, "strip at both ends"
        assert row.cut - row.finished - 0.020 < 0.005 + 1e-9
    for group in listed.groups:
        packed = sorted(number for piece in group.packing.pieces for number in piece.cuts)
        assert packed == list(range(len(group.rows)))
        assert sum(piece.length for piece in group.packing.pieces) >= group.cut
        assert sum(group.plugs.values()) >= 2 * len(group.rows)


def test_stock_is_used_and_named():
    text = big_board() + "stock: {patch: {carries: audio, od: 5, reels: [3 m, 5 m], sold_by: 5 m}, pair: {carries: dc}}\n"
    board, _ = judge(text)
    listed = cut_list(board)
    assert {group.cable for group in listed.groups} == {"patch", "pair"}
    patch = next(group for group in listed.groups if group.cable == "patch")
    assert {round(piece.length, 3) for piece in patch.packing.pieces} <= {3.0, 5.0}
    assert "Two conductors" in to_text(listed)


def test_csv_is_plain_and_harmless():
    board, _ = judge(big_board() + 'runs: [{id: "=1+1", carries: audio, joins: p00 > p01, path: [[100, 150], [200, 150]], cut: 300}]\n')
    rows = list(csv.reader(io.StringIO(to_csv(cut_list(board)))))
    assert tuple(rows[0]) == COLUMNS
    assert all(len(row) == len(COLUMNS) for row in rows)
    assert not any(cell.startswith("=") for row in rows for cell in row)
    assert any(row[0] == "'=1+1" for row in rows)


@pytest.mark.parametrize(
    ("arguments", "said"), [(["cuts"], "Cable:"), (["cuts", "--csv"], "label,from,to"), (["cuts", "--sheet"], "<h2>Labels"), (["print"], "@page")]
)
def test_commands(tmp_path, arguments, said):
    file = tmp_path / "board.yaml"
    file.write_text(big_board(), "utf-8")
    result = CliRunner().invoke(main, [arguments[0], str(file), *arguments[1:]])
    assert result.exit_code == 0 and said in result.output


def test_print_without_places_says_what_is_missing(tmp_path):
    file = tmp_path / "board.yaml"
    file.write_text("pedals: {a: {kind: boost}}", "utf-8")
    result = CliRunner().invoke(main, ["print", str(file)])
    assert result.exit_code == 2 and "No places are described" in result.output
