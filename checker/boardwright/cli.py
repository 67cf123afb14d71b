"""The door at the command line."""

from __future__ import annotations

import json
import sys
import traceback
from collections.abc import Iterable, Iterator
from pathlib import Path
from urllib.parse import quote

import click

from boardwright import __version__, judge
from boardwright.board.assemble import assemble
from boardwright.board.hunt import Answer, Hunt, NoHunt
from boardwright.report import build_plan, cut_list
from boardwright.report.annotations import annotations
from boardwright.report.drawings import DRAWINGS
from boardwright.report.hunt import begin, plan_in_words, record_in_words
from boardwright.report.json import all_to_json, encode, json_schema, to_json
from boardwright.report.markdown import to_markdown
from boardwright.report.print_sheets import print_sheets
from boardwright.report.prose import with_limits
from boardwright.report.report import Report
from boardwright.report.sarif import Judged, to_sarif
from boardwright.report.signal_map import signal_map
from boardwright.report.text import seen, to_text
from boardwright.rules.registry import RULES
from boardwright.rules.run import run as run_rules
from boardwright.rules.verdict import Severity
from boardwright.spec.read import read
from boardwright.spec.sections.symptom import CHANGES, HEARD, Symptom

NOTHING_WRONG, FINDINGS, BAD_INPUT, OUR_FAULT = 0, 1, 2, 3

_COLOURS = {"heading": "white", "danger": "red", "fault": "red", "risk": "yellow", "advice": "cyan"}


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="boardwright")
def main() -> None:
    """Judge effects-pedal boards before they are built.

    Exit codes: 0 nothing wrong was found, 1 there are findings, 2 a board's text or the call is wrong, 3 a fault of
    Boardwright itself.
    """


@main.command()
@click.argument("boards", metavar="BOARD...", nargs=-1, required=True, type=click.Path(path_type=Path, allow_dash=True))
@click.option("--json", "form", flag_value="json", help="Print the report as JSON; of several boards, an object of reports by file.")
@click.option("--markdown", "form", flag_value="markdown", help="Print the report as Markdown.")
@click.option("--sarif", "form", flag_value="sarif", help="Print a SARIF 2.1.0 log, for editors and code hosts.")
@click.option("--annotate", "form", flag_value="annotate", help="Print workflow commands (`::error file=…`), which code hosts show beside the lines.")
@click.option("--site", metavar="URL", help="With --sarif: where the site is served, for links to the rules' pages.")
@click.option("--fail-on", type=click.Choice([each.value for each in Severity]), default=Severity.ADVICE.value, help="The least severity that makes the exit code 1.")
@click.option("--colour/--no-colour", default=None, help="Colour headings. By default only on a terminal.")
def check(boards: tuple[Path, ...], form: str | None, site: str | None, fail_on: str, colour: bool | None) -> None:
    """Judge the boards in the files BOARD... (`-` reads standard input)."""
    if site and form != "sarif":
        raise click.UsageError("--site goes with --sarif.")
    texts = {str(board): _text(board) for board in dict.fromkeys(boards)}
    reports = {file: judge(text)[1] for file, text in texts.items()}
    if form == "json":
        click.echo(to_json(next(iter(reports.values()))) if len(reports) == 1 else all_to_json(reports))
    elif form == "sarif":
        click.echo(to_sarif((Judged(_address(file), texts[file], report) for file, report in reports.items()), site))
    elif form == "annotate":
        for file, report in reports.items():
            for line in annotations(_address(file, quoted=False), report):
                click.echo(line)
    elif form == "markdown":
        click.echo(_in_turn({file: to_markdown(report) for file, report in reports.items()}), nl=False)
    else:
        dress = colour if colour is not None else sys.stdout.isatty()
        written = {file: to_text(report, _coloured) if dress else to_text(report) for file, report in reports.items()}
        click.echo(_in_turn(written), nl=False, color=dress)
    sys.exit(_exit_code(reports.values(), Severity(fail_on)))


def _in_turn(written: dict[str, str]) -> str:
    """One report as it is; several one after the other, each below the name of its file."""
    return next(iter(written.values())) if len(written) == 1 else "\n".join(f"{seen(file)}\n\n{text}" for file, text in written.items())


def _exit_code(reports: Iterable[Report], fail_on: Severity) -> int:
    reports = list(reports)
    if any(report.problems for report in reports):
        return BAD_INPUT
    counted = any(Severity(finding.severity).rank <= fail_on.rank for report in reports for finding in report.findings)
    return FINDINGS if counted else NOTHING_WRONG


def _address(file: str, quoted: bool = True) -> str:
    """A file as other programs are told of it: relative to where we stand if it is below, with slashes."""
    path = Path(file).resolve()
    if file == "-" or not path.is_relative_to(Path.cwd()):
        return file if file == "-" or not quoted else path.as_uri()
    relative = path.relative_to(Path.cwd()).as_posix()
    return quote(relative) if quoted else relative


@main.command()
@click.argument("board", type=click.Path(path_type=Path, allow_dash=True))
@click.argument("drawing", type=click.Choice(sorted(DRAWINGS)))
@click.option("--preset", help="With signal-map: the preset whose live way is to stand out.")
@click.option("--promise", type=click.IntRange(min=1), help="With signal-map: the promise whose way is to stand out, counted from 1.")
def draw(board: Path, drawing: str, preset: str | None, promise: int | None) -> None:
    """Print a drawing of the board in the file BOARD, as SVG."""
    judged, report = judge(_text(board))
    if preset is None and promise is None:
        click.echo(DRAWINGS[drawing](judged, report), nl=False)
        return
    if drawing != "signal-map":
        raise click.UsageError("--preset and --promise go with signal-map.")
    if preset is not None and preset not in judged.signal.switches.presets:
        raise click.UsageError(f"There is no preset {preset}. The board has: {', '.join(judged.signal.switches.presets) or 'none'}.")
    if promise is not None and promise > len(judged.promises):
        raise click.UsageError(f"The board makes {len(judged.promises)} promises.")
    click.echo(signal_map(judged, report, preset, promise - 1 if promise else None), nl=False)


@main.command(name="print")
@click.argument("board", type=click.Path(path_type=Path, allow_dash=True))
def print_(board: Path) -> None:
    """Print the board in the file BOARD in its true size: an HTML page for A4 sheets, to be printed at 100 %."""
    page = print_sheets(judge(_text(board))[0])
    if page is None:
        raise click.UsageError("No places are described (write `size` and `at` for the boxes, or their `row`), or the frame is as large as a room.")
    click.echo(page, nl=False)


@main.command()
@click.argument("board", type=click.Path(path_type=Path, allow_dash=True))
def book(board: Path) -> None:
    """Print the handover book of the board in the file BOARD: one HTML page with all its maps, lists and findings, for A4."""
    from boardwright.report.book import handover_book

    click.echo(handover_book(*judge(_text(board))), nl=False)


@main.command()
@click.argument("board", type=click.Path(path_type=Path, allow_dash=True))
@click.option("--csv", "how", flag_value="csv", help="Comma-separated, lengths in millimetres.")
@click.option("--sheet", "how", flag_value="sheet", help="An HTML page to print, with labels.")
def cuts(board: Path, how: str | None) -> None:
    """List the leads of the board in the file BOARD: what to cut, how long, from what, and what to buy."""
    found = judge(_text(board))[0]
    listed = cut_list.cut_list(found)
    wanted = {"csv": cut_list.to_csv, "sheet": lambda each: cut_list.to_sheet(each, found)}.get(how or "", cut_list.to_text)
    click.echo(wanted(listed), nl=False)


@main.command()
@click.argument("board", type=click.Path(path_type=Path, allow_dash=True))
@click.option("--json", "how", flag_value="json", help="Print the plan as JSON.")
@click.option("--sheet", "how", flag_value="sheet", help="An HTML page to print, with room to write what you read.")
def plan(board: Path, how: str | None) -> None:
    """Plan the building of the board in the file BOARD: row by row, with the reading to expect at each step."""
    found = judge(_text(board))[0]
    if how == "json":
        click.echo(encode(build_plan.build_plan(found), indent=2))
    else:
        click.echo(build_plan.to_sheet(found) if how == "sheet" else build_plan.to_text(found), nl=False)


@main.command()
@click.argument("board", type=click.Path(path_type=Path, allow_dash=True))
@click.option("--heard", type=click.Choice(HEARD), help="What is heard; by default what the board's `symptom` says.")
@click.option("--when", multiple=True, help="The preset, loop, pedal or amplifier with which it comes; may be given several times.")
@click.option("--at", multiple=True, help="The amplifier at which it is heard; by default all of them.")
@click.option("--changes-with", multiple=True, type=click.Choice(CHANGES), help="What makes it come, go or change.")
@click.option("--comes-and-goes/--steady", default=None, help="Whether it comes and goes by itself.")
@click.option("--another-amp", is_flag=True, help="There is another amplifier at hand to listen with.")
@click.option("--plan", is_flag=True, help="Print the whole plan and end.")
@click.option("--answers", help="Answers in advance, by their first letters, as in `gbc`: good, bad, cannot tell, undo.")
def hunt(
    board: Path, heard: str | None, when: tuple[str, ...], at: tuple[str, ...], changes_with: tuple[str, ...],
    comes_and_goes: bool | None, another_amp: bool, plan: bool, answers: str | None,
) -> None:  # fmt: skip
    """Hunt a fault of the board in the file BOARD, test by test: answer good, bad, cannot tell; undo, quit."""
    judged = assemble(read(_text(board)))
    if judged.spec.problems:
        click.echo(f"The text cannot be read in {len(judged.spec.problems)} places, and only the rest is hunted: `boardwright check` says where.", err=True)
    told = judged.spec.symptom or Symptom()
    said = {
        "kind": heard, "when": list(when), "at": list(at), "changes_with": list(changes_with),
        "comes_and_goes": comes_and_goes, "another_amp": another_amp or None,
    }  # fmt: skip
    symptom = told.model_copy(update={key: value for key, value in said.items() if value not in (None, [])})
    try:
        found = begin(judged, run_rules(judged), symptom)
    except NoHunt as reason:
        raise click.UsageError(str(reason)) from None
    if plan:
        click.echo("\n".join(map(seen, plan_in_words(found))))
        return
    _hunt(found, iter(answers) if answers is not None else None)


_ANSWERS = {"g": Answer.GOOD, "b": Answer.BAD, "c": Answer.CANNOT}


def _hunt(hunt: Hunt, given: Iterator[str] | None) -> None:
    """Ask until something is found. ``given`` answers first; where it ends, so does the hunt."""
    for each in hunt.explained:
        click.echo(seen(f"Your own board says so: {each.sentence}"))
    while (test := hunt.next_test) is not None:
        click.echo(seen(f"{len(hunt.record) + 1}. {test.do} {test.ask}"))
        said = next(given, "q") if given is not None else click.prompt("good, bad, cannot tell, undo or quit", default="", show_default=False)
        word = said.strip().lower()[:1]
        if word == "q":
            break
        if word == "u":
            hunt.undo()
        elif word in _ANSWERS:
            hunt.answer(_ANSWERS[word])
        elif given is not None:
            raise click.UsageError(f"`{said}` is no answer: g, b, c and u are.")
    click.echo("\n" + "\n".join(map(seen, record_in_words(hunt))))


@main.command()
@click.argument("name", required=False)
def rules(name: str | None) -> None:
    """List the rules, or explain the rule NAME."""
    if name is None:
        for rule in RULES.values():
            click.echo(f"{rule.id:<44}{rule.title}")
    elif name in RULES:
        click.echo(f"{RULES[name].title}\n\n{with_limits(RULES[name].page)}")
    else:
        raise click.UsageError(f"There is no rule {name}. `boardwright rules` lists them.")


@main.command()
@click.argument("what", type=click.Choice(["board", "report"]))
def schema(what: str) -> None:
    """Print the JSON Schema of a board or of a report."""
    from boardwright.spec.schema import json_schema as board_schema

    click.echo(json.dumps(board_schema() if what == "board" else json_schema(), indent=2, ensure_ascii=False))


def _text(board: Path) -> str:
    try:
        data = sys.stdin.buffer.read() if str(board) == "-" else board.read_bytes()
    except OSError as error:
        raise click.FileError(str(board), error.strerror or "cannot be read") from None
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise click.UsageError(f"{board}, line {line}: this is not UTF-8 text.") from None


def _coloured(text: str, what: str) -> str:
    return click.style(text, fg=_COLOURS[what], bold=True)


def run() -> None:
    """The command. Whatever goes wrong inside is our fault, and says so."""
    try:
        main(standalone_mode=False)
    except click.exceptions.Exit as stop:
        sys.exit(stop.exit_code)
    except click.ClickException as error:
        error.show()
        sys.exit(BAD_INPUT)
    except click.Abort:
        sys.exit(BAD_INPUT)
    except BrokenPipeError:
        sys.exit(NOTHING_WRONG)
    except Exception:
        traceback.print_exc()
        click.echo("This is a fault of Boardwright, not of your board. Please report it with the lines above.", err=True)
        sys.exit(OUR_FAULT)


if __name__ == "__main__":
    run()
