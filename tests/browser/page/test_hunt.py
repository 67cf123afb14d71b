"""The fault finder's page: it asks what the checker asks, takes answers by thumb and by key, undoes, keeps and prints the record."""

import json
import re

import pytest
from playwright.sync_api import expect

from boardwright.browser import hunt
from browser.page.steps import HOUSE, SAMPLE, add_axe

EXAMPLE = (HOUSE / "docs/lessons/boards/hunt-example.yaml").read_text()


@pytest.fixture
def finder(open_page):
    def opened(**settings):
        page = open_page("fault-finder/", **settings)
        page.wait_for_selector(".bw-hunt__kind")
        return page

    return opened


def begin(page, kind="silent"):
    page.locator(f"[data-kind={kind}]").click()
    page.get_by_role("button", name="Begin").click()
    page.wait_for_selector(".bw-hunt__answer--good")


def asked(page):
    return page.locator(".bw-hunt__do").inner_text()


def state(answers):
    return json.loads(hunt(EXAMPLE, json.dumps({"heard": "silent", "when": ["always"], "answers": answers})))


def test_it_asks_what_the_checker_asks_until_it_is_found(finder):
    page = finder()
    page.get_by_label("There is another amplifier").uncheck()
    begin(page)
    answers = []
    while (due := state(answers))["test"]:
        assert asked(page) == due["test"]["do"].replace("`", "")
        word = "bad" if len(answers) == 2 else "good"
        answers.append(word)
        page.locator(f"[data-does={word}]").click()
        expect(page.locator(".bw-hunt__record ol > li")).to_have_count(len(answers))
    expect(page.locator(".bw-hunt__test h2")).to_have_text("Found" if due["ending"] == "found" else "It is one of these")
    assert page.locator(".bw-hunt__result").all_inner_texts() == [said.replace("`", "") for said in due["said"]]


def test_keys_answer_and_undo_while_the_focus_is_in_the_test(finder):
    page = finder()
    begin(page)
    expect(page.locator(".bw-hunt__test h2")).to_be_focused()
    first = asked(page)
    page.keyboard.press("g")
    expect(page.locator(".bw-hunt__test h2")).to_have_text("Test 2")
    expect(page.locator(".bw-hunt__test h2")).to_be_focused()
    page.keyboard.press("u")
    expect(page.locator(".bw-hunt__test h2")).to_have_text("Test 1")
    assert asked(page) == first
    page.locator("summary", has_text="Board:").focus()
    page.keyboard.press("g")
    expect(page.locator(".bw-hunt__test h2")).to_have_text("Test 1")


def test_a_screen_reader_hears_each_test(finder):
    page = finder()
    begin(page)
    told = page.locator("[data-answer] > [role=status]")
    expect(told).to_contain_text("Test 1. Look at")
    page.locator("[data-does=good]").click()
    expect(told).to_contain_text("Test 2.")


def test_the_record_outlives_a_reload_and_is_what_is_printed(finder):
    page = finder()
    begin(page)
    page.locator("[data-does=good]").click()
    expect(page.locator(".bw-hunt__record ol > li")).to_have_count(1)
    page.reload()
    expect(page.locator(".bw-hunt__record ol > li")).to_have_count(1)
    page.emulate_media(media="print")
    assert page.locator(".bw-hunt__record").is_visible()
    assert not page.locator(".bw-hunt__test").is_visible() and not page.locator(".bw-hunt__board").is_visible()


def test_the_board_that_was_checked_last_is_the_one_to_hunt(open_page):
    page = open_page()
    page.goto(page.url.replace("checker/", "fault-finder/"))
    page.wait_for_selector(".bw-hunt__kind")
    assert page.locator("#hunt-text").input_value().strip() == SAMPLE.read_text().strip()
    assert page.locator("[data-source]").inner_text() == "the one that you checked last"


def test_a_worked_example_can_be_taken(finder):
    page = finder()
    page.locator("summary", has_text="Board:").click()
    page.locator("#hunt-example").select_option(label="Winter tour")
    expect(page.locator("#hunt-text")).to_have_value(re.compile("name: Winter tour"))
    expect(page.locator("#bw-hunt-at option")).to_have_count(3)


def test_names_are_shown_and_spoken_without_the_marks_around_them(finder):
    page = finder()
    page.locator("summary", has_text="Board:").click()
    page.locator("#hunt-example").select_option(label="Saltmarsh tour, wet-dry-wet")
    page.locator("#bw-hunt-when").select_option(label="in preset chime")
    begin(page)
    expect(page.locator(".bw-hunt__choices > summary")).to_have_text(re.compile("^Heard: silent, in preset chime"))
    told = page.locator("[data-answer] > [role=status]")
    expect(told).to_contain_text("Test 1.")
    assert "`" not in told.inner_text()


def test_a_board_without_a_way_of_the_sound_is_told_so(finder):
    page = finder()
    page.locator("summary", has_text="Board:").click()
    page.locator("#hunt-text").fill("supplies: {s: {outlets: {1: 9V dc centre-negative 100mA}}}\n")
    page.locator("#hunt-text").blur()
    page.locator("[data-kind=hum]").click()
    page.get_by_role("button", name="Begin").click()
    expect(page.locator(".bw-hunt__test")).to_contain_text("no way of the sound")


def test_what_is_chosen_while_an_answer_is_due_stays_chosen(finder):
    page = finder()
    page.evaluate("""text => {
        const box = document.querySelector("#hunt-text");
        box.value = text;
        box.dispatchEvent(new Event("change"));
        document.querySelector("[data-kind=hum]").focus();
        document.querySelector("[data-kind=hum]").click();
        document.querySelector("[name=comes_and_goes]").click();
    }""", (HOUSE / "demo_boards/winter-tour.yaml").read_text())
    expect(page.locator("#bw-hunt-at option")).to_have_count(3)  # the answer has come
    expect(page.locator("[data-kind=hum]")).to_have_attribute("aria-pressed", "true")
    expect(page.locator("[data-kind=hum]")).to_be_focused()
    expect(page.get_by_label("It comes and goes")).to_be_checked()
    page.get_by_role("button", name="Begin").click()
    expect(page.locator(".bw-hunt__choices > summary")).to_have_text(re.compile("^Heard: hum"))


def test_what_the_board_says_already_comes_first(finder):
    page = finder()
    page.locator("summary", has_text="Board:").click()
    page.locator("#hunt-text").fill((HOUSE / "demo_boards/spare-room-five-before.yaml").read_text())
    page.locator("#hunt-text").blur()
    begin(page, "whine")
    expect(page.locator(".bw-hunt__already").first).to_contain_text("Your own board says so")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_it_fits_a_thumb_on_a_small_phone_and_passes_axe(finder, scheme):
    page = finder(viewport={"width": 320, "height": 640}, color_scheme=scheme)
    add_axe(page)

    def is_sound():
        found = page.evaluate("axe.run('.bw-hunt', {resultTypes: ['violations']})")["violations"]
        assert not found, [(each["id"], [node["html"] for node in each["nodes"]]) for each in found]
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")

    is_sound()
    begin(page)
    is_sound()
    for button in page.locator(".bw-hunt__test button").all():
        box = button.bounding_box()
        assert box["height"] >= 44 and box["width"] >= 44
    for _ in range(3):
        page.keyboard.press("b")
        page.wait_for_timeout(100)
    is_sound()




RUBBISH = ["{", "5", json.dumps({"text": 1, "name": "x", "asked": {"answers": []}})]
RUBBISH += [json.dumps({"text": EXAMPLE, "name": "x", "asked": {"answers": ["perhaps"], "heard": "hum"}})]


def test_a_record_that_cannot_be_read_stops_nobody(finder):
    page = finder()
    for record in RUBBISH:
        page.evaluate("record => sessionStorage.setItem('boardwright/hunt', record)", record)
        page.reload()
        page.wait_for_selector(".bw-hunt__kind")
        assert page.locator("#hunt-text").input_value().strip() == EXAMPLE.strip()
