"""Every limit from both sides: on one side of it a rule says one thing, and a hair's breadth on the other side another.

An entry of a file here is named by what it is about. Its board has ``<x>`` where the value stands that is held against the limit, and
``at`` says what the rule must answer for each value: ``clear``, ``cannot tell``, ``not applicable``, or the severity at which it trips.
What the finding says or counts with may stand behind it. The values were worked out by hand from the board, as ``why`` tells; what
happens at the limit itself is one of them.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from ruamel.yaml import YAML

from boardwright.board.assemble import assemble
from boardwright.rules.run import run
from boardwright.rules.verdict import Verdict
from boardwright.spec.read import read

HERE = Path(__file__).parent
ENTRIES = {
    f"{file.stem}: {name}": entry
    for file in sorted(HERE.glob("*.yaml"))
    for name, entry in YAML(typ="safe", pure=True).load(file.read_text("utf-8")).items()
}
LEAST_FIRST = [Verdict.CLEAR, Verdict.CANNOT_TELL, Verdict.TRIPS]


def answer(rule: str, text: str) -> tuple[str, str]:
    """The worst that a rule says of a board, and all that it says and counts with."""
    spec = read(text, fragment=True)
    assert not spec.problems, spec.problems
    judged = [each for _, each in run(assemble(spec), [rule]).judgements]
    worst = max((each.verdict for each in judged), key=LEAST_FIRST.index, default=None)
    tripped = [each.severity for each in judged if each.verdict is Verdict.TRIPS]
    said = min(tripped, key=lambda severity: severity.rank).value if tripped else worst.value if worst else "not applicable"
    words = [f"{each.sentence} {each.remedy} {each.question}" + "".join(f" | {number.name}: {number.text}" for number in each.numbers) for each in judged]
    return said, "\n".join(words)


@pytest.mark.parametrize("entry", [pytest.param(entry, id=f"{entry['rule']}: {name}") for name, entry in ENTRIES.items()])
def test_on_both_sides(entry):
    assert "<x>" in entry["board"]
    for value, expected in entry["at"].items():
        verdict, *words = [expected] if isinstance(expected, str) else expected
        said, told = answer(entry["rule"], entry["board"].replace("<x>", str(value)))
        assert said == verdict, f"{value}: {told}"
        assert all(word in told for word in words), told


def test_each_entry_looks_from_two_sides():
    same = [name for name, entry in ENTRIES.items() if len({str(expected) for expected in entry["at"].values()}) < 2]
    assert not same, f"the same on both sides shows no limit: {same}"
