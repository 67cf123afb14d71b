"""That wrong steps are made where they should be, that they take effect, and that what is listed as changing nothing still exists."""

import ast
import datetime

import pytest
from cosmic_ray.mutating import mutate_code

from boardwright import limits
from boardwright.physics import levels
from boardwright.rules.power import outlet_headroom_thin
from measuring.copies import in_copy
from mutation.mutants import Mutant, mutants, turned
from mutation.operators import NumberStep, WordReplacer
from mutation.put_in import PACKAGE, put_in, set_limit
from mutation.result import explained, summary
from mutation.sample import all_mutants, sample
from mutation.trial import KILLED, SENSELESS, SURVIVED, LimitMutant

SOURCE = '''
SHARE: float = 0.5

@cache(size=3)
def judge(a: int, *, b: int = 2) -> 4:
    """Text with 3 numbers and a < sign."""
    if a < b and not known:
        return -min(a ** b, SHARE)
    a += 1 if known[-2] else 0.0
    return f"{a * b:.2f}" + "text" if a not in known else {**known, "is": True}
'''
STEPS = {
    ("0.5", "0.55"), ("0.5", "0.45"), ("2", "3"), ("2", "1"), ("1", "2"), ("1", "0"), ("0.0", "1.0"), ("0.0", "-1.0"),
    ("a < b", "a <= b"), ("a < b", "a >= b"), ("a < b and not known", "a < b or not known"), ("not known", "known"),
    ("if a < b and not known", "if not a < b and not known"), ("-min(a ** b, SHARE)", "+min(a ** b, SHARE)"),
    ("min(a ** b, SHARE)", "max(a ** b, SHARE)"), ("a ** b", "a * b"), ("a * b", "a / b"), ("1 if known[-2] else 0.0", "1 if not known[-2] else 0.0"),
    ("a += 1 if known[-2] else 0.0", "a -= 1 if known[-2] else 0.0"), ("a not in known", "a in known"), ("True", "False"),
}  # fmt: skip


def test_every_kind_of_step_is_made_once_and_nothing_is_made_of_notes_for_readers():
    made = [(mutant.was, mutant.becomes) for mutant in mutants("x.py", SOURCE)]
    assert sorted(made) == sorted(STEPS)


def test_a_mutant_differs_from_the_source_in_one_line_of_its_own():
    plain = SOURCE.splitlines()
    for mutant in mutants("x.py", SOURCE):
        changed = [number for number, (one, other) in enumerate(zip(plain, turned(SOURCE, mutant).splitlines(), strict=True), 1) if one != other]
        assert len(changed) == 1 and changed[0] in mutant.lines


def test_a_mutant_knows_where_it_is():
    places = {mutant.was: (mutant.where, mutant.lines, mutant.in_function) for mutant in mutants("x.py", SOURCE)}
    assert places["0.5"] == ("", range(2, 3), False)
    assert places["2"] == ("judge", range(5, 6), False)
    assert places["a < b"] == ("judge", range(7, 8), True)


@pytest.mark.parametrize("operator", [NumberStep, WordReplacer])
def test_operators_of_our_own_do_as_their_examples(operator):
    for example in operator.examples():
        assert mutate_code(example.pre_mutation_code, operator(), example.occurrence) == example.post_mutation_code


def test_what_is_made_can_be_compiled_and_stays_in_its_lines():
    for mutant in sample([each for each in all_mutants() if isinstance(each, Mutant)], 20, 1):
        source = (PACKAGE / mutant.file).read_text("utf-8")
        fresh = turned(source, mutant)
        assert ast.dump(ast.parse(fresh)) != ast.dump(ast.parse(source)), mutant.name
        assert fresh.count("\n") == source.count("\n"), mutant.name


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
