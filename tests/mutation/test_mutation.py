"""That wrong steps are made where they should be, that they take effect, and that what is listed as changing nothing still exists."""

import ast
import datetime

import pytest

from boardwright import limits
from boardwright.physics import levels
from boardwright.rules.power import outlet_headroom_thin
from measuring.copies import in_copy
from mutation.mutants import mutants, turned
from mutation.put_in import PACKAGE, put_in, set_limit
from mutation.result import explained, summary
from mutation.sample import all_mutants, sample
from mutation.trial import KILLED, SENSELESS, SURVIVED, LimitMutant

SOURCE = '''
SHARE = 0.5

def judge(a, b=2):
    """Text with 3 numbers and a < sign."""
    if a < b:
        return -min(a * b, SHARE)
    return f"{a:.2f}" + "text"
'''


def test_every_kind_of_step_is_made_once():
    made = {(mutant.was, mutant.becomes) for mutant in mutants("x.py", SOURCE)}
    assert made == {
        ("0.5", "0.55"), ("2", "3"), ("a < b", "a <= b"), ("a < b", "a >= b"), ("-min(a * b, SHARE)", "+min(a * b, SHARE)"),
        ("min(a * b, SHARE)", "max(a * b, SHARE)"), ("a * b", "a / b"),
    }  # fmt: skip


def test_a_mutant_differs_from_the_source_in_one_step():
    plain = ast.unparse(ast.parse(SOURCE)).splitlines()
    for mutant in mutants("x.py", SOURCE):
        lines = ast.unparse(turned(SOURCE, mutant)).splitlines()
        assert sum(one != other for one, other in zip(plain, lines, strict=True)) == 1


def mutant_of(file, was, becomes):
    (found,) = (mutant for mutant in mutants(file, (PACKAGE / file).read_text("utf-8")) if (mutant.was, mutant.becomes) == (was, becomes))
    return found


@pytest.mark.parametrize(
    ("was", "becomes", "value", "should_be"),
    [("level / 20", "level * 20", lambda: levels.ratio_of(0.5), 1e10), ("0.6", "0.66", lambda: levels.volts_from_dbu(0), 0.66**0.5)],
    ids=["inside a function", "worked out at import"],
)
def test_a_mutant_takes_effect_in_a_copy_alone(was, becomes, value, should_be):
    mutant, before = mutant_of("physics/levels.py", was, becomes), value()
    assert in_copy(lambda: put_in(mutant) or value() == should_be)
    assert value() == before != should_be


def test_a_limit_can_have_another_value_in_a_copy():
    limit = limits.OUTLET_HEADROOM
    assert in_copy(lambda: set_limit(limit.name, 0.9) or outlet_headroom_thin.limits.OUTLET_HEADROOM.value == 0.9)
    assert limit.value == 0.8


def test_a_draw_is_the_same_for_the_same_seed_and_goes_over_everything():
    possible = all_mutants()
    assert sample(possible, 50, 3) == sample(possible, 50, 3) != sample(possible, 50, 4)
    assert len({mutant.name for mutant in possible}) == len(possible)
    assert {mutant.file.partition("/")[0] for mutant in possible} == {"limits.py", "physics", "rules"}


def test_what_is_listed_as_changing_nothing_exists():
    missing = set(explained()) - {mutant.name for mutant in all_mutants()}
    assert not missing, f"no such mutant any more; take it out of equivalent.yaml or look at it again: {sorted(missing)}"


def test_the_share_leaves_out_what_cannot_run_and_says_what_falls_short():
    outcomes = {LimitMutant("outlet-headroom", 0.1 * n): outcome for n, outcome in enumerate([KILLED] * 8 + [SURVIVED, SURVIVED, SENSELESS])}
    said = summary(outcomes, 100, "make mutation", datetime.date(2026, 1, 1))
    assert said["figures"] == {"mutants": "10", "killed": "8", "share": "80.0%"}
    assert said["falls_short"] == ["80.0% of the mutants are killed, and 90% is the goal."]
