"""The Saltmarsh board keeps its four promises, and each way of spoiling it breaks the one that it should."""

from __future__ import annotations

from pathlib import Path

import pytest

from boardwright import check
from boardwright.board.assemble import assemble
from boardwright.spec.read import read

TEXT = (Path(__file__).parents[2] / "demo_boards/saltmarsh-tour.yaml").read_text("utf-8")
NEVER, ALWAYS, EARTH, TIME = range(4)


def answers(old="", new=""):
    assert not old or TEXT.count(old) == 1
    board = assemble(read(TEXT.replace(old, new) if old else TEXT))
    assert not board.spec.problems
    return board.promises


def test_all_four_hold_with_their_proofs():
    found = answers()
    assert [answer.kept.value for answer in found] == ["holds"] * 4
    assert [answer.how.value for answer in found] == ["by wiring", "whatever you switch", "by wiring", "by wiring"]
    assert {"oldfuzz", "vol", "guitar"} <= set(found[NEVER].behind)
    assert not {"tape", "clearecho", "room", "airverb", "again", "bucket", "ebb"} & set(found[NEVER].behind)
    assert all(answer.proof for answer in found)


def test_dry_feed_taken_behind_the_last_loop():
    found = answers("dry: after 10, wet: after 16", "dry: after 16, wet: after 16")
    assert [answer.kept.value for answer in found] == ["broken", "holds", "holds", "holds"]
    broken = found[NEVER]
    assert broken.things == ("centre", "bucket") and broken.state.preset == "swell"
    assert "`bucket` reaches `centre` in preset `swell`." in broken.proof
    assert [edge.stage.name for edge in broken.way if edge.engaged and edge.stage.loop] == ["comp", "bucket"]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("iso_r: {kind: transformer, ratio: \"1:1\", zin: 10k, max_level: 12 dBu, screen: lifted}",
         "iso_r: {kind: transformer, ratio: \"1:1\", zin: 10k, max_level: 12 dBu, screen: through}"),
        ("earth_bond: hard, required: yes, role: dry", "earth_bond: hard, role: dry"),
    ],
)  # fmt: skip
def test_the_earth_twins(old, new):
    found = answers(old, new)
    assert [answer.kept.value for answer in found] == ["holds", "holds", "broken", "holds"]
    assert found[EARTH].state.words.startswith("with ")


def test_a_digital_echo_on_one_side_only():
    found = answers("airverb.in_r > again.in_r > iso_r", "airverb.in_r > iso_r")
    late = answers("latency: 1.4 ms, dry_through: yes", "latency: 1.4 ms, dry_through: digital")
    assert found[TIME].kept.value == "holds", "the looper's dry way is a wire, so it may be left out of one side"
    assert late[TIME].kept.value == "holds", "it is as late on both sides"
    both = TEXT.replace("latency: 1.4 ms, dry_through: yes", "latency: 1.4 ms, dry_through: digital")
    both = both.replace("airverb.in_r > again.in_r > iso_r", "airverb.in_r > iso_r")
    answer = assemble(read(both)).promises[TIME]
    assert answer.kept.value == "broken" and "1.4 ms apart" in answer.proof[0] and "`again` on" in answer.state.words


def test_the_report_shows_promises_in_every_form():
    from boardwright.report.json import to_plain
    from boardwright.report.text import to_text

    report = check(TEXT.replace("dry: after 10,", "dry: after 16,"))
    plain = to_plain(report)["promises"]
    assert [each["kept"] for each in plain] == ["broken", "holds", "holds", "holds"]
    assert plain[0]["witness"] == "in preset `swell`" and plain[0]["how"] is None and plain[1]["how"] == "whatever you switch"
    assert all(each["at"]["line"] > 100 for each in plain)
    text = to_text(report)
    assert "\nPromises\n" in text and "by wiring" in text.lower()
    finding = next(each for each in report.findings if each.rule == "promise-broken")
    assert finding.severity == "fault" and finding.witness == "in preset `swell`"
