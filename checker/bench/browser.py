"""The browser's part of the bench: how long a reader waits, and what travels.

Seconds depend on the machine and on what else it does, so waiting is measured as a ratio: each run starts a bare Pyodide and
the checker one after the other, each in a Chromium with an empty profile, and the runs' ratios are what counts.
"bare" is the `pyodide` package as npm has it, started by `loadPyodide()` and no more. It compiles its standard library from
source at every start; what a start costs without that is measured too, as the harder rival.
"""

from __future__ import annotations

import gzip
import json
import re
import shutil
import statistics
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from urllib.parse import unquote, urlsplit

import brotli
import chromium
from playwright.sync_api import Page, sync_playwright
from serve import StaticFiles, serving

from bench.boards import board
from bench.table import Row, milliseconds, ratio

ROOT = Path(__file__).parents[2]
BROWSER = ROOT / "checker/browser"
SITE = ROOT / "site"

RUNS = 7
EDITS = 60
PAUSE_MS = 2000
"""Between first and second visit: the browser writes compiled code to its cache in its own time."""

BARE = 'import { loadPyodide } from "./pyodide/pyodide.mjs";\nawait loadPyodide({});\npostMessage({ kind: "ready" });\n'
COMPILED = BARE.replace("{}", '{ stdLibURL: new URL("./library.zip", import.meta.url).href }')

START = """([worker, text]) => new Promise((resolve, reject) => {
    const began = performance.now();
    window.worker = new Worker(worker, { type: "module" });
    window.worker.onerror = (event) => reject(new Error(event.message));
    window.worker.onmessage = ({ data }) => {
        if (data.kind === "failed") reject(new Error(data.message));
        else if (data.kind === "ready" && text) window.worker.postMessage({ kind: "check", id: 0, text });
        else if (data.kind === "ready" || data.kind === "answer") resolve((performance.now() - began) / 1000);
    };
})"""
"""Starts a worker and gives the seconds to its first answer, or, without a text, until it is ready."""

ASK = """(texts) => new Promise((resolve, reject) => {
    const answered = [], drawn = [];
    let began;
    const ask = () => {
        began = performance.now();
        window.worker.postMessage({ kind: "check", id: drawn.length, text: texts[drawn.length] });
    };
    window.worker.onmessage = ({ data }) => {
        const seconds = (performance.now() - began) / 1000;
        if (data.kind === "answer") {
            JSON.parse(data.answer);
            answered.push((performance.now() - began) / 1000);
        } else if (data.kind === "drawings") {
            drawn.push(seconds);
            drawn.length < texts.length ? ask() : resolve([answered, drawn]);
        } else reject(new Error(data.message));
    };
    ask();
})"""
"""Asks one text after the other and gives the seconds of each, from asking to an answer that is parsed, and to its drawings."""


class CachedFiles(StaticFiles):
    """As a static host sends them: with leave to keep them for a while."""

    def end_headers(self) -> None:
        self.send_header("Cache-Control", "max-age=600")
        super(StaticFiles, self).end_headers()


served = partial(serving, files=CachedFiles)


def rows() -> Iterator[Row]:
    with tempfile.TemporaryDirectory() as made, sync_playwright() as playwright:
        folder = Path(made)
        (folder / "index.html").write_text("<!doctype html><title>Bench</title>")
        (folder / "bare.mjs").write_text(BARE)
        (folder / "compiled.mjs").write_text(COMPILED)
        (folder / "library.zip").symlink_to(next((BROWSER / "build").glob("checker-*/library.zip")))
        (folder / "pyodide").symlink_to(BROWSER / "node_modules/pyodide")
        (folder / "checker").symlink_to(BROWSER / "dist")
        with served(folder) as address:
            yield from waiting(playwright, address)
            yield from editing(playwright, address)
        yield from travelling(playwright)


def waiting(playwright, address: str) -> Iterator[Row]:
    text = (ROOT / "demo_boards/spare-room-five-before.yaml").read_text()
    bare, compiled, first, second, saving, remembered, kept = [], [], [], [], [], [], []
    for _ in range(RUNS):
        for worker, took in (("./bare.mjs", bare), ("./compiled.mjs", compiled)):
            with profile(playwright) as opened:
                took.append(opened(address).evaluate(START, [worker, None]))
        with profile(playwright) as opened:
            page = opened(address)
            first.append(page.evaluate(START, ["./checker/worker.mjs", text]))
            page.wait_for_timeout(PAUSE_MS)
            page.close()
            page = opened(address)
            second.append(page.evaluate(START, ["./checker/worker.mjs", text]))
            saving.append(page.evaluate(SAVE))
            page.close()
            # The first start from memory finds machine code that is not kept yet, as a second visit would.
            remembered.append(opened(address).evaluate(START, ["./checker/worker.mjs", text]))
        if (SITE / "offline.js").exists():
            kept.append(without_network(playwright, text))
    yield Row(f"bare Pyodide boot, cold, median of {RUNS} runs", f"{statistics.median(bare):.2f} s")
    yield Row("first verdict, cold", f"{statistics.median(first):.2f} s")
    yield ratio("first verdict against bare boot of the same run", paired(first, bare), 1.3, "first-verdict")
    yield Row("first verdict against a bare boot from bytecode", f"{paired(first, compiled):.2f}")
    yield ratio("second visit, from the browser's cache alone, against bare boot", paired(second, bare), 0.8)
    yield ratio("second visit, from saved memory, against bare boot", paired(remembered, bare), 0.8)
    yield Row("saving that memory, in the background, once", f"{statistics.median(saving):.1f} s")
    if kept:
        yield ratio("second visit, without a network, from what the site keeps", paired(kept, bare), 0.8)
    else:
        yield Row("second visit, without a network", "build the site first: make site")


SAVE = """() => new Promise((resolve) => {
    const began = performance.now();
    new Worker("./checker/saver.mjs", { type: "module" }).onmessage = ({ data }) => data.kind === "saved" && resolve((performance.now() - began) / 1000);
})"""

KEPT = """async () => {
    for (const name of await caches.keys()) if (await (await caches.open(name)).match(new URL("../?has=checker", location))) return true;
    return false;
}"""
"""Whether the site has kept the checker."""


def without_network(playwright, text: str) -> float:
    """Seconds to the first answer on a page of the site whose host has gone away, after one visit to the checker."""
    with profile(playwright) as opened:
        with served(SITE) as address:
            page = opened(f"{address}checker/")
            while not page.evaluate(KEPT):
                page.wait_for_timeout(200)
            page.wait_for_timeout(PAUSE_MS)
            page.close()
        return opened(f"{address}cautions/").evaluate(START, ["../assets/checker/worker.mjs", text])


def paired(ours: list[float], bare: list[float]) -> float:
    return statistics.median(our / other for our, other in zip(ours, bare, strict=True))


def editing(playwright, address: str) -> Iterator[Row]:
    boards = {f"{devices} pedals": board(devices) for devices in (5, 25)}
    boards["saltmarsh tour"] = (ROOT / "demo_boards/saltmarsh-tour.yaml").read_text()
    with profile(playwright) as opened:
        page = opened(address)
        page.evaluate(START, ["./checker/worker.mjs", next(iter(boards.values()))])
        for name, text in boards.items():
            answered, drawn = page.evaluate(ASK, [text, *edits(text)])
            yield milliseconds(f"check after an edit, {name}, in the browser, p50 / p95", answered[1:], 100, figure=name.replace(" ", "-"))
            yield milliseconds(f"the same, {name}, until its drawings are there too", drawn[1:])


def edits(text: str) -> Iterator[str]:
    """The text again and again, each time with one more pedal changed: in turn what it draws, and where it stands."""
    lines = text.split("\n")
    pedals = [number for number, line in enumerate(lines) if "kind:" in line and "mA" in line and " at: [" in line]
    for edit in range(EDITS):
        number = pedals[edit * 7 % len(pedals)]
        if edit % 2:
            lines[number] = re.sub(r"(?<= at: \[)\d+", lambda x: str(int(x[0]) + 1), lines[number], count=1)
        else:
            lines[number] = re.sub(r"\d+(\.\d+)?mA", f"{10 + edit}mA", lines[number], count=1)
        yield "\n".join(lines)


@contextmanager
def profile(playwright):
    """A Chromium that has seen nothing yet."""
    folder = Path(tempfile.mkdtemp())
    context = chromium.launch_profile(playwright, folder)

    def opened(address: str) -> Page:
        page = context.new_page()
        page.goto(address)
        page.wait_for_timeout(300)  # for Chromium to finish starting
        return page

    try:
        yield opened
    finally:
        context.close()
        shutil.rmtree(folder, ignore_errors=True)


def travelling(playwright) -> Iterator[Row]:
    """Bytes of every file that a page asks for, packed as hosts pack them."""
    if not (SITE / "checker/index.html").exists():
        yield Row("bytes of a visit", "build the site first: make site")
        return
    with served(SITE) as address:
        kept = json.loads((SITE / "offline.json").read_text())
        for what, path, done, goal in (
            ("first visit to the checker", "checker/", ".bw-state:has-text('Up to date')", 9_000_000),
            ("a lesson page that does not run the checker", "lessons/current/", "h1", 400_000),
        ):
            raw, zipped, brotlied = map(sum, zip(*visit(playwright, address, path, done), strict=True))
            yield Row(f"{what}: bytes, gzip", f"{zipped:,}", f"≤ {goal:,}", zipped <= goal)
            yield Row(f"{what}: bytes, brotli / as they are", f"{brotlied:,} / {raw:,}")
        for what, part in (("any page", "pages"), ("the checker, as well", "checker")):
            raw, zipped, _ = map(sum, zip(*map(sizes, kept[part]), strict=True))
            yield Row(f"kept for use without a network by a visit to {what}: bytes, gzip / as they are", f"{zipped:,} / {raw:,}")


def visit(playwright, address: str, path: str, done: str) -> Iterator[tuple[int, int, int]]:
    with profile(playwright) as opened:
        page = opened("about:blank")
        asked = set()
        # The context hears of what the worker fetches too, and of what is kept for later in the background, which is told apart.
        page.context.on("request", lambda request: None if request.service_worker else asked.add(request.url))
        page.goto(address + path)
        page.wait_for_selector(done)
        page.wait_for_load_state("networkidle")
    for url in sorted(asked):
        assert url.startswith((address, "data:", "blob:")), f"{url} is on another host"
        if url.startswith(address):
            yield sizes(unquote(urlsplit(url).path).lstrip("/"))


def sizes(path: str) -> tuple[int, int, int]:
    """Of a file of the site: as it is, and packed with gzip and with brotli where that makes it smaller."""
    file = SITE / path
    data = (file / "index.html" if file.is_dir() else file).read_bytes()
    return len(data), min(len(data), len(gzip.compress(data, 9))), min(len(data), len(brotli.compress(data)))
