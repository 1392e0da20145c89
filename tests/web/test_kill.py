"""The browser killed in the middle of readings: nothing that was shown as saved is missing.

A process that is killed leaves what it gave to the system; what a power cut leaves is up to the
system and the disk, and no test here shows it.
"""

from __future__ import annotations

import contextlib
import json
import os
import random
import re
import signal
import threading
from collections.abc import Iterator
from pathlib import Path

from playwright.sync_api import BrowserContext, Page, Playwright
from playwright.sync_api import Error as PlaywrightError

from .alder_fork import (
    SAVED,
    at_the_stream,
    downloads_only,
    exported,
    reading,
    say,
)
from .browsing import own_profile

# Some, so that the test stays short; BANKSIDE_KILLS=50 for a longer look.
KILLS = int(os.environ.get("BANKSIDE_KILLS", "4"))
MOST_READINGS = 12
FIGURE = re.compile(r"\d+\.\d{3}")

# Tells each line that shows what was said last, as soon as it stands on the page.
WATCH = """
  let last = "";
  new MutationObserver(() => {
    const line = document.querySelector("main .saved")?.innerText ?? "";
    if (line !== last) window.shown(last = line);
  }).observe(document, { subtree: true, childList: true, characterData: true });
"""


def test_nothing_shown_as_saved_is_missing_after_the_browser_was_killed(
    playwright: Playwright, served: str, tmp_path: Path
) -> None:
    """Killed at random moments after a reading was shown as saved, the device has it, and whole."""
    moments = random.Random(20260714)
    shown: list[str] = []
    with started(playwright, tmp_path) as context:
        at_the_stream(context.new_page(), served, positions=600)

    for kill in range(KILLS):
        readings, seconds = moments.randrange(1, MOST_READINGS), moments.uniform(0, 0.02)
        killer = Killer(tmp_path, readings, seconds)
        with started(playwright, tmp_path) as context:
            read_until_killed(context.new_page(), served, f"{kill + 1}", killer)
        await_end(tmp_path)
        shown += killer.shown

        with started(playwright, tmp_path) as context:
            entries = json.loads(exported(context.new_page(), served))["entries"]
        said = set(FIGURE.findall(json.dumps([entry["value"] for entry in entries])))
        assert [figure for figure in shown if figure not in said] == [], f"kill {kill + 1}"
        assert [entry["sequence"] for entry in entries] == list(range(1, len(entries) + 1))

    assert len(shown) >= KILLS


@contextlib.contextmanager
def started(playwright: Playwright, profile: Path) -> Iterator[BrowserContext]:
    """Start the browser on its profile, with the engine and the offline cache out of the way."""
    with own_profile(playwright, profile) as context:
        context.set_default_timeout(60_000)
        downloads_only(context)
        for files in ("**/engine/**", "**/sw.js"):
            context.route(files, lambda route: route.fulfill(status=404))
        yield context


def read_until_killed(page: Page, served: str, whole: str, killer: Killer) -> None:
    """Say figures that are all different, while the killer looks on."""
    page.expose_function("shown", killer.see)
    page.add_init_script(WATCH)
    fault: PlaywrightError | None = None
    try:
        reading(page, served)
        # Of readings that follow each other fast not every one is shown before the next.
        for part in range(1000):
            if killer.has_killed.is_set():
                break
            say(page, f"{whole}.{part:03}")
    except PlaywrightError as error:
        fault = error
    if not killer.has_killed.wait(60):
        raise AssertionError(f"too little was shown as saved: {killer.shown}") from fault


class Killer:
    """Kills the browser of a profile so many seconds after so many readings were shown as saved."""

    def __init__(self, profile: Path, readings: int, seconds: float) -> None:
        self.has_killed = threading.Event()
        self.shown: list[str] = []
        self._profile = profile
        self._left = readings
        self._seconds = seconds

    def see(self, line: str) -> None:
        """Take a line that stands on the page; note the figure that it shows as saved."""
        figure = FIGURE.search(line)
        if SAVED not in line or figure is None or figure[0] in self.shown:
            return
        self.shown.append(figure[0])
        self._left -= 1
        if self._left == 0:
            threading.Timer(self._seconds, self._kill).start()

    def _kill(self) -> None:
        for process in browsers(self._profile):
            with contextlib.suppress(ProcessLookupError):
                os.kill(process, signal.SIGKILL)
        self.has_killed.set()


def browsers(profile: Path) -> list[int]:
    """The ids of all processes of the browser that was started on a profile."""
    found = []
    for folder in Path("/proc").glob("[0-9]*"):
        with contextlib.suppress(OSError):
            command = (folder / "cmdline").read_bytes().split(b"\0")
            if f"--user-data-dir={profile}".encode() in command:
                found.append(int(folder.name))
    return found


def await_end(profile: Path) -> None:
    """Wait until no process of the browser is left."""
    ended = threading.Event()
    for _ in range(600):
        if not browsers(profile):
            return
        ended.wait(0.1)
    raise AssertionError("the browser that was killed is still there")
