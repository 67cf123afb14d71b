"""The command line: what it reads, what it prints and how it ends."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner
from jsonschema import Draft202012Validator

import boardwright
from boardwright import browser, cli, judge
from boardwright.report.book import handover_book
from boardwright.report.markdown import to_markdown
from boardwright.report.text import to_text

CLEAN = "supplies: {s: {isolated: yes, total: 5 W, outlets: {1: 9V dc centre-negative 100mA}}}\npedals: {a: {kind: chorus, needs: 9V dc centre-negative 20mA, feed: s.1}}\n"
FAULTY = CLEAN.replace("20mA", "200mA")
BROKEN = "pedals: {a: {kind: fuzz\n"
NOTHING_WRONG, FINDINGS, BAD_INPUT, OUR_FAULT = 0, 1, 2, 3


def ran(*arguments: str, given: bytes | None = None, stdout: int = subprocess.PIPE, **settings: str) -> subprocess.CompletedProcess:
    """The command as a person runs it."""
    place = os.pathsep.join(path for path in sys.path if path)
    surroundings = {**os.environ, "PYTHONPATH": place, "PYTHONIOENCODING": "utf-8", **settings}
    return subprocess.run([sys.executable, "-m", "boardwright", *arguments], input=given, stdout=stdout, stderr=subprocess.PIPE, env=surroundings, timeout=60)


def ended(*arguments: str, given: str | bytes | None = None):
    """The same inside this process: exit code, what was printed, and what was complained about."""
    runner = CliRunner()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sys, "argv", ["boardwright", *arguments])
        isolated = runner.isolation(input=given)
        with isolated as streams:
            code = None
            try:
                cli.run()
            except SystemExit as stop:
                code = stop.code
            sys.stdout.flush()
            sys.stderr.flush()
            return code or 0, streams[0].getvalue().decode(), streams[1].getvalue().decode()


@pytest.fixture
def file(tmp_path):
    def write(content: str | bytes, name: str = "board.yaml") -> str:
        path = tmp_path / name
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        return str(path)

    return write


@pytest.mark.parametrize(("text", "code"), [(CLEAN, NOTHING_WRONG), (FAULTY, FINDINGS), (BROKEN, BAD_INPUT), (FAULTY + "foo: 1\n", BAD_INPUT), ("", NOTHING_WRONG)])
def test_the_exit_code_says_how_it_went(file, text, code):
    assert ended("check", file(text))[0] == code


def test_the_report_is_printed_as_the_package_writes_it(file):
    assert ended("check", file(FAULTY), "--no-colour")[1] == to_text(boardwright.check(FAULTY))


def test_it_really_starts_as_a_command(file):
    done = ran("check", file(FAULTY))
    assert done.returncode == FINDINGS and done.stdout.decode() == to_text(boardwright.check(FAULTY)) and not done.stderr


def test_standard_input():
    done = ran("check", "-", given=FAULTY.encode())
    assert done.returncode == FINDINGS and "outlet-current-overdrawn" in done.stdout.decode()


@pytest.mark.parametrize("content", [FAULTY.replace("\n", "\r\n").encode(), b"\xef\xbb\xbf" + FAULTY.encode(), FAULTY.replace("\n", "\r").encode()])
def test_line_ends_and_byte_order_marks_change_nothing(file, content):
    assert ended("check", file(content))[1] == to_text(boardwright.check(FAULTY))


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda file, folder: str(folder / "none.yaml"), "No such file"),
        (lambda file, folder: str(folder), "directory"),
        (lambda file, folder: file(b"pedals:\n  caf\xe9: {kind: fuzz}\n"), "line 2: this is not UTF-8 text."),
        (lambda file, folder: file(CLEAN.encode("utf-16")), "line 1: this is not UTF-8 text."),
        (lambda file, folder: file(bytes(range(256)) * 50), "this is not UTF-8 text."),
    ],
)
def test_what_cannot_be_read_is_said_in_plain_words(file, tmp_path, make, said):
    code, out, complaint = ended("check", make(file, tmp_path))
    assert code == BAD_INPUT and said in complaint and "Traceback" not in complaint and not out


def test_binary_rubbish_in_valid_utf8_is_said_too(file):
    code, out, complaint = ended("check", file("\x00\x01\x02pedals"))
    assert code == BAD_INPUT and "A character that no text should hold" in out and not complaint


@pytest.mark.parametrize(
    "arguments", [(), ("chek", "x"), ("check",), ("check", "a", "b"), ("check", "x", "--jason"), ("draw", "x", "cat"), ("schema", "moon"), ("rules", "no-such-rule")]
)
def test_a_wrong_call_is_said_in_plain_words(arguments):
    code, out, complaint = ended(*arguments)
    assert "Traceback" not in out + complaint
    assert code == BAD_INPUT or not arguments


def test_json_keeps_to_the_schema_that_it_prints(file):
    code, out, _ = ended("check", file(FAULTY), "--json")
    _, schema, _ = ended("schema", "report")
    Draft202012Validator(json.loads(schema)).validate(json.loads(out))
    assert code == FINDINGS and json.loads(out)["schema"] == "boardwright-report/1"


def test_markdown_is_printed_as_the_package_writes_it(file):
    code, out, _ = ended("check", file(FAULTY), "--markdown")
    assert code == FINDINGS and out == to_markdown(boardwright.check(FAULTY))


def test_the_page_writes_what_the_command_line_prints(file):
    """The browser's door for downloads, form by form."""
    board = file(CLEAN.replace("feed: s.1}", "feed: s.1}\n  b: {kind: fuzz, needs: 9V dc centre-negative 9mA, feed: s.2}"))
    text = Path(board).read_text("utf-8")
    assert browser.write(text, "json") == ended("check", board, "--json")[1]
    assert browser.write(text, "markdown") == ended("check", board, "--markdown")[1]
    assert browser.write(text, "cut-list") == ended("cuts", board, "--csv")[1]
    with pytest.raises(KeyError, match="moon"):
        browser.write(text, "moon")


def test_several_boards_are_judged_at_once_and_the_worst_decides(file):
    clean, faulty, broken = file(CLEAN, "clean.yaml"), file(FAULTY, "faulty.yaml"), file(BROKEN, "broken.yaml")
    code, out, _ = ended("check", clean, faulty)
    assert code == FINDINGS and out == f"{clean}\n\n{to_text(boardwright.check(CLEAN))}\n{faulty}\n\n{to_text(boardwright.check(FAULTY))}"
    assert ended("check", clean, clean)[0] == NOTHING_WRONG and ended("check", faulty, broken)[0] == BAD_INPUT
    reports = json.loads(ended("check", clean, faulty, "--json")[1])
    assert list(reports) == [clean, faulty] and reports[faulty] == json.loads(ended("check", faulty, "--json")[1])
    code, out, complaint = ended("check", clean, "none.yaml")
    assert code == BAD_INPUT and not out and "none.yaml" in complaint


@pytest.mark.parametrize(("least", "code"), [("danger", NOTHING_WRONG), ("fault", FINDINGS), ("advice", FINDINGS)])
def test_the_least_severity_that_counts_can_be_chosen(file, least, code):
    assert ended("check", file(FAULTY), "--fail-on", least)[0] == code
    assert ended("check", file(BROKEN), "--fail-on", least)[0] == BAD_INPUT


def test_other_programs_are_told_of_files_below_us_by_their_way_from_here(file, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "my boards").mkdir()
    inside = Path(file(FAULTY, "my boards/ä %.yaml"))
    for name in (str(inside), str(inside.relative_to(tmp_path))):
        log = json.loads(ended("check", name, "--sarif")[1])
        assert log["runs"][0]["artifacts"][0]["location"]["uri"] == "my%20boards/%C3%A4%20%25.yaml"
        assert "file=my boards/ä %25.yaml,line=1," in ended("check", name, "--annotate")[1]
    monkeypatch.chdir(inside.parent)
    outside = json.loads(ended("check", file(FAULTY), "--sarif")[1])
    assert outside["runs"][0]["artifacts"][0]["location"]["uri"].startswith("file:///")
    assert ended("check", str(inside), "--site", "https://example.org/")[0] == BAD_INPUT


def test_the_schema_of_a_board_is_one():
    Draft202012Validator.check_schema(json.loads(ended("schema", "board")[1]))


def test_rules_are_listed_and_explained():
    code, out, _ = ended("rules")
    assert not code and all(name in out for name in cli.RULES)
    for name, rule in cli.RULES.items():
        code, out, _ = ended("rules", name)
        assert not code and out.startswith(rule.title) and "## How it decides" in out and "{{" not in out


def test_a_drawing_is_printed(file):
    code, out, _ = ended("draw", file(FAULTY), "power-map")
    assert not code and out.startswith("<svg") and out.rstrip().endswith("</svg>")


def test_a_plan_is_printed_as_text_as_data_and_as_a_sheet(file):
    code, out, _ = ended("plan", file(CLEAN))
    assert not code and "measure, plug in" in out.lower() and "−9 V (−9.45 V to −8.55 V)" in out
    steps = json.loads(ended("plan", file(CLEAN), "--json")[1])
    assert [step["number"] for step in steps] == list(range(1, len(steps) + 1)) and steps[0]["do"] == "dry-fit"
    sheet = ended("plan", file(CLEAN), "--sheet")[1]
    assert sheet.startswith("<!doctype html>") and "build plan and readings" in sheet


def test_colour_is_for_terminals_and_whoever_asks(file):
    assert "\x1b[" not in ended("check", file(FAULTY))[1]
    assert "\x1b[" in ended("check", file(FAULTY), "--colour")[1]


def test_a_terminal_that_knows_only_ascii_gets_no_traceback(file):
    done = ran("check", file(FAULTY), PYTHONIOENCODING="ascii", PYTHONUTF8="0", LC_ALL="C", LANG="C")
    assert done.returncode == FINDINGS, done.stderr.decode()


def test_a_fault_of_ours_says_so(file, monkeypatch):
    def broken(text):
        raise RuntimeError("a wire is loose")

    monkeypatch.setattr(cli, "judge", broken)
    code, _, complaint = ended("check", file(CLEAN))
    assert code == OUR_FAULT and "This is a fault of Boardwright, not of your board." in complaint


def test_a_reader_that_goes_away_is_no_fault(file):
    reading, writing = os.pipe()
    os.close(reading)
    try:
        done = ran("check", file(CLEAN), stdout=writing)
    finally:
        os.close(writing)
    assert not done.stderr and done.returncode not in (BAD_INPUT, OUR_FAULT)


def test_help_names_the_exit_codes():
    code, out, _ = ended("--help")
    assert not code and all(f"{number} " in out for number in range(4))


def test_the_book_is_printed_whatever_was_found(file):
    for text in (CLEAN, FAULTY, BROKEN, ""):
        code, printed, complaint = ended("book", file(text))
        assert (code, complaint) == (NOTHING_WRONG, "")
        assert printed == handover_book(*judge(text))
