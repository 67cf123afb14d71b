"""What the commands that measure share: work in a copy of this process, and results as the site reads them."""

from __future__ import annotations

import os

import pytest

from boardwright.site.results_page import Result, read_results
from measuring import results
from measuring.copies import in_copy


def test_what_a_copy_gives_is_had_here_and_what_it_does_is_not():
    done = []
    assert in_copy(lambda: (done.append(1), {"places": {1, 2}}, "said")) == (None, {"places": {1, 2}}, "said")
    assert done == []


def test_what_goes_wrong_in_a_copy_is_told_here():
    with pytest.raises(RuntimeError, match="a wire is loose"):
        in_copy(lambda: pytest.fail("a wire is loose"))
    with pytest.raises(ChildProcessError):
        in_copy(lambda: os._exit(1))


def test_a_result_that_is_kept_can_be_read_by_the_site(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(results, "RESULTS", tmp_path / "checker/results")
    (tmp_path / "checker").mkdir()
    table = {"title": "Tried", "columns": ["rule", "how often"], "rows": [["no-spare-outlet", 3]]}
    said = {"made_by": "make nothing", "date": "2030-01-01", "how": ["Ω"], "figures": {}, "tables": [table], "falls_short": []}
    results.keep("nothing", said)
    assert read_results(tmp_path) == {"nothing": Result(**said)}
    results.tell([table])
    assert capsys.readouterr().out == "\nTried\n  rule · how often\n  no-spare-outlet · 3\n"
