"""A reader's browser that is watched: what the built site's pages do in it, and what they must never do.

It has been at the site before, so a board, a hunt and an exercise are kept in it; the site's files and the checker's memory are from
the first visit on that wants them.
Each visit begins from there, in a tab of its own.
"""

from __future__ import annotations

import json
import os
import signal
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Dialog, Page

from fuzz.at_page import COULD_RUN, editor_text, paste
from fuzz.reader import HANG, SECONDS
from fuzz.texts import MARK

MEGABYTES = 1024
"""Of the tab's whole process; about 450 of them are taken by any tab in which the checker has started from its memory."""
PATIENCE = 1000 * HANG
"""In ms; after so long without what must come a visit is given up."""
MOST = 3 * HANG
"""Seconds after which the tab's process is ended, so that a page which never answers again does not stop the fuzzing."""

PLAIN = "boards/spare-room-five.yaml"
"""A page of the site that is nothing but text, from which its storage can be reached."""
BOARD, EXERCISE, HUNT, CHECKED = "boardwright/board/", "boardwright/exercise/", "boardwright/hunt", "boardwright/checked-board"
CHECKER, FAULT_FINDER, LESSON, FRAME = "checker/", "fault-finder/", "lessons/current/", "frames/board.html"

ROOMY = "for (const [name, value] of [['deviceMemory', 8], ['hardwareConcurrency', 4]]) Object.defineProperty(navigator, name, { value })"
"""A machine on which the checker's memory is saved."""
SAVE = """() => new Promise((resolve) => {
    new Worker("../assets/checker/saver.mjs", { type: "module" }).onmessage = ({ data }) => data.kind === "saved" && resolve();
})"""
HAS_CHECKER = """async () => {
    for (const name of await caches.keys()) if (await (await caches.open(name)).match(new URL("../?has=checker", location))) return true;
    return false;
}"""
STORED = "() => ({ local: { ...localStorage }, session: { ...sessionStorage } })"
STORE = """stored => {
    for (const [storage, entries] of [[localStorage, stored.local], [sessionStorage, stored.session]]) {
        storage.clear();
        for (const [key, value] of Object.entries(entries)) storage.setItem(key, value);
    }
}"""
TOOLS = """async (keep) => {
    const root = await navigator.storage.getDirectory();
    const [ours] = (await caches.keys()).filter((name) => name.startsWith("boardwright ") || name === "whole");
    const copyCache = async (from, to) => {
        await caches.delete(to);
        const [source, target] = [await caches.open(from), await caches.open(to)];
        for (const request of await source.keys()) await target.put(request, await source.match(request));
    };
    const copyFolder = async (from, to) => {
        await root.removeEntry(to, { recursive: true }).catch(() => {});
        const [source, target] = [await root.getDirectoryHandle(from), await root.getDirectoryHandle(to, { create: true })];
        for await (const [name, file] of source.entries()) {
            const copy = await (await target.getFileHandle(name, { create: true })).createWritable();
            await copy.write(await file.getFile());
            await copy.close();
        }
    };
    DO
}"""
KEEP_WHOLE = TOOLS.replace("DO", "await copyCache(ours, 'whole'); await copyFolder('boardwright-memory', 'whole'); return ours;")
RESTORE = TOOLS.replace("DO", "await copyCache('whole', keep); await copyFolder('whole', 'boardwright-memory');")


class Wrong(Exception):
    """What must not be, in words."""


class Reader:
    def __init__(self, browser: Browser, address: str) -> None:
        self.address = address
        self.wrong: list[str] = []
        self.complaints: list[str] = []
        """What the browser's console says; in visits to damaged files only the last page may not have any."""
        self.busiest = self.megabytes = 0.0
        self._processes = browser.new_browser_cdp_session()
        self.context = browser.new_context(permissions=["clipboard-read", "clipboard-write"])
        self.context.set_default_timeout(PATIENCE)
        self.context.add_init_script(ROOMY)
        self.context.on("console", lambda message: self.complaints.append(message.text) if message.type in ("error", "warning") else None)
        self.context.on("weberror", lambda error: self.complaints.append(str(error.error)))
        self.context.on("dialog", self._asked)
        self.context.on("request", lambda request: None if request.url.startswith((address, "data:", "blob:")) else self.wrong.append(f"asks for {request.url[:80]}"))
        self.stored: dict[str, dict[str, str]] = {"local": {}, "session": {}}
        self._cache = ""
        """The name of what the service worker keeps its files in, once there is a copy of it."""
        self._first_visit()

    def _first_visit(self) -> None:
        """Leaves a board, a hunt and an exercise: what is damaged later is what the pages themselves have kept."""
        page = self.page = self._tab()
        self.goes(CHECKER)
        self.answered()
        page.evaluate("document.querySelector('[data-md-component=palette] input:not(:checked)').click()")
        self.writes("board: {name: Mine}\npedals: {mine: {kind: fuzz}}\n")
        self.goes(LESSON)
        page.locator(".bw-exercise textarea").focus()
        self.answered()
        page.locator(".bw-button--hint").first.click()
        self.writes(editor_text(page) + "# mine\n")
        self.goes(FAULT_FINDER)
        page.locator(".bw-hunt__kind").first.click()
        page.locator(".bw-hunt__go").click()
        page.locator("[data-does=good]").click()
        page.locator("[data-does=undo]").wait_for()
        self.stored = page.evaluate(STORED)
        page.close()
        self._hold_to_silence()
        if self.wrong:
            raise Wrong("; ".join(self.wrong))

    # ---- a visit

    @contextmanager
    def visiting(self) -> Iterator[None]:
        """A tab in which everything is as the first visit left it, looked over at the end."""
        self.wrong, self.complaints, self.busiest, self.megabytes = [], [], 0.0, 0.0
        before = self._tabs()
        self.page = self._tab()
        self.goes(PLAIN)
        self.keeps(self.stored)
        processes = self._tabs() - before
        watchdog = threading.Timer(MOST, _end, [processes])
        watchdog.start()
        try:
            yield
            self.looks()
            self._hold_to_silence()
        except Wrong as error:
            self.wrong.append(str(error))
        except Exception as error:  # Playwright's own; the page is gone, or what must be there is not
            self.wrong += [f"{type(error).__name__}: {str(error).splitlines()[0]}", *self.complaints[:2]]
        finally:
            watchdog.cancel()
            self.megabytes = max(map(_most_megabytes, processes), default=0)
            self.page.close()
        if self.busiest > SECONDS:
            self.wrong.append(f"busy for {self.busiest:.1f} s")
        if self.megabytes > MEGABYTES:
            self.wrong.append(f"{self.megabytes:.0f} MB")

    def has_files(self) -> None:
        """Waits until the browser has kept all that it keeps for the next visit, and sets a copy of it aside."""
        if not self._cache:
            self.goes(PLAIN)
            self.page.evaluate(SAVE)
            self.until(lambda: self.page.evaluate(HAS_CHECKER), "the checker is kept")
            self._cache = self.page.evaluate(KEEP_WHOLE)

    def restore(self) -> None:
        """The files that are kept, as they were."""
        page = self._tab()
        page.goto(self.address + PLAIN)
        page.evaluate(RESTORE, self._cache)
        page.close()

    def forget_worker(self) -> None:
        """As when the browser was closed since: what the service worker remembers is gone, what it keeps is not."""
        session = self.context.new_cdp_session(self.page)
        session.send("ServiceWorker.enable")
        session.send("ServiceWorker.stopAllWorkers")
        session.detach()

    # ---- what a reader does

    def goes(self, path: str) -> None:
        # To another page first: an address that differs in what follows the "#" is no new visit.
        self.page.goto("about:blank")
        self.page.goto(self.address + path)

    def keeps(self, stored: dict[str, dict[str, str]]) -> None:
        self.page.evaluate(STORE, stored)

    def writes(self, text: str) -> str:
        """Pastes a text over what is there, and gives it as the editor should have it now; waits for an answer."""
        self.page.locator(".cm-content").wait_for()
        paste(self.page, text)
        written = as_edited(self.page.evaluate("navigator.clipboard.readText()"))
        self.until(lambda: self.text() == written, "what was pasted is in the editor")
        self.judged(written)
        return written

    def judged(self, text: str) -> None:
        """Waits until that text has been checked, or the page says why not."""
        self.until(lambda: self.kept()["session"].get(CHECKED) == text or self.complains(), "an answer, or words why there is none")

    def answered(self) -> None:
        self.until(lambda: self.up_to_date() or self.complains(), "an answer, or words why there is none")

    @contextmanager
    def timed(self) -> Iterator[None]:
        """One thing that a reader does: how long the page's own thread is busy with it, in seconds of a processor."""
        session = self.context.new_cdp_session(self.page)
        session.send("Performance.enable", {"timeDomain": "threadTicks"})

        def busy() -> float:
            return next(each["value"] for each in session.send("Performance.getMetrics")["metrics"] if each["name"] == "TaskDuration")

        before = busy()
        yield
        self.busiest = max(self.busiest, busy() - before)
        session.detach()

    # ---- what can be seen

    def text(self) -> str:
        """What stands in the editor, or in the text box that the page has without one."""
        if self.page.locator(".cm-content").count():
            return editor_text(self.page)
        return self.page.locator("textarea").first.input_value()

    def kept(self) -> dict[str, dict[str, str]]:
        return self.page.evaluate(STORED)

    def texts(self) -> list[str]:
        """Every text of the reader's that can be found again: in the editor, and in what is kept under the boards' names."""
        return [self.text(), *(text for key, raw in self.kept()["local"].items() if key.startswith(BOARD) for text in texts_in(raw))]

    def shows(self, selector: str) -> bool:
        return any(each.strip() for each in self.page.locator(selector).all_inner_texts())

    def up_to_date(self) -> bool:
        return "Up to date" in " ".join(self.page.locator(".bw-state").all_inner_texts())

    def complains(self) -> bool:
        return self.shows(".bw-note--bad, .bw-desk__note [role=status]")

    def until(self, done: Callable[[], Any], what: str, seconds: float = HANG) -> None:
        for _ in range(int(seconds * 20)):
            # Unlike evaluation, looking for an element ends by itself where the page does not answer.
            self.page.locator("html").wait_for(state="attached")
            if done():
                return
            self.page.wait_for_timeout(50)
        raise Wrong(f"missing: {what}")

    # ---- what must never be

    def looks(self) -> None:
        """No script has run, and nothing that could was made of a text."""
        for element in self.page.evaluate(COULD_RUN, ".bw-bench, .bw-hunt, .bw-frame > *"):
            self.wrong.append(f"an element that could run: {element}")
        if self.page.title() == MARK:
            self.wrong.append("a script has run")

    def _hold_to_silence(self) -> None:
        self.wrong += [f"the page complains: {each}" for each in self.complaints]

    def _asked(self, dialog: Dialog) -> None:
        # Of what is not kept a page warns before it is left.
        if dialog.type != "beforeunload":
            self.wrong.append(f"a dialog: {dialog.message[:80]}")
        dialog.accept()

    # ---- the browser's own

    def _tab(self) -> Page:
        page = self.context.new_page()
        page.on("crash", lambda _: self.wrong.append("the page crashed, or hung until it was ended"))
        return page

    def _tabs(self) -> set[int]:
        """Numbers of the processes in which pages live."""
        return {each["id"] for each in self._processes.send("SystemInfo.getProcessInfo")["processInfo"] if each["type"] == "renderer"}


def _end(processes: set[int]) -> None:
    for process in processes:
        with suppress(ProcessLookupError):
            os.kill(process, signal.SIGKILL)


def _most_megabytes(process: int) -> float:
    """The most memory that a process has taken; 0 where the system does not tell."""
    try:
        status = Path(f"/proc/{process}/status").read_text()
    except OSError:
        return 0
    return next((int(line.split()[1]) / 1024 for line in status.splitlines() if line.startswith("VmHWM")), 0)


def as_edited(text: str) -> str:
    """A text with the line ends that the editor gives it."""
    return text.replace("\r\n", "\n").replace("\r", "\n")


def texts_in(raw: str) -> list[str]:
    """The texts in an entry that is kept, whatever it is."""
    try:
        data = json.loads(raw)
    except (ValueError, RecursionError):
        return []
    found = [data, data.get("earlier")] if isinstance(data, dict) else []
    return [each["text"] for each in found if isinstance(each, dict) and isinstance(each.get("text"), str)]
