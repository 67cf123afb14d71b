"""The checker started from the memory of an earlier visit: it says the same, and what is damaged or unfit is not used."""

import json
from pathlib import Path

import pytest
from playwright.sync_api import Error
from test_runtime import CHECK, START, TEXTS, WHOLE, in_python, same

from boardwright.browser import answer

ROOT = Path(__file__).parents[2]
SAMPLE = (ROOT / "demo_boards/spare-room-five-before.yaml").read_text("utf-8")

SAVE = """() => new Promise((resolve) => {
    const saver = new Worker("./assets/checker/saver.mjs", { type: "module" });
    saver.onmessage = ({ data }) => data.kind === "saved" && resolve(data.bytes);
})"""

FOLDER = """async () => {
    window.folder = await (await navigator.storage.getDirectory()).getDirectoryHandle("boardwright-memory", { create: true });
    window.names = () => Array.fromAsync(window.folder.keys());
    window.write = async (name, bytes) => {
        for (const old of await window.names()) await window.folder.removeEntry(old);
        const file = await (await window.folder.getFileHandle(name, { create: true })).createWritable();
        await file.write(bytes);
        await file.close();
    };
    const [name] = await window.names();
    const bytes = new Uint8Array(await (await (await window.folder.getFileHandle(name)).getFile()).arrayBuffer());
    window.saved = { version: name.split(".")[0], digest: name.split(".")[1], bytes };
}"""
RESTORE = "() => window.write(`${window.saved.version}.${window.saved.digest}`, window.saved.bytes)"
NAMES = "() => window.names()"

CHANGES = {
    "a byte": "const bytes = saved.bytes.slice(); bytes[bytes.length >> 1] ^= 1; return write(`${saved.version}.${saved.digest}`, bytes);",
    "half": "return write(`${saved.version}.${saved.digest}`, saved.bytes.slice(0, saved.bytes.length >> 1));",
    "of another version": "return write(`0000.${saved.digest}`, saved.bytes);",
    "of nothing": """
        const bytes = saved.bytes.slice().fill(0, 1 << 20);
        const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes), 0, 16);
        return write(`${saved.version}.${[...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("")}`, bytes);""",
}

FROM_MEMORY = """() => new Promise((resolve, reject) => {
    const worker = new Worker("./assets/checker/worker.mjs", { type: "module" });
    worker.onmessage = ({ data }) => {
        if (data.kind === "failed") reject(new Error(data.message));
        if (data.kind === "ready") { worker.terminate(); resolve(data.from_memory); }
    };
})"""
"""Whether a checker that is started now starts from memory."""


START_ALONE = """() => new Promise((resolve) => {
    window.alone = new Worker("./assets/checker/worker.mjs", { type: "module" });
    window.alone.onmessage = ({ data }) => data.kind === "ready" && resolve();
})"""
CHECK_ALONE = """() => new Promise((resolve) => {
    window.alone.onmessage = ({ data }) => resolve(data);
    window.alone.postMessage({ kind: "check", id: 1, text: "" });
})"""
"""What is heard of a check first."""


@pytest.fixture(scope="module")
def saved(browser, checker_url):
    """A page in a profile of its own, in which memory has been saved."""
    context = browser.new_context()
    opened = context.new_page()
    opened.goto(checker_url)
    assert opened.evaluate(SAVE) > 30_000_000
    opened.evaluate(FOLDER)
    yield opened
    context.close()


@pytest.fixture(scope="module")
def remembering(saved):
    """The same page, whose checker was started from memory, for tests that leave it in order."""
    assert saved.evaluate(FROM_MEMORY)
    saved.evaluate(START)
    return saved


@pytest.fixture
def page(saved):
    """The same page, with the memory as it was saved."""
    saved.evaluate(RESTORE)
    yield saved
    saved.context.unroute_all()


def change(page, how):
    page.evaluate("async () => { const { saved, write } = window; " + CHANGES[how] + " }")


@pytest.mark.parametrize("text", [*WHOLE[::12], *TEXTS[-2:]])
def test_it_says_what_the_command_line_says(remembering, text):
    same(remembering.evaluate(CHECK, text), json.loads(answer(text)), "answer")


def test_modules_that_no_check_loads_are_fetched_here_too(remembering):
    found = in_python(remembering, "import xml.dom.minidom, wave; wave.__file__ + xml.dom.__file__")
    assert found.count("python314-rest.zip") == 2


def test_it_is_saved_once_and_only_for_its_own_version(page):
    (kept,) = page.evaluate(NAMES)
    assert page.evaluate(SAVE) == 0
    assert page.evaluate(NAMES) == [kept]
    change(page, "of another version")
    assert not page.evaluate(FROM_MEMORY)
    page.evaluate(SAVE)
    (newer,) = page.evaluate(NAMES)
    assert newer.partition(".")[0] == kept.partition(".")[0]


@pytest.mark.parametrize("how", ["a byte", "half"])
def test_damaged_memory_is_not_used_and_may_be_saved_anew(page, how):
    change(page, how)
    assert not page.evaluate(FROM_MEMORY)
    assert page.evaluate(NAMES) == []


def test_memory_that_does_not_work_here_is_given_up(page):
    change(page, "of nothing")
    assert not page.evaluate(FROM_MEMORY)
    (left,) = page.evaluate(NAMES)
    assert left.endswith(".unfit")
    assert page.evaluate(SAVE) == 0
    assert not page.evaluate(FROM_MEMORY)


def test_a_checker_that_breaks_gives_its_memory_up(page):
    """Not an error of Python's, of which there is an answer: the interpreter itself is gone."""
    page.evaluate(START_ALONE)
    page.workers[-1].evaluate("() => self.boardwright._module.HEAPU8.fill(0)")
    heard = page.evaluate(CHECK_ALONE)
    assert (heard["kind"], heard["id"]) == ("failed", None)
    (left,) = page.evaluate(NAMES)
    assert left.endswith(".unfit")


@pytest.mark.parametrize("part", ["**/*.wasm", "**/pydantic_core-*.bin", "**/library-*.bin"])
def test_what_cannot_be_fetched_is_said_and_the_memory_stays(page, part):
    page.context.route(part, lambda route: route.abort())
    with pytest.raises(Error, match="could not be fetched from this site"):
        page.evaluate(FROM_MEMORY)
    page.context.unroute(part)
    assert page.evaluate(FROM_MEMORY)


def test_a_browser_that_keeps_nothing_starts_the_checker_all_the_same(page):
    without = "delete StorageManager.prototype.getDirectory;"
    page.context.route("**/worker.mjs", lambda route: route.fulfill(response=(sent := route.fetch()), body=without + sent.text()))
    assert not page.evaluate(FROM_MEMORY)
    assert len(page.evaluate(NAMES)) == 1
