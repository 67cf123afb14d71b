"""The built checker in a real browser: the worker, the client, and that the browser's Python says what this one says."""

import json
import math
import re
from pathlib import Path

import pytest
from playwright.sync_api import Error

from boardwright import judge
from boardwright.browser import FORMS, answer, first_part, write
from boardwright.report.book import CHAPTERS, handover_book
from parity import boards

ROOT = Path(__file__).parents[2]
SAMPLE = (ROOT / "demo_boards/spare-room-five-before.yaml").read_text("utf-8")

START = """() => new Promise(async (resolve) => {
    window.client = await import("./assets/checker/client.mjs");
    window.told = [];
    window.client.start({
        onStage: (stage) => window.told.push(stage),
        onReady: (seconds) => resolve({ stages: window.told, seconds }),
        onCrash: (message) => resolve({ crashed: message }),
    });
})"""
CHECK_WORDS = "async text => JSON.stringify({ ...(await window.client.check(text)), drawings: undefined })"
"""An answer without its drawings, which the next check pushes aside. As JSON, which Playwright need not take apart."""
CHECK = "async text => { const said = await window.client.check(text); return { ...said, drawings: await said.drawings }; }"


@pytest.fixture
def page(browser, checker_url):
    opened = browser.new_page()
    opened.goto(checker_url)
    yield opened
    opened.close()


@pytest.fixture(scope="module")
def started(browser, checker_url):
    """A page whose checker has started, for tests that leave it in order."""
    opened = browser.new_page()
    asked, wrong = [], []
    opened.context.on("request", lambda request: asked.append(request.url))
    opened.on("console", lambda message: wrong.append(message.text) if message.type in ("error", "warning") else None)
    opened.goto(checker_url)
    opened.start = opened.evaluate(START)
    yield opened
    opened.close()
    assert not wrong, wrong
    assert all(url.startswith((checker_url, "data:")) for url in asked), asked


def test_stages_are_told_in_order_and_their_bytes_arrive_in_full(started):
    stages = [told["stage"] for told in started.start["stages"]]
    assert list(dict.fromkeys(stages)) == ["Loading Python", "Loading the checker", "Starting the checker"]
    assert stages == sorted(stages, key=stages.index)
    for name in ("Loading Python", "Loading the checker"):
        told = [stage for stage in started.start["stages"] if stage["stage"] == name]
        done = [stage["done_bytes"] for stage in told]
        assert done == sorted(done) and done[-1] <= told[0]["total_bytes"]
    assert started.start["seconds"] > 0


BOOK = """async text => {
    const told = [];
    const book = window.client.book(text, (...stage) => told.push(stage));
    const checked = window.client.check("").then(() => told.length);
    return { page: await book, told, checkedAfter: await checked };
}"""


def test_the_book_is_the_command_lines_and_a_check_need_not_wait_for_it(started):
    text = (ROOT / "demo_boards/saltmarsh-tour.yaml").read_text("utf-8")
    made = started.evaluate(BOOK, text)
    same(re.sub(r"\s+", " ", made["page"]), re.sub(r"\s+", " ", handover_book(*judge(text))), "book")
    assert [title for title, _, _ in made["told"]] == [chapter.title for chapter in CHAPTERS]
    assert [done for _, done, _ in made["told"]] == list(range(len(CHAPTERS)))
    assert made["checkedAfter"] < len(CHAPTERS)


TEXTS = [
    *(pytest.param(text, id=name) for name, text in boards()),
    pytest.param("pedals: [\u0000", id="not YAML"),
    pytest.param("pedals: {'🎸 fuzz': {kind: fuzz, needs: 9 volts of love}}", id="beyond the 16-bit plane"),
]


WHOLE = [each for each in TEXTS if ": " not in each.id]
PIECES = [each for each in TEXTS if ": " in each.id]


@pytest.mark.parametrize("text", WHOLE)
def test_the_browser_says_and_draws_what_the_command_line_does(started, text):
    same(started.evaluate(CHECK, text), json.loads(answer(text)), "answer")


@pytest.mark.parametrize("text", PIECES)
def test_the_browser_says_what_the_command_line_says(started, text):
    same(json.loads(started.evaluate(CHECK_WORDS, text)), json.loads(first_part(text)), "answer")


@pytest.mark.parametrize("form", FORMS)
def test_the_browser_writes_what_the_command_line_writes(started, form):
    board = (ROOT / "demo_boards/winter-tour.yaml").read_text("utf-8")
    written = started.evaluate("([text, form]) => window.client.write(text, form, 'https://boards.example/')", [board, form])
    if form == "json":
        same(json.loads(written), json.loads(write(board, form)), form)
    else:
        assert written == write(board, form, "https://boards.example/")


def test_a_form_that_does_not_exist_fails_one_question_and_no_more(started):
    with pytest.raises(Error, match="KeyError"):
        started.evaluate("text => window.client.write(text, 'moon', '')", SAMPLE)
    assert started.evaluate(CHECK, SAMPLE)["findings"]


def same(browser, host, where):
    """Fails where two answers differ. Figures may differ in the last digits that two C libraries compute, words may not."""
    if isinstance(host, dict):
        assert browser.keys() == host.keys(), where
        for key in host:
            same(browser[key], host[key], f"{where}.{key}")
    elif isinstance(host, list):
        assert len(browser) == len(host), where
        for number, (one, other) in enumerate(zip(browser, host, strict=True)):
            same(one, other, f"{where}[{number}]")
    elif isinstance(host, float):
        assert isinstance(browser, int | float) and math.isclose(browser, host, rel_tol=1e-9, abs_tol=1e-12), where
    else:
        assert browser == host, where


def in_python(page, code):
    """Runs code in the Python of the page's worker."""
    return page.workers[0].evaluate("code => self.boardwright.runPython(code) ?? null", code)


def test_modules_that_no_check_loads_are_fetched_when_asked_for(page):
    page.evaluate(START)
    manifest = json.loads((ROOT / "checker/browser/dist/manifest.json").read_text())
    assert not any(name.endswith("python_stdlib.zip") for name in manifest["first_visit"])
    with page.context.expect_event("request", lambda request: request.url.endswith("python_stdlib.zip")):
        found = in_python(page, "import xml.dom.minidom, wave; wave.__file__ + xml.dom.__file__")
    assert found.count("python314-rest.zip") == 2


def test_of_questions_that_wait_only_the_newest_is_put(page):
    page.evaluate(START)
    outcomes = page.evaluate(
        """([text]) => Promise.all(["# one", "# two", "# three"].map((head) =>
            window.client.check(head + "\\n" + text).then(() => "answered", (error) => error.name)))""",
        [SAMPLE],
    )
    assert outcomes == ["answered", "Superseded", "answered"]


def test_each_asker_keeps_its_own_place(page):
    page.evaluate(START)
    outcomes = page.evaluate(
        """([text]) => Promise.all(["left", "right", "left", "right"].map((asker, number) =>
            window.client.check(`# ${number}\\n${text}`, asker).then(() => "answered", (error) => error.name)))""",
        [SAMPLE],
    )
    assert outcomes == ["answered", "Superseded", "answered", "answered"]


def test_a_check_that_hangs_is_given_up_and_the_next_is_answered(page):
    page.evaluate(START)
    in_python(page, "import boardwright.browser as b\ndef judge(text):\n    while True: pass\nb.judge = judge")
    page.evaluate("window.client.setPatience(300)")
    with pytest.raises(Error, match=r"was not done after 0\.3 s and was stopped"):
        page.evaluate(CHECK, SAMPLE)
    page.evaluate("window.client.setPatience(20_000)")
    assert page.evaluate(CHECK, SAMPLE)["headline"] == json.loads(answer(SAMPLE))["headline"]


def test_an_error_of_the_checker_fails_one_check_and_no_more(page):
    page.evaluate(START)
    in_python(page, "import boardwright.browser as b; b.kept = b.judge; b.judge = None")
    with pytest.raises(Error, match="an error of its own, which is no fault of the board: TypeError"):
        page.evaluate(CHECK, SAMPLE)
    in_python(page, "b.judge = b.kept")
    assert page.evaluate(CHECK, SAMPLE)["findings"]


def test_a_newer_text_does_not_wait_for_the_drawings_of_an_older_one(page):
    page.evaluate(START)
    outcomes = page.evaluate(
        """async ([text]) => {
            const first = await window.client.check(text);
            const second = await window.client.check(`# newer\\n${text}`);
            const made = [first, second].map(({ drawings }) => drawings.then(Object.keys, (error) => error.name));
            return Promise.all(made);
        }""",
        [SAMPLE],
    )
    assert outcomes == ["Superseded", list(json.loads(answer(SAMPLE))["drawings"])]


def test_drawings_that_fail_or_hang_leave_the_answer(page):
    page.evaluate(START)
    told = "async text => (await window.client.check(text)).drawings.then(() => 'made', (error) => error.message)"
    in_python(page, "import boardwright.browser as b; b.kept = b.drawn; b.drawn = None")
    assert "an error of its own, which is no fault of the board: TypeError" in page.evaluate(told, SAMPLE)
    in_python(page, "def drawn(board, report):\n    while True: pass\nb.drawn = drawn")
    page.evaluate("window.client.setPatience(1000)")
    assert page.evaluate(told, SAMPLE) == "They were not done after 1 s and were stopped."
    page.evaluate("window.client.setPatience(20_000)")
    assert page.evaluate(CHECK, SAMPLE)["drawings"]


@pytest.mark.parametrize("part", ["**/worker.mjs", "**/*.wasm", "**/pydantic_core-*.bin"])
def test_what_cannot_be_fetched_is_said_and_can_be_tried_again(page, part):
    page.context.route(part, lambda route: route.abort())
    assert "could not be fetched from this site" in page.evaluate(START)["crashed"]
    page.context.unroute(part)
    assert page.evaluate(CHECK, SAMPLE)["findings"]
