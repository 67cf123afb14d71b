"""A piece goes into any board without breaking it, twice if wanted, and says nothing else than it says alone."""

import pytest

from boardwright.site.editor_words import editor_words
from boardwright.spec.read import read
from parity import shown_boards, whole_boards

TARGETS = {
    "nothing": "",
    "a remark": "# mine\n",
    "in brackets": "pedals: {split: {kind: fuzz, needs: none}}\namps: {amp: {kind: valve}}\naudio: [guitar > split]\nsupplies: {}\npromises: []\n",
    "in lines": "pedals:\n    pedal:\n        kind: fuzz\n        needs: none\n    # the end\n\namps:\n    near: {kind: valve}\naudio:\n- guitar > pedal\n",
    "over lines": "pedals: {\n  a: {kind: fuzz, needs: none},\n}\naudio: [\n  guitar > a\n]\n",
    "the other name": "devices:\n  a: {kind: fuzz, needs: none}\n",
    **dict(list(whole_boards())[::4]),
}


@pytest.fixture(scope="module")
def words():
    return editor_words(shown_boards())


def put(text, changes):
    for change in reversed(changes):
        text = text[: change["from"]] + change["insert"] + text[change["to"] :]
    return text


def counts(text):
    spec = read(text)
    return {key: len(getattr(spec, key) or ()) for key in ("pedals", "supplies", "amps", "isolators", "audio", "promises")}


def test_pieces_go_into_any_board(run_node, words):
    targets = [text for text in TARGETS.values() if not read(text).problems]
    assert len(targets) == len(TARGETS)
    for piece in words["pieces"]:
        once = [put(text, made["changes"]) for text, made in zip(targets, run_node(*(("pieces", "insertion", text, piece, words) for text in targets)), strict=True)]
        twice = [put(text, made["changes"]) for text, made in zip(once, run_node(*(("pieces", "insertion", text, piece, words) for text in once)), strict=True)]
        for before, first, second in zip(targets, once, twice, strict=True):
            for text, times in ((first, 1), (second, 2)):
                assert not read(text).problems, (piece["title"], text, read(text).problems)
                more = {key: len(lines) * times for key, lines in piece["lines"].items() if key != "guitar"}
                assert counts(text) == {key: count + more.get(key, 0) for key, count in counts(before).items()}
            assert all(line in first for line in before.split("\n") if line.lstrip().startswith("#"))


def test_names_are_new_wherever_they_are_used(run_node, words):
    rig = next(piece for piece in words["pieces"] if piece["title"] == "A three-amplifier rig")
    text = "amps: {left: {kind: valve}}\nisolators: {iso_left: {kind: transformer}}\n"
    made = run_node(("pieces", "insertion", text, rig, words))[0]
    assert "  - wide_echo.out_l > iso_left_2 > left_2\n" in put(text, made["changes"])
