"""Hostile visits by number: what comes to a page by its editor, by links, by files, and out of what the browser keeps."""

from __future__ import annotations

import json
import random
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote

import chromium
from playwright.sync_api import sync_playwright
from serve import serving

from fuzz.at_page import editor_text
from fuzz.damage import damaged_link, damaged_state, linked
from fuzz.page import BOARD, CHECKED, CHECKER, EXERCISE, FAULT_FINDER, FRAME, HUNT, LESSON, Reader, Wrong, as_edited, texts_in
from fuzz.texts import BOARDS, LETTERS, SCRIPTS, hostile

SITE = Path(__file__).parents[2] / "site"
GOOD = (Path(__file__).parents[2] / "demo_boards/spare-room-five.yaml").read_text("utf-8")
LINKS = 12
"""In one visit, one after the other."""
RELOADS = 8
"""After so many visits a file that has gone bad must have been found: each brings the files that the next ones ask for."""
LOOKED_OVER_MS = 4000
"""What was served is looked over three seconds later; see ``checker/browser/offline.js``."""
LONGEST = 1_000_000


@dataclass(frozen=True)
class Visited:
    number: int
    kind: str
    seconds: float
    """For which the page's own thread was busy with the longest of what was done."""
    megabytes: float
    wrong: str


@contextmanager
def reader_of(site: Path = SITE) -> Iterator[Reader]:
    """Somebody who reads the built site, in a browser of their own."""
    with serving(site) as address, sync_playwright() as playwright:
        browser = chromium.launch(playwright)
        try:
            yield Reader(browser, address)
        finally:
            browser.close()


def try_visit(reader: Reader, number: int) -> Visited:
    kind = list(KINDS)[number % len(KINDS)]
    with reader.visiting():
        KINDS[kind](random.Random(number), reader)
    return Visited(number, kind, reader.busiest, reader.megabytes, "; ".join(reader.wrong[:3]))


def _text(chance: random.Random) -> str:
    """A hostile text, but for crowds: those only keep the checker busy, and are tried without a page."""
    while True:
        kind, text = hostile(chance.randrange(1_000_000))
        if kind != "a crowd":
            return text


def _words(chance: random.Random) -> str:
    return chance.choice([*SCRIPTS, *LETTERS, "x" * 100_000])


def _answers_well(reader: Reader) -> None:
    """A good board is checked as ever."""
    reader.writes(GOOD)
    reader.until(lambda: reader.shows(".bw-headline:has-text('Nothing wrong found')"), "a good board is found good")


def _must(holds: bool, what: str) -> None:
    if not holds:
        raise Wrong(f"missing: {what}")


# ---- texts


def _pasted(chance: random.Random, reader: Reader) -> None:
    reader.goes(CHECKER)
    reader.answered()
    with reader.timed():
        written = reader.writes(_text(chance))
    with reader.timed():
        reader.page.keyboard.press(chance.choice(["Control+End", "Control+Home", "ArrowLeft"]))
        reader.page.keyboard.insert_text(typed := chance.choice(["# mine", "x", "\n  ", *LETTERS[:4]]))
        reader.until(lambda: len(reader.text()) == len(written.encode("utf-16")) // 2 - 1 + len(typed) or reader.text() != written, "what was typed is in the editor")
    written = reader.text()
    _must(written in reader.texts()[1:] or reader.complains(), "what was pasted is kept, or words why not")
    reader.looks()
    with reader.timed():
        reader.goes(CHECKER)
        reader.until(lambda: reader.text() == written, "the text is there again")
        reader.answered()
    _answers_well(reader)
    _must(written in reader.texts(), "the text, behind a newer one")


def _linked(chance: random.Random, reader: Reader) -> None:
    text = _text(chance)
    place = chance.choice([CHECKER, FRAME])
    with reader.timed():
        reader.goes(f"{place}{linked(text)}&title={quote(_words(chance))}")
        if place == FRAME:
            reader.until(lambda: reader.page.locator("main pre").count(), "the text of the link")
            _must(as_edited(reader.page.locator("main pre").text_content() or "") == as_edited(text), "the text of the link, letter by letter")
        else:
            reader.until(lambda: reader.text() == as_edited(text), "the text of the link, letter by letter")
            reader.judged(as_edited(text))
    reader.looks()
    if place == FRAME:
        reader.page.get_by_role("button", name="Check it here").click()
        reader.until(lambda: not reader.shows(".bw-frame__said:has-text('Getting the checker ready')"), "an answer in the frame")
        reader.looks()
        reader.goes(CHECKER)
    keeps_boards(reader)
    _answers_well(reader)


def _from_file(chance: random.Random, reader: Reader) -> None:
    reader.goes(CHECKER)
    reader.answered()
    before = reader.text()
    boards = [json.loads(raw) for key, raw in reader.stored["local"].items() if key.startswith(BOARD)]
    text = _text(chance)
    content = chance.choice([text, damaged_state(chance, json.dumps({"format": "boardwright-boards/1", "boards": boards * 3}), text)])
    raw = bytearray(content.encode("utf-8", "surrogatepass"))
    if chance.random() < 0.3:
        raw[chance.randrange(len(raw) + 1) :] = chance.randbytes(9)
    reader.page.get_by_role("button", name="Boards", exact=True).click()
    with reader.timed():
        name = chance.choice(["a.yaml", "<b>.json", "\u202etxt.yaml", "x" * 200])
        reader.page.locator("input[type=file]").set_input_files({"name": name, "mimeType": "text/plain", "buffer": bytes(raw)})
        reader.until(lambda: reader.complains() or reader.text() != before, "the file is opened, or words why not")
    reader.looks()
    keeps_boards(reader)
    _answers_well(reader)


# ---- links


def _bad_links(chance: random.Random, reader: Reader) -> None:
    reader.goes(CHECKER)
    reader.answered()
    board = chance.choice(BOARDS)
    for _ in range(LINKS):
        before = reader.text()
        link, whole = damaged_link(chance, board)
        reader.page.evaluate("document.querySelector('.bw-desk__note [role=status]').textContent = ''")
        with reader.timed():
            reader.page.evaluate("hash => { location.hash = hash }", link)
            reader.until(lambda whole=whole: reader.complains() or reader.text() == whole, f"words about the link {link[:60]}")
        # What is damaged is told, and never opens as another board.
        _must(reader.text() in (before, whole), f"the text that was there before the link {link[:60]}")
    reader.goes(f"{CHECKER}{link}&title={quote(_words(chance))}")
    reader.answered()
    keeps_boards(reader)
    _answers_well(reader)


# ---- what the browser keeps


def _spoiled(chance: random.Random, reader: Reader, *ours: str) -> dict[str, dict[str, str]]:
    """What the browser kept, with damage to some of it, and with entries that nobody has made."""
    stored = {kind: dict(entries) for kind, entries in reader.stored.items()}
    hit = [(kind, key) for kind, entries in stored.items() for key in sorted(entries) if key.startswith(ours) or not key.startswith("boardwright")]
    for kind, key in chance.sample(hit, chance.randrange(1, len(hit) + 1)):
        stored[kind][key] = damaged_state(chance, stored[kind][key], _text(chance))
    return stored


def keeps_boards(reader: Reader, stored: dict[str, dict[str, str]] | None = None) -> None:
    """Every board that was kept is still there: its text under its name, or the whole entry where it cannot be read."""
    now, (_, *found) = reader.kept()["local"], reader.texts()
    for key, raw in (stored or reader.stored)["local"].items():
        if key.startswith(BOARD) and now.get(key) != raw:
            _must(bool(texts_in(raw)) and all(as_edited(text) in found for text in texts_in(raw)), f"what was kept as {key[:60]}")


def _store(reader: Reader, stored: dict[str, dict[str, str]]) -> dict[str, dict[str, str]]:
    """Puts it into the browser. What the theme keeps is right again with the second page."""
    reader.keeps(stored)
    if any(reader.stored["local"].get(key) != raw for key, raw in stored["local"].items() if not key.startswith("boardwright")):
        reader.goes("cautions/")
        reader.complaints.clear()
    return reader.kept()


def _spoiled_boards(chance: random.Random, reader: Reader) -> None:
    stored = _spoiled(chance, reader, BOARD, "boardwright/open", CHECKED)
    mine = next(raw for key, raw in reader.stored["local"].items() if key.startswith(BOARD))
    for _ in range(chance.randrange(6)):
        name = chance.choice(["", "__proto__", "a/b", *SCRIPTS, *LETTERS, "x" * 5000, f"n{chance.randrange(99)}"])
        stored["local"][BOARD + name] = chance.choice([mine, damaged_state(chance, mine, _text(chance))])
    stored = _store(reader, stored)
    with reader.timed():
        reader.goes(CHECKER)
        reader.answered()
    reader.page.get_by_role("button", name="Boards", exact=True).click()
    reader.looks()
    keeps_boards(reader, stored)
    _answers_well(reader)
    keeps_boards(reader, stored)


def _spoiled_hunt(chance: random.Random, reader: Reader) -> None:
    stored = _store(reader, _spoiled(chance, reader, HUNT, CHECKED))
    known = [text for text in (*texts_in(stored["session"].get(HUNT, "")), stored["session"].get(CHECKED)) if text]
    with reader.timed():
        reader.goes(FAULT_FINDER)
        box = reader.page.locator("#hunt-text")
        reader.until(lambda: reader.shows(".bw-hunt__kind, .bw-hunt__test, .bw-note--bad"), "a choice of symptoms, a test, or words why there is none")
    if known:
        _must(box.input_value() == as_edited(known[0]), "the board that was hunted, or checked, last")
    reader.looks()
    reader.page.locator(".bw-hunt__board summary").click()
    box.fill(GOOD)
    box.blur()
    reader.until(lambda: GOOD in texts_in(reader.kept()["session"].get(HUNT, "")), "a good board in the fault finder")
    reader.page.locator(".bw-hunt__kind").first.click()
    reader.page.locator(".bw-hunt__go").click()
    reader.page.locator("[data-does=good]").wait_for()


def _spoiled_exercise(chance: random.Random, reader: Reader) -> None:
    stored = _store(reader, _spoiled(chance, reader, EXERCISE))
    raw = next((raw for key, raw in stored["local"].items() if key.startswith(EXERCISE)), "")
    written = [text for text in texts_in(raw)[:1] if len(text.encode("utf-16", "surrogatepass")) // 2 - 1 <= LONGEST]
    with reader.timed():
        reader.goes(LESSON)
        reader.page.locator(".bw-exercise textarea").focus()
        reader.until(lambda: reader.up_to_date() or reader.complains(), "an answer, or words why there is none")
        reader.page.locator(".bw-exercise .cm-content").wait_for()
    for text in written:
        _must(editor_text(reader.page) == as_edited(text), "the text of the exercise")
    _must(reader.shows(".bw-marking__count"), "how many are mended")
    reader.looks()
    reader.page.get_by_role("button", name="Begin again").click()
    reader.until(lambda: reader.shows(".bw-marking__count:has-text('0 of')"), "the exercise as it was at first")
    keeps_boards(reader, stored)


# ---- the files that are kept

SPOIL_CACHE = """async (spoiled) => {
    for (const cache of (await caches.keys()).filter((name) => name.startsWith("boardwright ")))
        for (const { path, how, at } of spoiled) {
            const files = await caches.open(cache), url = new URL("../" + path, location), kept = await files.match(url);
            if (how === "gone") await files.delete(url);
            else if (kept) {
                let bytes = new Uint8Array(await kept.arrayBuffer());
                const place = Math.floor(at * bytes.length);
                if (how === "cut") bytes = bytes.slice(0, place);
                if (how === "turned" && bytes.length) bytes[place] ^= 1;
                if (how === "rubbish") bytes = bytes.map((byte, index) => byte ^ (index * 97));
                if (how === "another's") bytes = new TextEncoder().encode("<!doctype html><title>Another</title><script src='x.js'></script>");
                await files.put(url, new Response(bytes, { headers: kept.headers }));
            }
        }
}"""
SPOIL_MEMORY = """async ({ how, at }) => {
    const root = await navigator.storage.getDirectory();
    if (how === "no folder") return root.removeEntry("boardwright-memory", { recursive: true });
    const folder = await root.getDirectoryHandle("boardwright-memory");
    const [name] = await Array.fromAsync(folder.keys());
    let bytes = new Uint8Array(await (await (await folder.getFileHandle(name)).getFile()).arrayBuffer());
    const place = Math.floor(at * bytes.length);
    const write = async (name, bytes) => {
        const file = await (await folder.getFileHandle(name, { create: true })).createWritable();
        await file.write(bytes);
        await file.close();
    };
    if (how === "names") for (const other of ["x", "..x", `${name}.${name}`, `${name.split(".")[0]}.`, "\\u202e.\\u202e"]) await write(other, bytes.slice(0, 99));
    if (how === "a folder of its name") {
        await folder.removeEntry(name);
        return folder.getDirectoryHandle(name, { create: true });
    }
    if (how === "cut") bytes = bytes.slice(0, place);
    if (how === "turned") bytes[place] ^= 1;
    if (how === "rubbish") bytes = bytes.map((byte, index) => byte ^ (index * 97));
    if (how === "nothing, under its own hash") {
        bytes = bytes.slice(0, place).fill(0);
        const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes), 0, 16);
        await folder.removeEntry(name);
        return write(`${name.split(".")[0]}.${[...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("")}`, bytes);
    }
    return write(name, bytes);
}"""


def _spoiled_cache(chance: random.Random, reader: Reader) -> None:
    reader.has_files()
    listed = json.loads((SITE / "offline.json").read_text("utf-8"))
    paths = [*listed["pages"], *listed["checker"], "offline.json", "?has=checker"]
    needed = [path for path in paths if path.startswith(("checker/", "assets/")) or "?" in path or path == "offline.json"]
    hit = chance.choice([chance.sample(needed, 1), chance.sample(needed, 3), chance.sample(paths, 20), needed, paths])
    hows = chance.sample(["cut", "turned", "rubbish", "gone", "another's"], chance.choice([1, 3]))
    reader.page.evaluate(SPOIL_CACHE, [{"path": path, "how": chance.choice(hows), "at": chance.choice([0, chance.random()])} for path in hit])
    reader.forget_worker()
    try:
        for _ in range(RELOADS):
            reader.complaints.clear()
            reader.goes(CHECKER)
            with suppress(Wrong):  # a page of which a part is missing may have nothing to say
                reader.until(lambda: reader.up_to_date() or reader.complaints or reader.shows(".bw-note--bad"), "an answer", seconds=20)
            if reader.up_to_date() and reader.page.locator(".cm-content").count() and not reader.complaints:
                break
            reader.page.wait_for_timeout(LOOKED_OVER_MS)
        else:
            raise Wrong(f"after {RELOADS} visits the page still does not work: {'; '.join(reader.complaints[:2])}")
        keeps_boards(reader)
        _answers_well(reader)
    finally:
        reader.restore()


def _spoiled_memory(chance: random.Random, reader: Reader) -> None:
    reader.has_files()
    how = chance.choice(["cut", "turned", "rubbish", "names", "no folder", "a folder of its name", "nothing, under its own hash"])
    reader.page.evaluate(SPOIL_MEMORY, {"how": how, "at": chance.choice([0, chance.random()])})
    try:
        reader.goes(CHECKER)
        reader.answered()
        _must(reader.up_to_date(), f"an answer, the memory being spoiled ({how})")
        keeps_boards(reader)
        _answers_well(reader)
    finally:
        reader.restore()


KINDS: dict[str, Callable[[random.Random, Reader], None]] = {
    "a text pasted": _pasted,
    "a text in a link": _linked,
    "a text or boards in a file": _from_file,
    "damaged links": _bad_links,
    "kept boards spoiled": _spoiled_boards,
    "a kept hunt spoiled": _spoiled_hunt,
    "a kept exercise spoiled": _spoiled_exercise,
    "kept files spoiled": _spoiled_cache,
    "the checker's memory spoiled": _spoiled_memory,
}
