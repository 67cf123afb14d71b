"""What is remembered between checks changes no answer: after any edits, a board is answered as if it were seen for the first time."""

from __future__ import annotations

import json
import re

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from boardwright.browser import answer, in_parts
from measuring.caches import forget
from parity import pieces, whole_boards

TEXTS = [*(text for name, text in whole_boards() if len(text) < 4000), *[text for _, text in pieces()][::23]]
FIGURE = re.compile(r"\d+")


@st.composite
def edited(draw: st.DrawFn) -> list[str]:
    """A board, and what becomes of it line by line: figures changed, lines left out, written twice, moved, cut off, brought back."""
    texts = [draw(st.sampled_from(TEXTS))]
    for _ in range(draw(st.integers(1, 4))):
        lines = draw(st.sampled_from(texts)).split("\n")
        here, there = (draw(st.integers(0, len(lines) - 1)) for _ in range(2))
        change = draw(st.sampled_from(["figure", "drop", "double", "move", "cut", "other board"]))
        if change == "figure":
            lines[here] = FIGURE.sub(draw(st.sampled_from(["0", "1", "7", "450"])), lines[here], count=1)
        elif change == "drop":
            del lines[here]
        elif change == "double":
            lines.insert(here, lines[here])
        elif change == "move":
            lines.insert(there, lines.pop(here))
        elif change == "cut":
            lines[here] = lines[here][: len(lines[here]) // 2]
        else:
            lines = draw(st.sampled_from(TEXTS)).split("\n")
        texts.append("\n".join(lines))
    return texts


@given(edited())
@settings(deadline=None, max_examples=25, suppress_health_check=list(HealthCheck))
def test_an_edited_board_is_answered_as_if_it_were_new(texts):
    remembered = [answer(text) for text in texts]
    for text, said in zip(texts, remembered, strict=True):
        forget()
        assert answer(text) == said


def test_the_parts_of_an_answer_make_the_whole():
    for text in TEXTS[:12]:
        first, *drawings = map(json.loads, in_parts(text))
        assert first | {"drawings": dict(drawings)} == json.loads(answer(text))
