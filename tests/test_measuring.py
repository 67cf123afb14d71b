"""What the commands that measure share: work in a copy of this process, and results as the site reads them."""

from __future__ import annotations

import datetime
import os

import pytest

from bench.table import Row, milliseconds, ratio, show, summary
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


def test_what_the_bench_measures_is_told_and_kept_with_what_misses_its_goal(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(results, "RESULTS", tmp_path / "checker/results")
    (tmp_path / "checker").mkdir()
    rows = [
        ratio("first verdict", 1.31, 1.3, "first"),
        milliseconds("again", [0.010] * 19 + [0.030], 20),
        milliseconds("drawn", [0.010, 0.020]),
        Row("tests", "2", "< 3", True),
    ]
    assert [row.met for row in rows] == [False, True, None, True]
    assert show(iter(rows)) == rows
    assert "first verdict" in capsys.readouterr().out
    results.keep("bench", summary({"All": rows}, "One machine.", datetime.date(2030, 1, 1)))
    kept = read_results(tmp_path)["bench"]
    assert kept.figures == {"first": "1.31"} and kept.date == "2030-01-01"
    assert kept.falls_short == ["first verdict: 1.31, and the goal is ≤ 1.3."]
    assert kept.tables[0]["rows"] == [
        ["first verdict", "1.31", "≤ 1.3", "missed"],
        ["again", "10 / 11 ms", "≤ 20 ms", "met"],
        ["drawn", "15 / 20 ms", "", ""],
        ["tests", "2", "< 3", "met"],
    ]
