"""A phone whose tab or browser dies at any moment, and what its page had shown until then."""

from __future__ import annotations

import os
import signal
from pathlib import Path
from typing import Literal

from playwright.sync_api import BrowserContext, Error, Page, Playwright

from .alder_fork import downloads_only
from .browsing import ARGUMENTS, Faults, chromium, device

Death = Literal["tab", "browser"]

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
        page = self._new_page()
        page.goto(address)
        return page

    def _new_page(self) -> Page:
        assert self._context is not None
        try:
            return self._context.new_page()
        except Error:
            # The process that the browser held ready for it was killed with those of the tab.
            return self._context.new_page()

    def aim(self, death: Death) -> list[int]:
        """Return the processes of the tab or of the browser, so that a kill needs no more time."""
        assert self._context is not None
        assert self._context.browser is not None
        devtools = self._context.browser.new_browser_cdp_session()
        kind = {"tab": "renderer", "browser": "browser"}[death]
        processes = devtools.send("SystemInfo.getProcessInfo")["processInfo"]
        devtools.detach()
        return [process["id"] for process in processes if process["type"] == kind]

    def die(self, page: Page, processes: list[int], death: Death) -> None:
        """Kill these processes at once, with no time for last words."""
        assert self._context is not None
        over = page.expect_event("crash") if death == "tab" else self._context.expect_event("close")
        with over:
            for process in processes:
                os.kill(process, signal.SIGKILL)
        if death == "tab":
            page.close()
        else:
            self._context = None

    def close(self) -> None:
        """Close the browser as people do."""
        if self._context is not None:
            self._context.close()
            self._context = None
