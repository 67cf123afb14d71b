"""Some hostile visits, and that harm is noticed. `make fuzz` goes on with more, of every kind."""

import pytest
from serve import serving

from fuzz import page as watched
from fuzz.page import BOARD, CHECKER, Reader
from fuzz.texts import MARK
from fuzz.visits import KINDS, SITE, keeps_boards, try_visit

HARM = [
    {f"document.title = '{MARK}'": "a script has run", "alert('x')": "a dialog", "console.error('x')": "complains: x"},
    {
        "void Promise.reject(new Error('y'))": "complains: y",
        "document.querySelector('.bw-bench').append(document.createElement('iframe'))": "could run: <iframe>",
    },
    {"void fetch('http://127.0.0.2:9/board').catch(() => {})": "complains"},
    {f"Object.keys(localStorage).filter((key) => key.startsWith('{BOARD}')).forEach((key) => localStorage.removeItem(key))": "missing: what was kept"},
]
"""Several to a visit, since each takes a start of the checker."""


@pytest.fixture(scope="module")
def reader(browser):
    assert (SITE / "offline.js").exists(), "The site has not been built. `make site` builds it."
    with serving(SITE) as address:
        somebody = Reader(browser, address)
        yield somebody
        somebody.context.close()


SOME = ("damaged links", "kept boards spoiled")
"""To samples of the others the page is held by `test_hostile_page.py`, `test_offline.py` and `test_saved_memory.py`."""


@pytest.mark.parametrize("kind", SOME)
def test_a_hostile_visit_does_no_harm(reader, kind):
    visited = try_visit(reader, list(KINDS).index(kind) + len(KINDS))  # kinds take turns
    assert visited.kind == kind
    # Time depends on the machine: its bound is held by `make fuzz`.
    assert not [said for said in visited.wrong.split("; ") if said and not said.startswith("busy for")]


def test_harm_is_noticed(reader, monkeypatch):
    for harms in HARM:

        def does_harm(_, reader, harms=harms):
            reader.goes(CHECKER)
            for harm in harms:
                reader.page.evaluate(harm)
                reader.page.wait_for_timeout(100)
            keeps_boards(reader)

        monkeypatch.setitem(KINDS, next(iter(KINDS)), does_harm)
        found = try_visit(reader, 0).wrong
        assert [said for said in harms.values() if said not in found] == []
    monkeypatch.undo()
    monkeypatch.setattr(watched, "SECONDS", 0)
    monkeypatch.setattr(watched, "MEGABYTES", 0)
    assert {"busy", "MB"} <= {*try_visit(reader, 0).wrong.split()}
