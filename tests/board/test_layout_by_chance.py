"""Boards by chance, with half of everything unknown or out of place: layout, drawing, print and cut list answer all of them."""

from __future__ import annotations

import random
import xml.etree.ElementTree as ET

import pytest

from boardwright import check, judge
from boardwright.report.cut_list import cut_list, to_csv, to_sheet, to_text
from boardwright.report.layout import layout
from boardwright.report.print_sheets import print_sheets


class _Chance:
    """Writes boards in which anything that may be left out or unknown sometimes is."""

    def __init__(self, seed):
        self.random = random.Random(seed)

    def place(self):
        return self.random.choice(["unknown", "0", f"{self.random.randint(-50, 900)}", f"{self.random.randint(1, 90)} cm"])

    def list_of(self, count):
        return f"[{', '.join(self.place() for _ in range(count))}]"

    def some(self, **keys):
        """A mapping of some of these keys; each value is one of a list."""
        kept = [f"{key.rstrip('_')}: {self.random.choice(values)}" for key, values in keys.items() if self.random.random() < 0.5]
        return "{" + ", ".join(kept) + "}"

    def box(self):
        sides = ["rear", "side", "{in: [left, 20], out: [right, unknown], dc: rear}", "{in: TRS-stereo, out_l: [front, 5]}"]
        return self.some(
            kind=["wah", "fuzz", "volume-pedal", "mixer"], size=[self.list_of(3)], at=[self.list_of(2)], row=["1", "3", "unknown"],
            turn=["90", "270", "unknown"], weight=["unknown", "0 g", "30 kg"], held_by=["screws", "ties", "unknown"], jacks=sides,
            across_rows=["yes", "unknown"], ports=["[right, 60]", "[[left, unknown, fuse], [rear]]", "[]"], stepped=["yes", "no", "unknown"],
            fix_area=["0 cm2", "60 cm2", "unknown"], knob_height=[self.place()], switch_at=["[35, 25]", "[[1, 2], [unknown, 4]]", "[]"],
            footplate=[self.place()], treadle_up=[self.place()], use=["often", "rare"], needs=["9V dc centre-negative 20mA"], feed=["s.1", "s.2"],
        )  # fmt: skip

    def run(self, number, names):
        path = f"[{', '.join(self.list_of(2) for _ in range(self.random.randint(0, 5)))}]"
        joins = f"{self.random.choice(names)} > {self.random.choice(names)}"
        return self.some(
            id=[f"r{number}"], carries=["audio", "dc", "mains", "ac-low", "midi", "unknown"], path=[path], joins=[joins],
            length=["unknown", "450", "0"], cut=["unknown", "450"], od=[self.place()], flex=["yes", "unknown"], bends=["[12]", "unknown", "[]"],
            ties=["[60, 220]", "[unknown]", "[]"], holes=["[h1]"], ends=["[straight, bare]", "iec", "[unknown]"], strip=[self.place()],
            made=["soldered", "moulded", "unknown"], stock=["patch"], leaves_board=["yes", "no", "unknown"], anchor=["yes", "no", "unknown"],
            tied=["tight"], core=["solid"], under=["yes"], current=["unknown", "2 A"],
        )  # fmt: skip

    def board(self):
        names = [f"p{number}" for number in range(self.random.randint(1, 7))]
        frame = self.some(
            size=[self.list_of(2), "[500, 300]"], gap_under=["45", "[20, 70]", "[unknown, 3]"], material=["metal", "unknown"],
            rows=["[{span: [0, 150], rise: 0}, {span: [151, 300], rise: 40}]", "[{rise: 3}]", "[{span: [300, 100]}]", "[]"],
            edge=["{left: 40, right: unknown}"],
        )  # fmt: skip
        case = self.some(
            inside=[self.list_of(3)], lid_clear=[self.place()], foam=[self.place()], empty_weight=["unknown", "12 kg"], lifters=["2", "unknown"],
            handle=["left", "unknown"], flies=["yes", "unknown"],
        )  # fmt: skip
        lead = self.some(length=["300 mm", "unknown"], ends=["[straight, flat]", "[unknown]"], anchor=["yes", "no"], stays_in=["yes", "no"])
        lines = [
            f"board: {self.some(for_=['home', 'tour', 'unknown'], fixing=['screws', 'unknown'], frame=[frame], case=[case], player=['sitting'])}",
            "supplies: {s: {under: yes, size: "
            + self.list_of(3)
            + ", at: "
            + self.list_of(2)
            + ", outlets: {1: 9V dc centre-negative 100mA, 2: 9V ac 500mA}}}",
            "pedals:",
            *(f"  {name}: {self.box()}" for name in names),
            "amps: {combo: {kind: valve}}",
            f"audio: [{{path: guitar > {' > '.join(names)} > combo, lead: {lead}}}]",
            f"openings: {{h1: {self.some(dia=[self.place()], at=[self.list_of(2)], edge=['metal', 'wood'], grommet=['yes', 'no', 'unknown'])}}}",
            f"stock: {{patch: {self.some(carries=['audio', 'dc'], reels=['[1 m]', '[unknown, 2 m]', '[]'], sold_by=['1 m', 'unknown', '0 m'])}}}",
            "runs:",
            *(f"  - {self.run(number, names)}" for number in range(self.random.randint(1, 5))),
        ]
        return "\n".join(lines) + "\n"


@pytest.mark.parametrize("seed", range(120))
def test_every_board_gets_an_answer(seed):
    board, report = judge(_Chance(seed).board())
    assert report.headline and all(finding.sentence for finding in report.findings)
    ET.fromstring(layout(board, report))
    listed = cut_list(board)
    assert to_text(listed) and to_csv(listed) and to_sheet(listed, board)
    page = print_sheets(board)
    assert page is None or page.endswith("</html>\n")


def test_more_runs_than_any_board_has_are_not_compared_for_minutes():
    rng = random.Random(1)
    ways = [[[rng.randint(0, 900), rng.randint(0, 500)] for _ in range(30)] for _ in range(120)]
    runs = "".join(f"  - {{id: r{n}, carries: {rng.choice(['audio', 'mains'])}, path: {way}}}\n" for n, way in enumerate(ways))
    report = check("runs:\n" + runs)
    assert any("more runs here than can be compared" in question.question for question in report.undecided)
    assert not next(each for each in report.coverage if each.rule == "crossing-not-square").not_applicable


def test_a_heap_of_boxes_is_told_but_not_from_each_to_each():
    boxes = "".join(f"  p{n}: {{size: [70, 120, 55], at: [10, 10]}}\n" for n in range(60))
    report = check("board: {frame: {size: [400, 200]}}\npedals:\n" + boxes)
    overlaps = [finding for finding in report.findings if finding.rule == "boxes-overlap"]
    assert 60 <= len(overlaps) <= 240
