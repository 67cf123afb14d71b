"""Where things stand in a text: held to the checker's own reader on every board, and tried in texts that are unfinished."""

import pytest

from boardwright.spec.read import read
from parity import whole_boards

WHOLE = [text for _, text in whole_boards()]


def keys_by_reader(text):
    """Every key that the reader sees: path, line and column."""
    found = []

    def walk(node, path):
        for step, child in (node.items or {}).items():
            if not node.is_list:
                span = spec.tree.locate((*path, step), by_name=True)
                found.append(([*path, step], span.line, span.column))
            walk(child.node, (*path, step))

    spec = read(text)
    walk(spec.tree.root, ())
    return sorted(found, key=lambda each: each[1:])


def test_every_key_of_every_board_is_found_where_the_reader_finds_it(run_node):
    for text, keys in zip(WHOLE, run_node(*(("place", "keysIn", text) for text in WHOLE)), strict=True):
        placed = [(key["path"], text.count("\n", 0, key["from"]) + 1, key["from"] - text.rfind("\n", 0, key["from"])) for key in keys]
        assert placed == keys_by_reader(text)


BLOCK = "pedals:\n  a:\n    kind: fuzz\n    "


@pytest.mark.parametrize(
    ("text", "at", "path", "typed"),
    [
        ("", "key", [], ""),
        ("ped", "key", [], "ped"),
        ("pedals:\n  ", "key", ["pedals"], ""),
        ("pedals:\n  a: {k", "key", ["pedals", "a"], "k"),
        ("pedals:\n  a: {kind: del", "value", ["pedals", "a", "kind"], "del"),
        ("pedals:\n  a: {kind: delay, ", "key", ["pedals", "a"], ""),
        ("pedals:\n  a: {kind: delay, feed: {from: ", "value", ["pedals", "a", "feed", "from"], ""),
        ("pedals:\n  a: {kind: delay, feed: {fr¦}}", "key", ["pedals", "a", "feed"], "fr"),
        ("pedals:\n  a: {k¦}\n  b: {kind: wah}", "key", ["pedals", "a"], "k"),
        (BLOCK, "key", ["pedals", "a"], ""),
        (BLOCK + "fe", "key", ["pedals", "a"], "fe"),
        (BLOCK + "feed: brick.", "value", ["pedals", "a", "feed"], "brick."),
        (BLOCK + "feed: ", "value", ["pedals", "a", "feed"], ""),
        (BLOCK + "feed:\n      fr", "key", ["pedals", "a", "feed"], "fr"),
        ("audio: [guitar > tu", "value", ["audio", 0], "guitar > tu"),
        ("audio: [guitar > tuner, tuner > c", "value", ["audio", 1], "tuner > c"),
        ("audio:\n  - guitar > a\n  - a > ", "value", ["audio", 1], "a > "),
        ("audio:\n  - path: a > ", "value", ["audio", 0, "path"], "a > "),
        ("audio:\n  - path: a > b\n    le", "key", ["audio", 0], "le"),
        ("audio:\n- guitar > a\n- {path: x, lead: {len", "key", ["audio", 1, "lead"], "len"),
        ("pedals:\n  a:\n    {kind: fuzz,\n     fe", "key", ["pedals", "a"], "fe"),
        ("pedals: {a: {kind: 'fuzz', st", "key", ["pedals", "a"], "st"),
        ("board:\n  name: x # ¦ remark", None, None, None),
        ("# ped", None, None, None),
        ("pedals:\n  a: {kind: fuzz}\namps:\n  c: {ki", "key", ["amps", "c"], "ki"),
    ],
)
def test_what_is_being_typed(run_node, text, at, path, typed):
    before = text.partition("¦")[0]
    place = run_node(("place", "placeAt", text.replace("¦", ""), len(before)))[0]
    assert (place and (place["at"], place["path"], place["typed"])) == (at and (at, path, typed))


def test_keys_that_stand_there_already_are_known_before_and_behind(run_node):
    text = "pedals:\n  a: {kind: fuzz, ¦, needs: none}\n"
    place = run_node(("place", "placeAt", text.replace("¦", ""), text.index("¦")))[0]
    assert sorted(place["beside"]) == ["kind", "needs"]


def test_every_place_of_every_board_has_an_answer(run_node):
    """Wherever a cursor stands, the place that is told lies on the way to what the reader reads there."""
    texts = [text for text in WHOLE if len(text) < 1500][:6]
    for text in texts:
        ends = [offset for offset in range(len(text) + 1) if offset == len(text) or text[offset] in " ,}]\n"]
        for offset, place in zip(ends, run_node(*(("place", "placeAt", text, offset) for offset in ends)), strict=True):
            line = text[text.rfind("\n", 0, offset) + 1 : offset]
            if not line.strip() and text[offset : offset + 1] not in ("", "\n"):
                continue  # in the margin
            comment = "#" in text[text.rfind("\n", 0, offset) + 1 : offset]
            assert (place is None) <= (comment or text[:offset].rstrip().endswith(("}", "]", '"'))) or text[offset - 1 : offset] in "}]", (text[:offset][-60:], place)
            if place and place["path"] and place["at"] == "value":
                node = read(text).tree.locate(tuple(place["path"]))
                assert node is not None
