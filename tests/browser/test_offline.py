"""The site without a network: what one visit keeps, and that a version comes wholly or not at all."""

import json
import os
import re
import shutil
import threading
import time
from contextlib import suppress
from pathlib import Path

import pytest
from playwright.sync_api import Error, expect
from serve import StaticFiles, server
from test_saved_memory import FROM_MEMORY

from boardwright.browser import answer
from boardwright.site.offline import write_offline

ROOT = Path(__file__).parents[2]
CHECKER = "assets/checker"
BELOW = "/a/site/"
PATIENCE_MS = 120_000
"""For starting Python on a machine that has much else to do."""
SAMPLE = json.loads(answer((ROOT / "demo_boards/spare-room-five-before.yaml").read_text("utf-8")))

KEPT = """async (what) => {
    for (const name of await caches.keys())
        if (name.endsWith(what.version) && await (await caches.open(name)).match(new URL(what.path, what.root))) return true;
    return false;
}"""
WAITING = "async () => Boolean((await navigator.serviceWorker.getRegistration()).waiting)"
IDLE = "new Promise((done) => requestIdleCallback(() => setTimeout(done, 200)))"
SETTLED = "async () => { const it = await navigator.serviceWorker.getRegistration(); return it.active?.state === 'activated' && !it.installing }"


STOPPED = """() => new Promise((resolve) => {
    addEventListener("securitypolicyviolation", (event) => resolve(event.effectiveDirective), { once: true });
    TRY
})"""


class Host:
    """A static host below a path, which can be given another version of the site, break single files, and go away."""

    def __init__(self, site: Path):
        self.site = site
        self.broken: dict[str, bytes | None] = {}
        self.asked: list[str] = []
        host = self

        class Files(StaticFiles):
            def do_GET(self):
                if host.listening is None:  # gone, though the browser still has a connection open
                    self.close_connection = True
                    return None
                path = self.path.partition("?")[0].removeprefix(BELOW)
                host.asked.append(path)
                if path not in host.broken:
                    return super().do_GET()
                instead = host.broken[path]
                if instead is None:
                    return self.send_error(404)
                self.send_response(200)
                self.send_header("Content-Length", str(len(instead)))
                self.end_headers()
                return self.wfile.write(instead)

            def translate_path(self, path):
                self.directory = str(host.site)
                return super().translate_path("/" + path.removeprefix(BELOW) if path.startswith(BELOW) else "/nothing")

        self.listening = server(site, files=Files)
        self.url = f"http://127.0.0.1:{self.listening.server_port}{BELOW}"
        threading.Thread(target=self.listening.serve_forever, daemon=True).start()

    def go_away(self):
        if self.listening:
            self.listening.shutdown()
            self.listening.server_close()
        self.listening = None

    @property
    def version(self) -> str:
        return (self.site / "offline.js").read_text("utf-8").split('"')[1]


@pytest.fixture(scope="module")
def versions(tmp_path_factory):
    """The built site, and another version of it, of which every page and a script have changed."""
    built = ROOT / "site"
    assert (built / "offline.js").exists(), "The site has not been built. `make site` builds it."
    newer = tmp_path_factory.mktemp("newer") / "site"
    shutil.copytree(built, newer, copy_function=os.link)
    for page in [*newer.rglob("*.html"), newer / CHECKER / "page.mjs"]:
        text = page.read_text("utf-8")
        page.unlink()  # it is a link to the built site's own
        page.write_text(text.replace("<title>", "<title>Newer: ") if page.suffix == ".html" else text + "\ndocument.body.dataset.newer = '';\n", "utf-8")
    for file in ("offline.js", "offline.json"):
        (newer / file).unlink()
    write_offline(newer, ROOT / "checker/browser/dist", CHECKER)
    return built, newer


@pytest.fixture
def host(versions):
    listening = Host(versions[0])
    yield listening
    listening.go_away()


@pytest.fixture
def page(browser):
    context = browser.new_context()
    context.set_default_timeout(PATIENCE_MS)
    yield context.new_page()
    context.close()


def until(page, condition, argument=None):
    """Playwright's own waiting takes any promise for an answer."""
    ends = time.monotonic() + PATIENCE_MS / 1000
    while not page.evaluate(condition, argument):
        assert time.monotonic() < ends, condition
        page.wait_for_timeout(100)


def shows(page, selector, text=""):
    expect(page.locator(selector)).to_contain_text(text, timeout=PATIENCE_MS)


def reads_on_until_newer(page, host):
    """The browser takes a moment to forget a page that was left; until it has, the newer version waits for the next page."""
    for path in ("lessons/labels/", "lessons/one-earth/") * 20:
        with suppress(Error):  # the page may be loading itself once more just now
            page.goto(host.url + path)
        with suppress(AssertionError):
            return expect(page).to_have_title(re.compile("^Newer"))
    raise AssertionError("the newer version does not take over")


def visit(page, host, path):
    """Opens a page, lets it keep what it keeps, and gives it some of the time that a reader would."""
    page.goto(host.url + path)
    if path == "checker/":
        shows(page, ".bw-headline", SAMPLE["headline"])
    until(page, KEPT, {"version": host.version, "root": host.url, "path": "?has=checker" if path == "checker/" else "offline.json"})
    until(page, SETTLED)


LACKING = """async (addresses) => {
    const asked = new Map(), lacking = [];
    const get = (url) => asked.get(url) ?? asked.set(url, fetch(url).then((got) => got.ok ? got.text() : null, () => null)).get(url);
    for (const address of addresses) {
        const page = new DOMParser().parseFromString(await get(address) ?? "", "text/html");
        if (!page.title.includes("Boardwright") || page.querySelectorAll("h1").length !== 1) lacking.push(address);
        for (const part of page.querySelectorAll("script[src], img[src], link[rel=stylesheet]")) {
            const url = new URL(part.getAttribute("src") ?? part.getAttribute("href"), address).href;
            if (await get(url) === null) lacking.push(`${address}: ${url}`);
        }
    }
    return lacking;
}"""
"""Of pages, those that cannot be had whole: with their scripts, pictures and sheets."""


def addresses(folder):
    return sorted(f"{file.parent.relative_to(ROOT / 'site').as_posix()}/" for file in (ROOT / "site" / folder).rglob("index.html"))


def test_after_one_visit_to_the_checker_everything_works_without_a_network(page, host):
    visit(page, host, "checker/")
    assert f"{CHECKER}/pyodide-314.0.7/python_stdlib.zip" not in host.asked
    host.go_away()
    missing = []
    # A page that is left at once breaks off what it was still fetching: nothing is missing because of that. Answers from the
    # build are not kept, for the checker is; whether it is asked for one depends on which of them comes first.
    page.on("requestfailed", lambda request: request.failure == "net::ERR_ABORTED" or request.url.endswith(".answer.json") or missing.append((request.url, request.failure)))
    lessons, examples, rules = map(addresses, ("lessons", "examples", "reference/rules"))
    assert len(lessons) > 16 and len(examples) > 20 and len(rules) > 80
    for path in ("", lessons[0], examples[0], rules[0], "reference/language/"):
        page.goto(host.url + path)
        assert "Boardwright" in page.title() and page.locator("h1").count() == 1, path
    assert page.evaluate(LACKING, [host.url + path for path in [*lessons, *examples, *rules, "cautions/"]]) == []
    # An address without its last slash, which a host would mend.
    page.goto(host.url + "lessons/current?from=somewhere#keep")
    assert page.url == f"{host.url}lessons/current/#keep"

    page.goto(host.url + "checker/")
    shows(page, ".bw-headline", SAMPLE["headline"])
    shows(page, ".bw-state", "Up to date")
    shows(page, ".cm-content")
    page.goto(host.url + "lessons/current/")
    page.locator(".bw-exercise textarea").focus()
    shows(page, ".bw-exercise .bw-headline")
    assert missing == []


@pytest.mark.parametrize("path", ["checker/", "fault-finder/"])
def test_a_page_that_starts_the_checker_keeps_nothing_before_it_has_answered(page, host, path):
    page.route("**/worker.mjs", lambda route: None)
    page.goto(host.url + path)
    page.evaluate(IDLE)
    assert "offline.js" not in host.asked


def test_the_next_visit_starts_from_memory(page, host):
    page.add_init_script("for (const [name, value] of [['deviceMemory', 8], ['hardwareConcurrency', 4]]) Object.defineProperty(navigator, name, { value })")
    with page.expect_event("worker", lambda worker: worker.url.endswith("/saver.mjs"), timeout=PATIENCE_MS) as saving:
        visit(page, host, "checker/")
    ends = time.monotonic() + PATIENCE_MS / 1000
    while saving.value in page.workers and time.monotonic() < ends:
        page.wait_for_timeout(100)
    host.go_away()
    page.goto(host.url + "checker/")
    shows(page, ".bw-state", "Up to date")
    assert page.evaluate(FROM_MEMORY.replace("./assets", "../assets"))


def test_a_reader_of_lessons_keeps_all_pages_and_is_spared_the_checker(page, host):
    visit(page, host, "lessons/current/")
    listed = json.loads((host.site / "offline.json").read_text("utf-8"))
    assert not set(listed["checker"]) & set(host.asked)
    host.go_away()
    for path in ("lessons/one-earth/", "examples/saltmarsh-tour/", ""):
        page.goto(host.url + path)
        assert page.locator("h1").count() == 1
    page.goto(host.url + "checker/")
    shows(page, ".bw-note--bad", "could not be fetched from this site")


def test_a_reader_who_spares_the_line_keeps_nothing(page, host):
    page.add_init_script("Object.defineProperty(navigator, 'connection', {value: {saveData: true}})")
    page.goto(host.url + "lessons/current/")
    page.wait_for_load_state("networkidle")
    page.evaluate(IDLE)
    assert page.evaluate("navigator.serviceWorker.getRegistrations().then((all) => all.length)") == 0
    assert "offline.js" not in host.asked


def test_a_new_version_replaces_the_old_one_when_all_of_it_is_there(page, host, versions):
    visit(page, host, "checker/")
    older = host.version
    host.site = versions[1]
    page.goto(host.url + "lessons/current/")
    assert not page.title().startswith("Newer")  # what was asked for comes from the version that is whole
    until(page, WAITING)
    assert page.evaluate(KEPT, {"version": host.version, "root": host.url, "path": "?has=checker"})
    reads_on_until_newer(page, host)
    until(page, SETTLED)
    assert page.evaluate("caches.keys()") == [f"boardwright {host.url} {host.version}"] and host.version != older
    host.go_away()
    page.goto(host.url + "checker/")
    assert page.title().startswith("Newer")
    shows(page, "body[data-newer] .bw-headline", SAMPLE["headline"])


COMES_TO = """async () => {
    const it = await navigator.serviceWorker.getRegistration();
    const coming = it.installing ?? await new Promise((found) => it.addEventListener("updatefound", () => found(it.installing)));
    await new Promise((done) => coming.state === "redundant" ? done() : coming.addEventListener("statechange", () => done()));
    return coming.state;
}"""
BROKEN = {"missing": None, "cut short": b"<!doctype html><html><head><title>Newer: half a page", "of another version": "older"}


def test_a_version_that_comes_in_pieces_is_not_used(page, host, versions):
    visit(page, host, "lessons/current/")
    host.site = versions[1]
    lost = "lessons/two-paths/"
    for how, body in BROKEN.items():
        host.broken[lost] = (versions[0] / lost / "index.html").read_bytes() if body == "older" else body
        host.asked.clear()
        page.goto(host.url + "lessons/labels/")
        assert page.evaluate(COMES_TO) == "redundant" and lost in host.asked, how
        page.context.set_offline(True)
        for path in ("lessons/current/", "lessons/labels/", lost, ""):
            page.goto(host.url + path)
            assert not page.title().startswith("Newer") and page.locator("h1").count() == 1, how
        page.context.set_offline(False)

    # Mended, it comes after all.
    host.broken.clear()
    page.goto(host.url + "lessons/current/")
    until(page, WAITING)
    reads_on_until_newer(page, host)
    page.goto(host.url + lost)
    assert page.title().startswith("Newer")


SPOIL = """async ({ root, path, body }) => {
    for (const name of await caches.keys()) await (await caches.open(name)).put(new URL(path, root), new Response(body, { headers: { "Content-Type": "text/html" } }));
}"""
MENDED = """async ({ root, path }) => {
    for (const name of await caches.keys()) {
        const kept = await (await caches.open(name)).match(new URL(path, root));
        if (kept && (await kept.text()).includes("<h1")) return true;
    }
    return false;
}"""


def test_a_kept_file_that_has_gone_bad_is_right_with_the_next_visit(page, host):
    visit(page, host, "lessons/current/")
    spoiled = {"lessons/labels/": "", "lessons/one-earth/": "<p>rubbish", "offline.json": "{"}
    for path, body in spoiled.items():
        page.evaluate(SPOIL, {"root": host.url, "path": path, "body": body})
    page.goto(host.url + "lessons/labels/")
    assert page.locator("h1").count() == 0
    for path in ("lessons/labels/", "lessons/one-earth/"):  # of the second, nobody has asked again
        until(page, MENDED, {"root": host.url, "path": path})
        page.goto(host.url + path)
        assert page.locator("h1").count() == 1


def test_a_new_version_waits_while_another_page_of_the_old_one_is_open(page, host, versions):
    visit(page, host, "lessons/current/")
    host.site = versions[1]
    other = page.context.new_page()
    other.goto(host.url + "lessons/labels/")
    until(other, WAITING)
    for path in ("lessons/one-earth/", "lessons/labels/"):
        other.goto(host.url + path)
        other.wait_for_load_state("networkidle")
        assert not other.title().startswith("Newer")
    page.close()
    reads_on_until_newer(other, host)


def test_the_kept_checker_comes_with_a_policy_of_its_own(page, host):
    """A page's policy does not govern a worker: that comes with the worker's own file."""
    visit(page, host, "checker/")
    page.goto(host.url + "cautions/")
    sent = page.evaluate("fetch('../assets/checker/worker.mjs').then((worker) => worker.headers.get('Content-Security-Policy'))")
    assert sent == "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; connect-src 'self'"
    page.goto(host.url + "checker/")
    shows(page, ".bw-state", "Up to date")  # said by the worker, and not by the answer from the build
    worker = next(each for each in page.workers if each.url.endswith("/worker.mjs"))
    for attempt, directive in (("fetch('http://127.0.0.2:9/board').catch(() => {})", "connect-src"), ("setTimeout('0')", "script-src")):
        assert worker.evaluate(STOPPED.replace("TRY", attempt)) == directive
