"""Tidying moves spaces and nothing else."""

import re

import pytest

from boardwright.spec.read import read
from parity import boards, whole_boards


def comments(text):
    return re.findall(r"(?:^|\s)(#.*?)\s*$", text, re.MULTILINE)


def meaning(text):
    spec = read(text)
    return spec.tree.root.plain(), [(problem.where, problem.message) for problem in spec.problems]


def mess(text):
    """The same board, untidily: deeper steps, room behind commas, spaces at line ends, empty lines."""
    def line(said):
        indent = len(said) - len(said.lstrip(" "))
        code, mark, comment = said[indent:].partition(" #")
        return " " * (indent * 3) + re.sub(r", (?=[\w{\[])", ",   ", code) + mark + comment + "  "
    return "\n\n\n".join(line(said) for said in text.split("\n"))


@pytest.fixture(scope="module")
def tidied(run_node):
    texts = [text for _, text in boards()]
    messy = [mess(text) for _, text in whole_boards()]
    once = run_node(*(("tidy", "tidy", text) for text in texts + messy))
    twice = run_node(*(("tidy", "tidy", text) for text in once if text is not None))
    return texts + messy, once, twice


def test_meaning_and_comments_stay(tidied):
    for before, after, in zip(tidied[0], tidied[1], strict=True):
        if after is not None:
            assert re.sub(r"\s", "", after) == re.sub(r"\s", "", before)
            assert meaning(after)[0] == meaning(before)[0], before
            assert len(meaning(after)[1]) == len(meaning(before)[1])
            assert comments(after) == comments(before)


def test_it_is_done_in_one_go(tidied):
    assert tidied[2] == [text for text in tidied[1] if text is not None]


def test_most_boards_can_be_tidied_and_those_of_the_site_are_nearly_so(tidied):
    done = [text for text in tidied[1] if text is not None]
    assert len(done) > 0.97 * len(tidied[1])
    assert all("\n\n\n" not in text and not re.search(r" $", text, re.MULTILINE) for text in done)


def test_a_messy_board_comes_out_as_it_went_in(run_node):
    text = "pedals:\n  a: {kind: fuzz, needs: 9V dc centre-negative 5mA}   # old\n  # of the next\n  b:\n    kind: delay\n    size: [70, 120, 55]\naudio:\n  - guitar > a\n  - path: a > b\n    lead: 3 m\n"
    messy = "pedals:\n     a:   { kind: fuzz ,needs:   9V dc centre-negative 5mA }   # old\n     # of the next\n     b: \n         kind:  delay\n         size: [ 70,120,  55 ]   \n\n\naudio:\n- guitar > a\n-   path:   a > b\n    lead: 3 m\n\n"
    assert run_node(("tidy", "tidy", messy)) == [text.replace("audio", "\naudio")]


@pytest.mark.parametrize("text", ["a: |\n  x\n", "a: &x 1\nb: *x\n", "---\na: 1\n", "a:\n\tb: 1\n", "a: {b: 1\n", "a: 'x\n  y'\n", "a: one\n  two\n", "a: }\n- b\n"])
def test_what_it_does_not_know_it_leaves_alone(run_node, text):
    tidied = run_node(("tidy", "tidy", text))[0]
    assert tidied in (None, text)
