"""The app as it is built for people, in a browser; a page that reports an error fails its test."""

from __future__ import annotations

import fcntl
import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Playwright, expect, sync_playwright

from .app_server import AppServer
from .browsing import ARGUMENTS, Faults, chromium, device
from .desk_archive import DeskOffice, fill
from .hosts import Host
from .office import Office

ROOT = Path(__file__).parents[2]
STATIC = ROOT / "src" / "bankside" / "server" / "static"

# A busy machine is no failure: the interpreter alone takes seconds to start.
expect.set_options(timeout=60_000)
_TIMEOUT_MS = 60_000


def build(*arguments: str | Path) -> None:
    """Build the app as `make build` does; fail the test, with all that was said, if that fails."""
    run = subprocess.run(
        [sys.executable, ROOT / "web" / "build.py", *arguments],
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
    )
    if run.returncode != 0:
        pytest.fail(f"The app cannot be built.\n{run.stdout}{run.stderr}")


@pytest.fixture(scope="session")
def app(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the app, built from the sources as they are now.

    Where several processes share the tests, the first that comes here builds, and others wait.
    """
    shared = tmp_path_factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        shared = shared.parent
    built = shared / "built"
    with (shared / "building").open("w") as building:
        fcntl.flock(building, fcntl.LOCK_EX)
        if not built.exists():
            build()
            built.touch()
    return STATIC


@pytest.fixture(scope="session")
def served(app: Path) -> Iterator[str]:
    """The address of the app; the server is shared, so no test stops it."""
    server = AppServer()
    yield server.address
    server.stop()


@pytest.fixture
def server(app: Path) -> Iterator[AppServer]:
    """A server of the app that the test may stop and start."""
    server = AppServer()
    yield server
    server.stop()


@pytest.fixture
def host(app: Path, faults: Faults) -> Iterator[Host]:
    """A host of the app that the test may change; what fails to load is no fault of the page."""
    faults.expect(r"Failed to load resource|Failed to fetch|ERR_[A-Z_]+")
    host = Host(app)
    yield host
    host.stop()


@pytest.fixture
def office(app: Path, tmp_path: Path, faults: Faults) -> Iterator[Office]:
    """An office with an empty archive; what its phones cannot load is no fault of the page."""
    faults.expect(r"Failed to load resource|Failed to fetch|ERR_[A-Z_]+|was answered with 50\d")
    office = Office(tmp_path)
    yield office
    office.stop()


@pytest.fixture(scope="session")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An archive with the survey of the demonstration, to be copied."""
    place = tmp_path_factory.mktemp("office") / "filled.db"
    fill(place)
    return place


@pytest.fixture
def desk_office(app: Path, filled: Path, tmp_path: Path) -> Iterator[DeskOffice]:
    """An office on this machine, with the survey of the demonstration in its archive."""
    office = DeskOffice(filled, tmp_path)
    yield office
    office.server.stop()


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    """The driver of browsers."""
    with sync_playwright() as playwright:
        yield playwright


@pytest.fixture(scope="session")
def browser(playwright: Playwright) -> Iterator[Browser]:
    """One Chromium for all tests; each test has contexts of its own in it."""
    browser = playwright.chromium.launch(executable_path=chromium(), args=ARGUMENTS)
    yield browser
    browser.close()


@pytest.fixture
def faults() -> Iterator[Faults]:
    """What pages report as errors; none but the expected ones may be there at the end."""
    faults = Faults()
    yield faults
    assert faults.unexpected() == []


ContextMaker = Callable[..., BrowserContext]


@pytest.fixture
def new_context(playwright: Playwright, browser: Browser, faults: Faults) -> Iterator[ContextMaker]:
    """Makes a device of its own: `new_context("tablet")`; the device is a phone if none is said.

    Further options are those of Playwright's `new_context`.
    """
    contexts: list[BrowserContext] = []

    def make(name: str = "phone", **options: Any) -> BrowserContext:
        context = browser.new_context(**{**device(playwright, name), **options})
        context.set_default_timeout(_TIMEOUT_MS)
        faults.watch(context)
        contexts.append(context)
        return context

    yield make
    for context in contexts:
        context.close()


@pytest.fixture
def page(new_context: ContextMaker) -> Page:
    """A page on a phone."""
    return new_context().new_page()


@pytest.fixture
def tablet(new_context: ContextMaker) -> Page:
    """A page on a tablet."""
    return new_context("tablet").new_page()


@pytest.fixture
def desktop(new_context: ContextMaker) -> Page:
    """A page on a desktop."""
    return new_context("desktop").new_page()
