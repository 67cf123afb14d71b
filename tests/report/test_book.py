"""The handover book: everything that is described is in it, nothing else is, and no name in a board can break it."""

from __future__ import annotations

import functools
import re
from html.parser import HTMLParser
from itertools import pairwise

import pytest

from boardwright import judge
from boardwright.board.hunt import Hunt
from boardwright.board.signal.diagrams import NEVER
from boardwright.board.signal.stages import Role
from boardwright.limits import HUNT_SURE
from boardwright.report.book import CHAPTERS, handover_book, in_stages
from boardwright.report.book.chapter import Book
from boardwright.report.book.quiet import MOST_TESTS, _explained
from boardwright.report.book.style import header
from boardwright.report.cut_list import cut_list
from boardwright.report.hunt import numbered
from boardwright.report.signal_map import signal_map
from boardwright.report.signal_strips import signal_strips
from boardwright.rules.registry import RULES
from boardwright.spec.figure import tell
from boardwright.spec.sections.isolators import Isolator
from boardwright.spec.sections.symptom import Symptom
from parity import pieces, whole_boards

BOARDS = dict(whole_boards())
RICH = """
board: {name: "Rich & <b>odd</b>", for: tour, client: "A. <i>Player</i>"}
supplies: {s: {isolated: yes, outlets: {1: 9V dc centre-negative 100mA, 2: 9V dc centre-positive 100mA, 3: 9V ac 500mA, 4: 9V dc centre-negative 100mA}}}
pedals:
  a: {kind: boost, needs: 9V dc centre-negative 20mA, feed: {from: s.1, lead: 600 mm}}
  b: {kind: fuzz, needs: 9V dc centre-negative 2mA, feed: {from: s.2, lead: {reverses: yes, plug: 3.5-mini}}}
  c: {kind: preamp, needs: 9V ac 300mA, feed: s.3}
  d: {kind: overdrive, needs: 9V dc centre-negative 5mA, feed: battery}
  e: {kind: delay, midi: {channel: 3, thru: hard, jack: trs-a}}
  f: {kind: chorus, needs: 9V dc centre-negative 9mA, feed: {from: s.1, after: a}}
switchers: {hub: {loops: {1: a, 2: [b, c], 3: empty}, unpowered: passes, midi: {sends: [3]}}}
amps: {combo: {kind: valve}}
audio: [guitar > hub > d > e > f > combo]
midi: [hub.midi_out > e]
presets: {verse: {hub: [1]}, solo: {hub: [1, 2], louder: yes}, tune: {mute: combo, quiet: yes}}
promises: [{always: {hears: combo, from: guitar, unless: quiet}}]
spares: [{carries: audio, length: 6 m, plug: TS, rescue: yes}, {what: fuse, count: 3, of: s}]
papers: [settings-photo]
upkeep: {battery: {d: 2030-05-01}, leads: 2030-04-01}
"""


class Read(HTMLParser):
    """The words, the tables and the elements of a page."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.words: dict[str, list[str]] = {}
        self.rows: dict[str, list[list[str]]] = {}
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.section = ""
        self.style = False
        self.cell = False
        self.feed(page)

    def handle_starttag(self, tag, attributes):
        given = dict(attributes)
        self.elements.append((tag, given))
        self.style = tag == "style"
        if tag == "section":
            self.section = given.get("id") or given.get("class") or ""
        elif tag == "tr":
            self.rows.setdefault(self.section, []).append([])
        elif tag in ("td", "th"):
            self.rows[self.section][-1].append("")
            self.cell = True
        elif tag == "div" and self.cell and self.rows[self.section][-1][-1]:
            self.rows[self.section][-1][-1] += "\n"

    def handle_endtag(self, tag):
        if tag in ("td", "th"):
            self.cell = False

    def handle_data(self, data):
        if self.style:
            self.style = False
            return
        self.words.setdefault(self.section, []).append(data)
        if self.cell:
            self.rows[self.section][-1][-1] += data

    def said(self, section: str) -> str:
        return " ".join("".join(self.words[section]).split())


@functools.cache
def made(text: str):
    board, report = judge(text)
    return board, report, handover_book(board, report)


@functools.cache
def read(text: str) -> Read:
    return Read(made(text)[2])


def plain(sentence: str) -> str:
    return " ".join(sentence.replace("`", "").split())


SOME = [*BOARDS.values(), RICH, "", "board: {name: x}\nfoo: 1\n", *(text for _, text in list(pieces())[::40])]


@pytest.mark.parametrize("text", SOME)
def test_every_chapter_is_in_the_book_or_is_said_to_be_missing(text):
    found = read(text)
    for chapter in CHAPTERS:
        missing = f"{chapter.title}: " in found.said("contents")
        assert (chapter.name in found.words) is not missing, chapter.name
        if not missing:
            body = found.said(chapter.name).split(chapter.title, 1)[1]
            assert len(body) > 20, f"{chapter.name} is an empty heading"
            assert f"#{chapter.name}" in [given.get("href") for tag, given in found.elements if tag == "a"]


def test_a_board_that_describes_everything_has_every_chapter():
    missing = [chapter.name for chapter in CHAPTERS if chapter.name not in read(RICH).words]
    assert missing == ["layout"]


@pytest.mark.parametrize("text", BOARDS.values(), ids=BOARDS)
def test_the_outlet_table_says_what_the_report_says(text):
    _, report, _ = made(text)
    rows = read(text).rows.get("outlets", [])[1:]
    for outlet in report.power.outlets:
        own = [row for row in rows if row[0] == outlet.name]
        rated = "" if outlet.rating_amps is None else f", {tell(outlet.rating_amps, 'A')}"
        assert {row[1] for row in own} == {("?" if outlet.volts is None else tell(outlet.volts, "V")) + rated}
        assert [row[2].split(",")[0] for row in own] == (outlet.devices or ["free"])
    devices = {each.name: each for each in report.power.devices}
    for row in rows:
        name = row[2].split(",")[0]
        if name in devices and row[0] not in ("battery", "nowhere"):
            amps, volts = devices[name].amps, devices[name].volts
            assert row[6:8] == ["?" if amps is None else tell(amps, "A"), "?" if volts is None else tell(volts, "V")]


def test_polarity_and_plug_as_they_arrive():
    rows = {row[2].split(",")[0]: row for row in read(RICH).rows["outlets"]}
    assert rows["a"][3:5] == ["centre-negative", "(5.5x2.1)"]
    assert rows["b"][3:5] == ["centre-negative, lead reverses", "3.5-mini"]
    assert rows["c"][3] == "alternating"
    assert rows["d"][0] == "battery"
    assert rows["f"][2] == "f, behind a"
    assert rows["free"][0] == "s.4"


@pytest.mark.parametrize("text", BOARDS.values(), ids=BOARDS)
def test_everything_that_was_found_and_asked_is_in_it(text):
    _, report, _ = made(text)
    found, asked = read(text).said("found"), read(text).said("unchecked")
    for finding in report.findings:
        assert plain(finding.sentence) in found and plain(finding.remedy) in found
        for number in finding.numbers:
            assert number.text in found
    for accepted in report.accepted:
        assert plain(accepted.sentence) in found and plain(accepted.because) in found
    for question in [*report.check_first, *report.undecided]:
        assert plain(question.question) in asked
    for problem in report.problems:
        assert plain(problem.message) in asked
    counts = {row[0]: row[1:] for row in read(text).rows.get("unchecked", ())}
    for each in report.coverage:
        if each.not_applicable:
            assert each.title in asked
        else:
            assert counts[each.title] == [str(count or "") for count in (each.trips, each.clear, each.cannot_tell, each.accepted)]
    assert len(report.coverage) == len(RULES)
    for promise in report.promises:
        said = read(text).said("promises")
        assert plain(promise.promise) in said and promise.kept in said.lower()
        assert all(plain(line) in said for line in promise.proof)


def test_dangers_stand_on_the_cover():
    dangerous = next(text for text in BOARDS.values() if judge(text)[1].count("danger"))
    assert "Do not switch this on" in read(dangerous).said("cover")
    assert "Do not switch this on" not in read(RICH).said("cover")


@pytest.mark.parametrize("text", BOARDS.values(), ids=BOARDS)
def test_every_lead_is_listed(text):
    board, _, _ = made(text)
    listed = cut_list(board)
    rows = read(text).rows.get("leads", [])
    assert [row[1:4] for row in rows if row[0] == ""] == [[row.label, row.start, row.end] for row in listed.rows]
    for each in listed.bought:
        assert f"{each.lead.label}: {each.lead.joins}" in read(text).said("leads")


@pytest.mark.parametrize("text", [*BOARDS.values(), RICH])
def test_what_a_preset_lets_through_is_what_the_engine_hears(text):
    """Each box is asked for by itself, as sets of states, where the book walks along what conducts."""
    board, _, _ = made(text)
    signal = board.signal
    for name, preset in signal.switches.presets.items():
        row = next(row for row in read(text).rows["presets"] if row[0] == name)
        whole = signal.switches.cube((signal.switches.complete(None) | preset.positions).items())
        heard = {}
        for amps, way in (line.split(": ") for line in row[2].splitlines()):
            heard |= {amp: set(way.split(", ")) - {"nothing"} for amp in amps.split(" and ")}
        for amp in signal.amps:
            sources = {source for source in signal.sources if signal.diagrams.both(signal.hears(amp, source), whole) != NEVER}
            boxes = {
                box
                for box, stage in signal.stages.items()
                if stage.role in (Role.BOX, Role.SWITCHER) and not isinstance(stage.section, Isolator) and box != amp
                if signal.diagrams.both(signal.sounding(box, amp), whole) != NEVER
            }
            assert heard.get(amp, set()) == (sources | boxes if sources else set()), (name, amp, row[2])


@pytest.mark.parametrize("text", [*BOARDS.values(), RICH])
def test_whatever_is_broken_the_card_leads_to_it(text):
    """For each suspect of a silent board: answering as a rig would in which it is broken ends at a line that names it."""
    rows = read(text).rows.get("quiet", [])[1:]
    board, report, _ = made(text)
    if report.count("danger"):
        assert not rows, "no tests where a danger forbids them"
    if not rows:
        return
    hunt = Hunt(board, Symptom(kind="silent"), list(_explained(Book(board, report, CHAPTERS))))
    probes = {str(number): step.probe for number, step, _, _ in numbered(hunt)}
    tests = {row[0]: row[1:] for row in rows}
    for suspect in hunt.all:
        number, left = "1", hunt.all
        while number in tests:
            do, good, bad = tests[number]
            assert do == plain(f"{probes[number].do} {probes[number].ask}")
            covered = probes[number].covers
            left = [each for each in left if (each.id in covered) is (suspect.id in covered)]
            answer = bad if suspect.id in covered else good
            number = answer.removeprefix("go to ")
        named = sum(each.weight for each in left if plain(each.words) in answer)
        surely = named >= HUNT_SURE.value * sum(each.weight for each in left)  # the others are too unlikely to be named
        assert plain(suspect.words) in answer or surely or (number.isdecimal() and int(number) > MOST_TESTS)


def test_a_danger_forbids_every_test():
    dangerous = next(text for text in BOARDS.values() if judge(text)[1].count("danger") and "quiet" in read(text).words)
    assert "Stop here, and ask a qualified person" in read(dangerous).said("quiet") and "quiet" not in read(dangerous).rows


def test_what_is_overdue_on_no_thing_of_the_board_is_no_test_of_the_card():
    """Cords that nobody tested silence nobody."""
    late = RICH.replace("leads: 2030-04-01", "leads: 2030-04-01, today: 2030-05-08, mains_test: 2028-05-01")
    assert "upkeep-overdue" in {finding.rule for finding in made(late)[1].findings}
    assert read(late).rows["quiet"] == read(RICH).rows["quiet"]


def test_the_card_begins_with_the_rescue():
    said = read(RICH).said("quiet")
    assert "guitar straight into combo (sound lead, rescue lead, 6 m" in said
    assert "hub passes the sound with its power pulled" in said
    assert said.index("Rescue") < said.index("ask a qualified person") < said.index("Find the fault")


def test_spares_midi_papers_and_upkeep():
    found = read(RICH)
    assert ["fuse", "3", "", "", "s", ""] in found.rows["spares"]
    assert ["e", "3", "", "by wire", "TRS-A"] in found.rows["midi"]
    assert found.rows["midi"][1][:4] == ["M1", "hub.midi_out", "e", "MIDI"]
    papers = {row[0]: row[1] for row in found.rows["papers"]}
    assert papers["settings photo"] == "beside this book, as the text says"
    assert papers["layout"] == "to be added beside this book"
    assert papers["power map"] == "“Power map” in this book"
    assert ["battery of d changed", "2030-05-01", "", "", ""] in found.rows["upkeep"]
    assert ["hub", "2", "b, then c"] in found.rows["presets"] and ["hub", "3", "empty"] in found.rows["presets"]
    assert "meant to be louder" in found.said("presets") and "meant to be silent" in found.said("presets")


# --- nothing in it can do harm ------------------------------------------------------------------------------------

ALLOWED = {
    *("html", "head", "meta", "title", "style", "body", "main", "section", "div", "figure", "span", "a", "code", "strong"),
    *("h1", "h2", "h3", "p", "ul", "ol", "li", "table", "thead", "tbody", "tr", "th", "td"),
    *("svg", "g", "path", "rect", "circle", "text", "desc"),
}  # fmt: skip
EVIL = """</style></title></svg><script>alert(1)</script><img src=x onerror=alert(2)>"'&\\"""


def hostile() -> str:
    name = '"' + EVIL.replace("\\", "\\\\").replace('"', '\\"') + '"'
    text = RICH.replace('"Rich & <b>odd</b>"', name).replace('"A. <i>Player</i>"', name).replace("settings-photo", "quiet-card")
    return text.replace("louder: yes", "free: [a]") + f"accept: [{{rule: no-spare-outlet, because: {name}}}]\nopenings: {{{name}: {{at: [1, 1]}}}}\n"


@pytest.mark.parametrize("text", [*BOARDS.values(), RICH, hostile()])
def test_only_harmless_elements(text):
    found = read(text)
    assert {tag for tag, _ in found.elements} <= ALLOWED
    for tag, given in found.elements:
        assert not [key for key in given if key.startswith("on") or key in ("src", "style", "action", "srcdoc")], (tag, given)
        assert (given.get("href") or "#").startswith("#")
    page = made(text)[2]
    style = page[page.index("<style>") + 7 : page.index("</style>")]
    assert "<" not in style and "url(" not in style and "@import" not in style
    assert page.count("<style>") == page.count("</style>") == 1
    assert "http" not in page.replace("http://www.w3.org/2000/svg", "")


def test_hostile_words_are_shown_as_they_are():
    assert EVIL in "".join(read(hostile()).words["cover"])


@pytest.mark.parametrize("name", ["a\\", 'a"b', "</style>", "a\nb", "{}", "*/ /*", "Ω 🎸", "x" * 300])
def test_the_running_header_stays_one_string(name):
    line = header(name).splitlines()[2]
    assert re.fullmatch(r'  @top-left \{ content: "(?:[A-Za-z0-9 ]|\\[0-9a-f]+ )*"; font: [^<"]*\}', line)


def test_it_is_the_same_twice_and_says_how_far_it_is():
    board, report, page = made(RICH)
    making = in_stages(board, report)
    stages = []
    with pytest.raises(StopIteration) as stop:
        while True:
            stages.append(next(making))
    assert stop.value.value == page == handover_book(*judge(RICH))
    assert [stage.title for stage in stages] == [chapter.title for chapter in CHAPTERS]
    assert [stage.done for stage in stages] == list(range(len(CHAPTERS))) and {stage.count for stage in stages} == {len(CHAPTERS)}


# --- the signal map in strips -------------------------------------------------------------------------------------

_NAMES = re.compile(r'font-size="13" font-weight="bold" fill="currentColor">([^<]*)<')


@pytest.mark.parametrize("text", BOARDS.values(), ids=BOARDS)
@pytest.mark.parametrize("widest", [260, 700, 1050])
def test_strips_hold_every_box_once_and_name_every_lead_that_goes_on(text, widest):
    board, report, _ = made(text)
    if not board.audio.described:
        return
    strips = signal_strips(board, report, widest)
    names = [_NAMES.findall(strip) for strip in strips]
    assert sorted(name for strip in names for name in strip) == sorted(_NAMES.findall(signal_map(board, report)))
    for strip, inside in zip(strips, names, strict=True):
        width = float(re.search(r'viewBox="\S+ \S+ (\S+)', strip)[1])
        assert width <= widest or len(re.findall('<rect x="', strip)) == len(inside) or len(inside) <= 2
    for before, after in pairwise(strips):
        assert ">to " in before and ">from " in after
