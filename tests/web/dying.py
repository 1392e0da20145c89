"""A phone whose tab or browser dies at any moment, and what its page had shown until then."""

from __future__ import annotations

import os
import signal
import time
from pathlib import Path
from typing import Any, Literal

from playwright.sync_api import BrowserContext, Page, Playwright

from .alder_fork import downloads_only
from .browsing import ARGUMENTS, Faults, chromium, device

Death = Literal["tab", "browser"]

_MISSED_TIME_S = 60

# Tells each text of the line about saving as soon as it stands on the page.
WATCH = """
new MutationObserver(() => {
  const line = document.querySelector(".saved");
  if (line && line.innerText !== window.toldLast) {
    window.toldLast = line.innerText;
    window.shownAsSaved(line.innerText);
  }
}).observe(document, { subtree: true, childList: true, characterData: true });
"""


class Phone:
    """A browser with a profile of its own, which is what is left when it is killed.

    Nothing is computed on it: that is no part of saving, and to start it anew after each of many
    deaths takes minutes.
    """

    def __init__(self, playwright: Playwright, profile: Path, faults: Faults) -> None:
        self._playwright = playwright
        self.profile = profile
        self._faults = faults
        # Of the files that are kept from it; and the driver, where it blocks service workers, makes
        # their registration give undefined, which no browser does.
        faults.expect("ERR_FAILED|reading 'waiting'")
        self._context: BrowserContext | None = None
        self.shown: list[str] = []
        """What the line about saving said, text after text."""

    def open(self, address: str) -> Page:
        """Open the page, in the browser that runs or in a new one."""
        if self._context is None:
            self._context = self._playwright.chromium.launch_persistent_context(
                self.profile,
                executable_path=chromium(),
                args=ARGUMENTS,
                service_workers="block",
                **device(self._playwright, "phone"),
            )
            self._context.set_default_timeout(60_000)
            self._context.route("**/engine/**", lambda route: route.abort())
            self._faults.watch(self._context)
            self._context.expose_binding("shownAsSaved", lambda _, text: self.shown.append(text))
            self._context.add_init_script(WATCH)
            downloads_only(self._context)
        page = self._context.new_page()
        page.goto(address)
        return page

    def aim(self, death: Death) -> list[int]:
        """Return the processes of the tab or of the browser, so that a kill needs no more time."""
        assert self._context is not None
        assert self._context.browser is not None
        kind = {"tab": "renderer", "browser": "browser"}[death]
        return [process["id"] for process in self._processes() if process["type"] == kind]

    def _processes(self) -> list[dict[str, Any]]:
        assert self._context is not None
        assert self._context.browser is not None
        devtools = self._context.browser.new_browser_cdp_session()
        processes: list[dict[str, Any]] = devtools.send("SystemInfo.getProcessInfo")["processInfo"]
        devtools.detach()
        return processes

    def die(self, page: Page, processes: list[int], death: Death) -> None:
        """Kill these processes at once, with no time for last words."""
        assert self._context is not None
        over = page.expect_event("crash") if death == "tab" else self._context.expect_event("close")
        with over:
            for process in processes:
                os.kill(process, signal.SIGKILL)
        if death == "tab":
            page.close()
            self._wait_until_missed(processes)
        else:
            self._context = None

    def _wait_until_missed(self, killed: list[int]) -> None:
        """Wait until the browser knows that these processes are gone.

        One of them was held ready for the next page. Opened before the browser has missed it, that
        page crashes, or the driver waits for it without an end.
        """
        until = time.monotonic() + _MISSED_TIME_S
        while {process["id"] for process in self._processes()} & set(killed):
            assert time.monotonic() < until, "the browser does not miss what was killed"

    def close(self) -> None:
        """Close the browser as people do."""
        if self._context is not None:
            self._context.close()
            self._context = None
