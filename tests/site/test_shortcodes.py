"""Shortcodes: what they give, and what they say to a writer who slips."""

from __future__ import annotations

import copy
import datetime
import json
import math
from dataclasses import replace
from pathlib import Path

import pytest

from boardwright.limits import SCREEN_PATH, SHARED_RETURN
from boardwright.rules.registry import RULES
from boardwright.site.boards import ShownBoard
from boardwright.site.code import board_text
from boardwright.site.figure import figure
from boardwright.site.kinds import read_kinds
from boardwright.site.markup import prose, tag
from boardwright.site.page import Page
from boardwright.site.rule_pages import rule_page
from boardwright.site.shortcodes import answer, drawing, expand
from boardwright.site.unfit import Unfit
from built_site import ROOT, Document
from parity import shown_boards

BOARDS = shown_boards()
KINDS = read_kinds(ROOT)
THIN = "lessons/boards/thin-example-before.yaml"
DAISY = "lessons/boards/quiet-example-before.yaml"


def page(name: str = "lessons/thin-wires.md", url: str = "lessons/thin-wires/") -> Page:
    return Page(name, url, BOARDS, KINDS)


def test_a_limit_is_given_as_prose_says_it():
    assert expand(page(), "up to {{ limit outlet-headroom }} of it") == "up to 80\N{NO-BREAK SPACE}% of it"


@pytest.mark.parametrize(
    ("written", "complaint"),
    [
        ("{{ limt outlet-headroom }}", "`limt` is not a shortcode. Did you mean `limit`?"),
        ("{{ limit outlet-hedroom }}", "`outlet-hedroom` is not a limit. Did you mean `outlet-headroom`?"),
        ("{{ board lessons/boards/thin-exampel.yaml }}", "Did you mean `lessons/boards/thin-example.yaml`?"),
        ("{{ drawing power-mop " + THIN + " }}", "`power-mop` is not a drawing. Did you mean `power-map`?"),
        ("{{ figure " + THIN + " device longverp volts }}", "Did you mean `longverb`?"),
        ("{{ figure " + THIN + " device longverb vults }}", "Did you mean `volts`?"),
        ("{{ figure " + THIN + " thing longverb volts }}", "is not a kind of figure"),
        ("{{ figure " + THIN + " noise longverb dBV }}", "is not a pedal that whines on this board"),
        ("{{ figure " + THIN + " pickup gitar treble }}", "Did you mean `guitar`?"),
        ("{{ figure " + THIN + " headroom echo peak }}", "is not a box of this board that is driven past its ceiling"),
        ("{{ exercise " + THIN + " }}", "There is no key for this exercise"),
        ("{{ limit }}", "Write it as `{{ limit NAME }}`."),
        ("{{ limit outlet-headroom", "is not closed on the line on which it begins"),
        ("{{ case no-spare-outlet tripps }}", "Did you mean `trips`?"),
        ("{{ result gauntled }}", "Did you mean `gauntlet`?"),
        ("{{ measured gauntlet fownd }}", "Did you mean `found`?"),
    ],
)
def test_a_slip_is_named_with_its_page_and_line(written: str, complaint: str):
    with pytest.raises(Unfit) as said:
        expand(page(), f"One.\n\nTwo: {written}\n", first_line=5)
    assert str(said.value).startswith("docs/lessons/thin-wires.md, line 7: ")
    assert complaint in str(said.value)


def test_a_rule_that_names_no_limit_is_named():
    rule = RULES["outlet-headroom-thin"]
    slip = replace(rule, page=rule.page.replace("{{ limit outlet-headroom }}", "{{ limit outlet-hedroom }}"))
    with pytest.raises(Unfit, match=r"rule `outlet-headroom-thin`: `outlet-hedroom` is not a limit. Did you mean `outlet-headroom`"):
        rule_page(slip, BOARDS)


def test_braces_of_a_board_are_no_shortcode():
    flow = "`feed: {from: brick.3, lead: {reverses: yes}}`"
    assert expand(page(), flow) == flow


def test_links_lead_from_a_page_to_the_root():
    assert page().link("checker/#example=boards/x.yaml") == "../../checker/#example=boards/x.yaml"
    assert page("index.md", "").link("lessons/current/#draw") == "lessons/current/#draw"
    assert page().link("") == "../../"
    assert page("reference/rules/index.md", "reference/rules/").link("reference/limits/") == "../limits/"


# ---- figures, against sums done here by hand


def test_figures_of_power_are_sums_of_labels():
    bram = BOARDS.by_path["lessons/boards/current-example-before.yaml"]
    draws = [60, 8, 25, 300, 350, 380, 300, 320]  # mA, from the labels of the board's eight pedals
    assert figure(bram, "supply", "brick", "power") == f"{9 * sum(draws) / 1000:.1f} W"
    assert figure(bram, "supply", "brick", "share") == f"{100 * 9 * sum(draws) / 1000 / 15:.0f} %"
    assert figure(bram, "outlet", "brick.6", "share") == f"{100 * 380 / 500:.0f} %"
    assert figure(bram, "outlet", "brick.6", "demand") == "380 mA"


def test_figures_of_a_lead_are_those_of_the_textbook():
    """A constant power P behind a resistance R: V = (E + sqrt(E² - 4RP)) / 2, the upper root of the load line."""
    hall = BOARDS.by_path["lessons/boards/thin-exercise.yaml"]
    resistance = 3 * 2 * 0.2129 + 4 * 0.01 + 0.3  # 28 AWG: 0.2129 ohm/m (ASTM B258 with IEC 60028 copper)
    volts = (9 + math.sqrt(81 - 4 * resistance * 3.15)) / 2
    assert figure(hall, "device", "hall", "volts") == f"{volts:.2f} V"
    assert figure(hall, "device", "hall", "drop-percent") == f"{100 * (9 - volts) / 9:.1f} %"
    assert figure(hall, "device", "hall", "current") == f"{1000 * 3.15 / volts:.0f} mA"


def test_figures_of_a_made_lead_are_the_sum_of_its_way_slack_and_strip():
    """The sum that the lesson shows: the way and a twentieth, 40 mm for each end, 10 mm of strip for each, up to 5 mm."""
    tomas = BOARDS.by_path["lessons/boards/leads-example.yaml"]
    ways = {"a1": 40 + 80 + 40, "a2": 40 + 65 + 40, "a3": 40 + 75 + 40, "a4": 40 + 70 + 40}  # mm, from the corners on the board
    cuts = {lead: 5 * math.ceil((1.05 * way + 2 * 40 + 2 * 10) / 5) for lead, way in ways.items()}
    for lead, way in ways.items():
        assert figure(tomas, "lead", lead, "way") == f"{way} mm"
        assert figure(tomas, "lead", lead, "cut") == f"{cuts[lead]} mm"
    assert figure(tomas, "lead", "a1", "finished") == f"{1.05 * 160 + 80:.0f} mm"
    assert figure(tomas, "cable", "patch", "cuts") == f"{sum(cuts.values()) / 1000:.2f} m"
    assert figure(tomas, "cable", "patch", "needed") == f"{sum(cuts.values()) * 1.05 / 1000:.2g} m"


def test_figures_of_noise_follow_from_each_other():
    """Ohm's law and the definition of dBV, on the numbers of Lena's daisy chain: 5 % of 200 mA, 35 dB of gain."""
    lena = BOARDS.by_path[DAISY]
    resistance = 1 / (1 / SHARED_RETURN.value + 1 / SCREEN_PATH.value)
    level = 20 * math.log10(0.010 * resistance) + 35
    assert figure(lena, "noise", "softdrive", "ripple") == "10 mA"
    assert figure(lena, "noise", "softdrive", "resistance") == f"{resistance:.4f} Ω"
    assert figure(lena, "noise", "softdrive", "voltage") == f"{1e6 * 0.010 * resistance:.0f} µV"
    assert figure(lena, "noise", "softdrive", "dBV") == f"−{-level:.0f} dBV"


def test_figures_of_a_pickup_are_those_of_the_circuit():
    """The single coil of loading.py, 2.5 H, 6.2 kΩ, 110 pF, its pots 250 kΩ twice, as a divider: H = Z / (R + sL + Z)."""
    plain = BOARDS.by_path["lessons/boards/pickup-plain-6-m.yaml"]
    cable = 6 * 100e-12 + 20e-12  # the lead, and the amplifier's input
    load = 1 / (1 / 250e3 + 1 / 250e3 + 1 / 1e6)

    def level(frequency: float) -> float:
        s = 2j * math.pi * frequency
        across = 1 / (s * (110e-12 + cable) + 1 / load)
        return 20 * math.log10(abs(across / (6.2e3 + s * 2.5 + across)))

    treble = level(5000) - level(100)
    assert figure(plain, "pickup", "guitar", "capacitance") == "620 pF"
    assert figure(plain, "pickup", "guitar", "resonance") == f"{1e-3 / (2 * math.pi * math.sqrt(2.5 * (110e-12 + cable))):.2f} kHz"
    assert treble < 0 and figure(plain, "pickup", "guitar", "treble") == f"−{-treble:.3g} dB"
    assert figure(plain, "pickup", "guitar", "shift") == "0 dB", "there is one way, so nothing can change"


def test_figures_of_hum_are_those_of_a_divider_and_of_faraday():
    """Farah's loop: 2 times 6 m of lead, each with two contacts; 2πf·B·A for the room; what the screens take of both."""
    farah = BOARDS.by_path["lessons/boards/earth-example-before.yaml"]
    screens = 12 * 0.025 + 2 * 0.02
    induced = 2 * math.pi * 50 * 100e-9 * 12 * 0.3
    volts = (0.020 + induced) * screens / (screens + 0.3)
    assert figure(farah, "hum", "two", "length") == "12 m"
    assert figure(farah, "hum", "two", "screens") == f"{screens:.2f} Ω"
    assert figure(farah, "hum", "two", "induced") == f"{1e6 * induced:.0f} µV"
    assert figure(farah, "hum", "two", "voltage") == f"{1e3 * volts:.1f} mV"
    assert figure(farah, "hum", "two", "guitar") == f"−{-20 * math.log10(volts / 0.1):.1f} dB"


def test_figures_of_the_wall_are_volt_amperes_over_volts():
    """Bo's reel: urn, speaker, combo, and a supply of 12 W at a power factor of 0.6."""
    bo = BOARDS.by_path["lessons/boards/wall-example-before.yaml"]
    assert figure(bo, "wall", "reel", "current") == f"{(2000 + 300 + 180 + 12 / 0.6) / 230:.1f} A"
    assert figure(bo, "wall", "reel", "rating") == "4 A"


def test_figures_of_headroom_are_those_of_two_batteries():
    """2 V and 15 dB would be 11 V; a stage on 18 V gives (18 − 2) / 2 V to each side, one on 9 V takes (9 − 2) / 2."""
    ilse = BOARDS.by_path["lessons/boards/levels-example-before.yaml"]
    assert figure(ilse, "headroom", "echo", "peak") == "8 V"
    assert figure(ilse, "headroom", "echo", "takes") == "3.5 V"
    assert figure(ilse, "headroom", "echo", "over") == f"{20 * math.log10(8 / 3.5):.2f} dB"


# ---- nothing that a board says becomes markup

HOSTILE = "<script>alert(1)</script><img src=x onerror=alert(2)>\"'&amp; `</code>` {{ limit x }}"


def hostile_board() -> ShownBoard:
    quoted = "'" + HOSTILE.replace("'", "''") + "'"
    text = (
        f"# {HOSTILE}\n"
        f"board: {{name: {quoted}, client: {quoted}}}\n"
        "supplies: {s: {isolated: yes, outlets: {1: 9V dc centre-negative 100mA}}}\n"
        f"pedals: {{a: {{kind: {quoted}, needs: 9V dc centre-negative 120mA, feed: s.1}}}}\n"
        f"accept: [{{rule: outlet-current-overdrawn, because: {quoted}}}]\n"
    )
    return ShownBoard("hostile", Path("hostile.yaml"), text)


def test_hostile_words_stay_words():
    shown = hostile_board()
    assert shown.report.board.name == HOSTILE
    own = page()
    own.shown.add("hostile")
    own.answered.add("hostile")
    own.boards.by_path["hostile.yaml"] = shown
    try:
        html = "".join((board_text(own, shown), answer(own, "hostile.yaml"), drawing(own, "power-map", "hostile.yaml")))
    finally:
        del own.boards.by_path["hostile.yaml"]
    document = Document(html)
    tags = {each.tag for each in document.elements}
    assert not tags & {"script", "img"}
    assert not [name for each in document.elements for name in each.attributes if name.startswith("on")]
    assert shown.text in {code.text for code in document.all("code")}
    assert HOSTILE in {each.text for each in document.all("span")}, "the board's name in the caption"
    assert HOSTILE.replace("`</code>`", "</code>") in " ".join(each.text for each in document.all("p")), "the reason given"


def test_attributes_and_sentences_are_escaped():
    assert tag("p", {"title": '"<'}, "<b>") == '<p title="&#34;&lt;">&lt;b&gt;</p>'
    assert prose("`<a>` & <b>") == "<code>&lt;a&gt;</code> &amp; &lt;b&gt;"
    assert tag("p", {"hidden": True, "id": None, "x": False}) == "<p hidden></p>"


RESULT = {
    "made_by": "make nothing COUNT=3",
    "date": "2030-01-01",
    "how": ["It was tried.", "And counted."],
    "figures": {"tried": "3"},
    "tables": [{"title": "Tried", "columns": ["rule", "how often"], "rows": [["no-spare-outlet", 3], ["<b>", 0]]}],
    "falls_short": ["`no-spare-outlet` is not found on board 7."],
}


def page_with_results(folder: Path, **written: object) -> Page:
    (folder / "checker/results").mkdir(parents=True)
    for name, content in written.items():
        (folder / f"checker/results/{name}.json").write_text(content if isinstance(content, str) else json.dumps(content), "utf-8")
    boards = copy.copy(BOARDS)
    boards.root = folder
    return Page("trust.md", "trust/", boards, KINDS)


def test_a_result_is_told_with_its_date_its_command_and_what_falls_short(tmp_path: Path):
    shown = page_with_results(tmp_path, nothing=RESULT)
    told = shown.fill_rest(shown.fill(expand(shown, "{{ measured nothing tried }} times\n\n{{ result nothing }}")))
    assert told.startswith("3 times")
    for said in ("2030-01-01", "make nothing COUNT=3", "And counted.", "What falls short", "board 7", "&lt;b&gt;", f'href="../{RULES["no-spare-outlet"].page_link}"'):
        assert said in told
    assert "Nothing fell short" not in told


def test_a_result_that_is_none_is_named(tmp_path: Path):
    with pytest.raises(Unfit, match=r"checker/results/odd\.json is not a result"):
        expand(page_with_results(tmp_path, odd="{"), "{{ result odd }}")


def test_results_that_are_shown_name_their_day_and_their_command():
    for path in (ROOT / "checker/results").glob("*.json"):
        found = json.loads(path.read_text("utf-8"))
        datetime.date.fromisoformat(found["date"])
        assert found["made_by"].startswith("make ")
        assert all(len(row) == len(each["columns"]) for each in found["tables"] for row in each["rows"])
