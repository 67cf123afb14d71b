"""What the README shows and says, held to what the package does."""

from __future__ import annotations

import re
from pathlib import Path

from boardwright import check, judge
from boardwright.report.power_map import power_map

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text("utf-8")


def test_its_picture_is_what_the_engine_draws():
    board = (ROOT / "demo_boards/spare-room-five-before.yaml").read_text("utf-8")
    drawn = (ROOT / "docs/assets/power-map.svg").read_text("utf-8")
    assert drawn == power_map(*judge(board)), "renew it: boardwright draw demo_boards/spare-room-five-before.yaml power-map"


def test_its_board_can_be_read_and_has_nothing_wrong():
    (board,) = re.findall(r"```yaml\n(.*?)```", README, re.S)
    report = check(board)
    assert not report.problems and not report.findings, report.headline


def test_every_file_that_it_names_is_there():
    for name in re.findall(r"\]\(([^)#]+)\)|BOARD=(\S+)", README):
        path = next(each for each in name if each)
        assert path.startswith("http") or (ROOT / path).exists(), path
