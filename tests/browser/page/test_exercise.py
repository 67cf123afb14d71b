"""Exercises: what is left and what is mended, hints in steps, the key last, and progress that outlives the page."""

import json
import re

import pytest
from playwright.sync_api import expect

from boardwright.site.exercise import read_key
from browser.page.steps import HOUSE, editor_text, paste
from parity import shown_boards

LESSON = "lessons/current/"
NAME = "current-exercise"
BOARDS = HOUSE / "docs/lessons/boards"
KEY = read_key(HOUSE / f"docs/lessons/keys/{NAME}.yaml")
TEXT = (BOARDS / f"{NAME}.yaml").read_text()
MENDED = KEY.mended.read_text()
STORED = f"boardwright/exercise/{NAME}"
TOTAL = len(KEY.planted)


@pytest.fixture
def open_exercise(open_page, site_url):
    def opened(path=LESSON, stored=None, **settings):
        if stored is not None:
            entries = [{"name": STORED, "value": stored}]
            settings["storage_state"] = {"cookies": [], "origins": [{"origin": site_url.rstrip("/"), "localStorage": entries}]}
        return open_page(path, **settings)

    return opened


def begin(page):
    """Goes to the workbench, which wakes the checker."""
    page.locator("[data-bench] textarea, [data-bench] .cm-content").first.click()
    page.wait_for_selector(".cm-content")
    expect(count(page)).to_contain_text("mended")


def count(page):
    return page.locator(".bw-marking__count")


def kept(page):
    return json.loads(page.evaluate("key => localStorage.getItem(key)", STORED) or "{}")


def faults(page):
    return page.locator(".bw-fault")


def mend_outlet_one(text):
    """Two of the five: outlet 1 gets what hangs on it, and the supply as a whole what hangs on all."""
    return text.replace("1: {gives: 9V dc centre-negative 100mA", "1: {gives: 9V dc centre-negative 200mA").replace("total: 8 W", "total: 20 W")


def test_it_says_how_many_are_left_and_what_sort_they_are(open_exercise):
    page = open_exercise()
    expect(count(page)).to_have_text(f"{TOTAL} faults are planted in this board.")
    begin(page)
    expect(count(page)).to_have_text(f"0 of {TOTAL} mended.")
    for row, planted in zip(faults(page).all(), KEY.planted, strict=True):
        expect(row.locator(".bw-tag")).to_have_text(re.compile(planted.severity, re.IGNORECASE))
        assert f"`{planted.about}`" not in row.inner_text() and planted.because not in row.inner_text()
    assert page.get_by_role("button", name=re.compile("^Hint: where to look")).count() == TOTAL


def test_finding_is_left_to_the_reader_until_all_is_unfolded(open_exercise):
    page = open_exercise()
    begin(page)
    full = page.locator(".bw-marking__full")
    assert page.locator(".bw-mark:visible").count() == 0
    headline = full.locator(".bw-headline")
    expect(headline).to_be_hidden()
    full.locator("summary").first.click()
    expect(headline).to_be_visible()
    expect(page.locator(".bw-mark:visible").first).to_be_visible()


def test_mending_is_marked_fault_by_fault_until_it_is_solved(open_exercise):
    page = open_exercise()
    begin(page)
    part = mend_outlet_one(TEXT)
    assert part != TEXT
    paste(page, part)
    expect(count(page)).to_have_text(f"2 of {TOTAL} mended.")
    done = page.locator(".bw-fault--mended")
    expect(done).to_have_count(2)
    expect(done.first).to_contain_text(KEY.planted[0].because)
    expect(page.locator(".bw-solved")).to_have_count(0)
    expect(page.get_by_role("status").filter(has_text=f"2 of {TOTAL} mended.")).to_have_count(1)
    paste(page, MENDED)
    expect(count(page)).to_have_text(f"Solved: all {TOTAL} are mended, and nothing new was found.")
    sentence = page.locator("#keep + blockquote").inner_text().strip()
    expect(page.locator(".bw-solved")).to_contain_text(sentence)
    assert kept(page)["solved"] is True


def test_hints_come_one_at_a_time_by_keyboard_and_are_spoken(open_exercise):
    page = open_exercise()
    begin(page)
    first, planted = faults(page).first, KEY.planted[0]
    first.get_by_role("button").focus()
    for words, said in (("where to look", planted.look), ("what is wrong", planted.because), ("how to mend it", planted.mend)):
        expect(first.get_by_role("button")).to_have_text(re.compile(words))
        assert said.replace("`", "") not in first.inner_text()
        page.keyboard.press("Enter")
        expect(first).to_contain_text(said.replace("`", ""))
        expect(page.get_by_role("status").filter(has_text=said.replace("`", ""))).to_have_count(1)
    assert first.get_by_role("button").count() == 0
    assert page.evaluate("document.querySelector('.bw-fault').contains(document.activeElement)")
    assert kept(page)["hints"] == {f"{planted.rule}/{planted.about}": 3}
    assert faults(page).nth(1).get_by_role("button").inner_text().startswith("Hint: where to look")


def test_the_answer_is_shown_last_put_in_and_taken_out_again(open_exercise):
    page = open_exercise()
    begin(page)
    part = mend_outlet_one(TEXT)
    paste(page, part)
    answer = page.get_by_role("group", name="The answer")
    expect(answer).to_be_hidden()
    page.get_by_role("button", name="Show the answer").click()
    expect(answer).to_contain_text("Four on a larger supply")
    answer.get_by_role("button", name="Put this board into the text").click()
    expect(count(page)).to_have_text(f"All {TOTAL} are mended: this is the board of the key.")
    assert editor_text(page).strip() == MENDED.strip()
    assert kept(page)["solved"] is False
    page.get_by_role("button", name="Put my text back").click()
    assert editor_text(page).strip() == part.strip()
    expect(count(page)).to_have_text(f"2 of {TOTAL} mended.")


def test_what_was_written_is_there_after_a_reload_and_can_be_begun_again(open_exercise):
    page = open_exercise()
    begin(page)
    part = mend_outlet_one(TEXT)
    paste(page, part)
    expect(count(page)).to_have_text(f"2 of {TOTAL} mended.")
    page.reload()
    expect(count(page)).to_have_text(f"2 of {TOTAL} were mended when you left.")
    begin(page)
    assert editor_text(page).strip() == part.strip()
    page.get_by_role("button", name="Begin again").click()
    expect(count(page)).to_have_text(f"0 of {TOTAL} mended.")
    assert editor_text(page).strip() == TEXT.strip()
    page.get_by_role("button", name="Put my text back").click()
    expect(count(page)).to_have_text(f"2 of {TOTAL} mended.")


@pytest.mark.parametrize(
    "stored",
    [
        "not JSON",
        "null",
        "[1]",
        '"text"',
        json.dumps({"text": 7, "mended": "many", "solved": "yes", "hints": [1, 2]}),
        json.dumps({"text": None, "mended": -3, "solved": None, "hints": {"outlet-current-overdrawn/s.1": "x", "other": 99}}),
        json.dumps({"text": "x" * 1_000_001, "hints": None}),
    ],
)
def test_what_cannot_have_been_kept_is_taken_for_nothing(open_exercise, stored):
    page = open_exercise(stored=stored)
    expect(count(page)).to_have_text(f"{TOTAL} faults are planted in this board.")
    assert page.locator("[data-bench] textarea").input_value().strip() == TEXT.strip()
    assert faults(page).count() == TOTAL


def test_what_was_kept_is_shown_as_text(open_exercise):
    hostile = "board: {name: <img src=x onerror=document.title=1>}\n"
    page = open_exercise(stored=json.dumps({"text": hostile}))
    begin(page)
    assert page.locator("[data-bench] img").count() == 0 and page.title() != "1"


def test_where_nothing_can_be_kept_the_exercise_works_and_says_so(open_page):
    page = open_page("lessons/")
    page.add_init_script("Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); }")
    page.goto(page.url.removesuffix("lessons/") + LESSON)
    begin(page)
    paste(page, MENDED)
    expect(count(page)).to_contain_text("Solved")
    expect(page.locator(".bw-marking")).to_contain_text("This browser keeps nothing for this site")


CHEATS = {
    "a box thrown out": (lambda: re.sub(r"\n  echo: .*", "", MENDED.replace(" > echo", "")), "Gone: echo"),
    "an outlet of which nothing is said": (lambda: MENDED.replace("feed: s.4", "feed: s.9"), ""),
    "silenced": (
        lambda: MENDED.replace("total: 20 W", "total: 8 W") + "accept: [{rule: supply-total-exceeded, for: s, because: it never failed yet}]\n",
        "",
    ),
    "something new": (lambda: MENDED.replace("9V dc centre-negative 390mA", "12V dc centre-negative 390mA"), "New"),
    "not readable": (lambda: MENDED.replace("total: 20 W", "total: 20 weeks"), "The text has a mistake"),
}


@pytest.mark.parametrize("cheat", CHEATS)
def test_what_does_not_count(open_exercise, cheat):
    page = open_exercise()
    begin(page)
    text, words = CHEATS[cheat][0](), CHEATS[cheat][1]
    assert text != MENDED
    paste(page, text)
    expect(page.locator(".bw-state")).to_contain_text("Up to date")
    expect(page.locator(".bw-marking")).to_contain_text(words)
    expect(count(page)).not_to_contain_text("Solved")
    assert kept(page).get("solved") is False


def test_the_index_shows_what_is_solved_and_what_is_begun(open_exercise):
    solved = json.dumps({"text": MENDED, "mended": TOTAL, "solved": True, "hints": {}})
    page = open_exercise("lessons/", stored=solved)
    page.evaluate("localStorage.setItem('boardwright/exercise/labels-exercise', JSON.stringify({text: 'x', mended: 2}))")
    page.evaluate("localStorage.setItem('boardwright/exercise/quiet-exercise', '{')")
    page.reload()
    row = page.locator("tr", has=page.get_by_role("link", name="Add the sips"))
    expect(row).to_contain_text("Solved")
    expect(page.locator("tr", has=page.get_by_role("link", name="Read the label"))).to_contain_text("2 of 5 mended")
    expect(page.locator(".bw-progress")).to_have_count(2)
    exercises = len(list((HOUSE / "docs/lessons/keys").glob("*.yaml")))
    expect(page.locator("[data-progress]")).to_contain_text(f"1 of {exercises} exercises solved.")


def test_without_a_script_hints_and_key_stand_in_folds(open_page):
    page = open_page(LESSON, java_script_enabled=False)
    for name in ("Hint: how to look", "Hint: where to look", "The key"):
        fold = page.locator("details.bw-fold", has=page.get_by_text(name, exact=True))
        expect(fold).to_have_count(1)
        assert not fold.locator(".bw-fold__body").is_visible()
    fold.locator("summary").click()
    expect(fold).to_contain_text(KEY.planted[0].because)


def test_with_a_script_they_stand_in_the_exercise_alone(open_page):
    page = open_page(LESSON)
    expect(count(page)).to_be_visible()
    assert page.get_by_text("Hint: how to look", exact=True).count() == 1
    assert page.locator("[data-hints]").count() == 0


def test_every_key_names_boards_of_the_site():
    served = {shown.file for shown in shown_boards().everything}
    for file in (HOUSE / "docs/lessons/keys").glob("*.yaml"):
        assert read_key(file).mended in served
