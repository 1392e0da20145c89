"""Chromium for the tests: how it starts, which devices it stands for, what went wrong in it."""

from __future__ import annotations

import contextlib
import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, ConsoleMessage, Page, Playwright

SCREENS = Path(__file__).parents[2] / "out" / "screens"

MISSING = (
    "Chromium is needed to open the app: no chromium was found. On Debian: "
    "apt-get install --no-install-recommends chromium"
)

ARGUMENTS = [
    # Root has no sandbox, and every page that is opened here is our own.
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    # Another machine's name, whose pages are not secure as those of 127.0.0.1 are.
    "--host-resolver-rules=MAP bank.test 127.0.0.1",
]


def chromium() -> str:
    """Return the path of Chromium; fail, and say what to install, where there is none."""
    path = shutil.which("chromium")
    if path is None:
        pytest.fail(MISSING)
    return path


def device(playwright: Playwright, name: str) -> dict[str, Any]:
    """Return the options of a context that stands for a phone, a tablet or a desktop."""
    if name == "phone":
        phone = dict(playwright.devices["Pixel 7"])
        phone.pop("default_browser_type")
        return phone
    if name == "tablet":
        size = {"width": 800, "height": 1280}
        return {"viewport": size, "device_scale_factor": 2, "is_mobile": True, "has_touch": True}
    assert name == "desktop", f'a device is "phone", "tablet" or "desktop", not "{name}"'
    return {"viewport": {"width": 1280, "height": 800}}


@contextlib.contextmanager
def own_profile(
    playwright: Playwright, folder: Path, name: str = "phone", **options: Any
) -> Iterator[BrowserContext]:
    """Start a browser of its own that keeps all its data in a folder, for the next one to find."""
    context = playwright.chromium.launch_persistent_context(
        folder,
        executable_path=chromium(),
        args=ARGUMENTS,
        **{**device(playwright, name), **options},
    )
    try:
        yield context
    finally:
        context.close()


class Faults:
    """What pages report as errors: in the console, unheard exceptions, breaches of the policy.

    A test that brings errors about says beforehand which ones it expects.
    """

    def __init__(self) -> None:
        self._seen: list[str] = []
        self._expected: list[re.Pattern[str]] = []

    def watch(self, context: BrowserContext) -> None:
        """Note the errors of every page of a context, its workers included."""
        context.on("console", lambda said: self._hear(said))
        context.on("weberror", lambda thrown: self._note(str(thrown.error)))

    def expect(self, pattern: str) -> None:
        """Let errors pass that contain the regular expression."""
        self._expected.append(re.compile(pattern))

    def unexpected(self) -> list[str]:
        """The errors seen so far that nobody expected."""
        return [seen for seen in self._seen if not any(one.search(seen) for one in self._expected)]

    def _hear(self, said: ConsoleMessage) -> None:
        # Most hosts of the app are no office's server: the page asks, and gets no answer.
        asked_for_an_office = said.location.get("url", "").endswith("/api/1/about")
        if said.type == "error" and not asked_for_an_office:
            self._note(said.text)

    def _note(self, text: str) -> None:
        self._seen.append(text)


def picture(page: Page, name: str, **options: Any) -> Path:
    """Save what a page shows as `out/screens/NAME.png`, to be looked at, and return the path."""
    path = SCREENS / f"{name}.png"
    path.parent.mkdir(parents=True, exist_ok=True)
    page.screenshot(path=path, **options)
    return path
