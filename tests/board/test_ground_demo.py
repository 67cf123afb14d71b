"""The touring board's one-earth promise, and the twins that break it."""

from __future__ import annotations

from pathlib import Path

from boardwright.board.assemble import assemble
from boardwright.board.ground import one_earth
from boardwright.rules.run import run
from boardwright.spec.read import read

TEXT = (Path(__file__).parents[2] / "demo_boards/saltmarsh-tour.yaml").read_text("utf-8")
EARTH_RULES = (
    "earth-loop-closed",
    "amplifiers-not-on-exactly-one-earth",
    "isolation-bridged-by-side-path",
    "isolation-transformer-misplaced",
    "usb-closes-earth-loop",
)


def _twin(old: str, new: str) -> str:
    assert TEXT.count(old) == 1, old
    return TEXT.replace(old, new)


def _board(text: str):
    return assemble(read(text))


def _found(text: str) -> dict[str, str]:
    return {finding.rule.id: finding.judgement.severity.value for finding in run(_board(text), EARTH_RULES).findings}


def test_one_earth_holds_and_is_proved():
    answer = one_earth(_board(TEXT))
    assert answer.holds is True
    assert list(answer.ways) == [("centre",)]
    told = " ".join(answer.proof)
    assert "Never two" in told and "Never none" in told and "the mains cord of centre" in told
    assert not _found(TEXT)


def test_twin_whose_isolator_passes_its_screen():
    text = _passing("iso_r")
    answer = one_earth(_board(text))
    assert answer.holds is False
    assert {loop.cords for loop in answer.loops} == {("centre", "right")}
    outcome = run(_board(text), EARTH_RULES)
    (finding,) = outcome.findings
    assert finding.rule.id == "amplifiers-not-on-exactly-one-earth" and finding.judgement.things[0].name == "iso_r"
    assert {rule.id for rule, _ in finding.folded} == {"earth-loop-closed", "isolation-transformer-misplaced"}


def _passing(name: str) -> str:
    lines = TEXT.split("\n")
    (number,) = [number for number, line in enumerate(lines) if line.strip().startswith(f"{name}: {{kind: transformer")]
    lines[number] = lines[number].replace("screen: lifted", "screen: through")
    return "\n".join(lines)


def test_twin_whose_centre_is_not_required():
    text = _twin(", required: yes, role: dry", ", role: dry")
    answer = one_earth(_board(text))
    assert answer.holds is False and not answer.loops
    assert answer.floating == [("left",), ("right",)]
    assert _found(text) == {"amplifiers-not-on-exactly-one-earth": "fault"}


def test_twin_whose_channel_lead_goes_to_an_isolated_amplifier():
    text = _twin("\ncontrol:\n", "\ncontrol:\n  - {from: hub.r2, to: left.channel, plug: TS, isolated: no}\n")
    found = _found(text)
    assert found == {"isolation-bridged-by-side-path": "fault"}
    assert one_earth(_board(text)).holds is False


def test_without_its_isolators_it_closes_two_loops():
    text = TEXT.replace("screen: lifted", "screen: through")
    assert len(_board(text).ground.loops) == 2
