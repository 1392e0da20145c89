"""The built app as files: whole, of the right types, and at home under any path of any host."""

from __future__ import annotations

import hashlib
import json
import re
import urllib.request
from pathlib import Path
from typing import Any
from urllib.error import URLError

import pytest
from playwright.sync_api import Page, expect

from bankside.server.built_app import built_app
from bankside.server.headers import CONTENT_SECURITY_POLICY
from bankside.server.host_folder import write_app

from .app_server import AppServer, plain_host
from .browsing import Faults, picture
from .conftest import ContextMaker, build


def listed(app: Path) -> dict[str, Any]:
    """What `files.json` of the app says."""
    told: dict[str, Any] = json.loads((app / "files.json").read_text(encoding="utf-8"))
    return told


def opened(page: Page, address: str) -> None:
    """Open the app and wait for its first screen."""
    page.goto(address)
    expect(page.get_by_role("heading", level=1)).to_be_visible()


def contents(folder: Path) -> dict[str, bytes]:
    """Every file below a folder, by its path."""
    files = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


@pytest.mark.parametrize("name", ["phone", "tablet", "desktop"])
def test_the_page_opens_without_an_error(new_context: ContextMaker, served: str, name: str) -> None:
    """On every size of screen the app opens under its name, and the browser has no complaint."""
    page = new_context(name).new_page()
    opened(page, served)

    assert "Bankside" in page.title()
    picture(page, f"first_{name}")


def test_every_file_is_served_whole_and_with_its_type(app: Path, served: str) -> None:
    """Each file of the list comes with the bytes, the hash and the media type that stand there."""
    files = listed(app)
    wrong = []
    for file in (*files["shell"], *files["engine"]):
        with urllib.request.urlopen(served + file["path"]) as answer:
            content = answer.read()
            known = (answer.headers.get_content_type(), len(content))
            if (*known, hashlib.sha256(content).hexdigest()) != (
                *(file["type"], file["bytes"]),
                file["sha256"],
            ):
                wrong.append(file["path"])

    assert wrong == []


def test_the_list_names_every_file(app: Path) -> None:
    """Nothing lies in the app that a device would not keep, but the list and the service worker."""
    files = listed(app)
    named = {file["path"] for file in (*files["shell"], *files["engine"])}
    there = set(contents(app))

    assert there - named == {"files.json", "sw.js"}
    assert named <= there
    assert {"index.html", "licences.txt"} <= named
    assert {file["path"].split("/")[0] for file in files["engine"]} == {"engine"}


def test_the_service_worker_has_the_same_list(app: Path) -> None:
    """The service worker goes by the list of its own version, not by what a host has by then."""
    first = (app / "sw.js").read_text(encoding="utf-8").split("\n", 1)[0]

    assert json.loads(first.removeprefix("self.FILES = ").removesuffix(";")) == listed(app)


def test_the_app_works_below_a_path_of_any_host(page: Page, app: Path, tmp_path: Path) -> None:
    """Served by a host that knows nothing of it, the app asks for nothing outside its folder."""
    write_app(built_app(app), tmp_path / "some" / "path")
    asked: list[str] = []
    page.context.on("request", lambda request: asked.append(request.url))
    with plain_host(tmp_path) as host:
        with page.context.expect_event("request", lambda request: ".wasm" in request.url):
            opened(page, f"{host}some/path/")
        paths = {url for url in asked if url.startswith("http")}
        page.context.close()

    assert len(paths) > 2
    assert [url for url in paths if not url.startswith(f"{host}some/path/")] == []


def test_the_page_and_the_server_set_the_same_policy(app: Path, served: str) -> None:
    """A host that sets no headers protects the page as well as ours, bar framing."""
    page = (app / "index.html").read_text(encoding="utf-8")
    in_page = re.findall(r'http-equiv="Content-Security-Policy"\s+content="([^"]+)"', page)
    with urllib.request.urlopen(served) as answer:
        header = answer.headers["Content-Security-Policy"]

    assert in_page == [CONTENT_SECURITY_POLICY]
    assert header == f"{CONTENT_SECURITY_POLICY}; frame-ancestors 'none'"


def test_a_breach_of_the_policy_fails_a_test(page: Page, served: str, faults: Faults) -> None:
    """The watch over pages sees a script that the policy forbids, and an exception unheard."""
    opened(page, served)
    with page.expect_console_message(lambda said: said.type == "error"):
        page.evaluate(
            "document.head.append(Object.assign(document.createElement('script'), "
            "{ textContent: 'window.inlined = true' }))"
        )
    with page.context.expect_event("weberror"):
        page.evaluate("setTimeout(() => { throw new Error('unheard') })")

    assert page.evaluate("window.inlined ?? false") is False
    assert any("Content Security Policy" in fault for fault in faults.unexpected())
    assert any("unheard" in fault for fault in faults.unexpected())
    faults.expect("Content Security Policy|unheard")


def test_two_builds_are_equal_in_every_byte(app: Path, tmp_path: Path) -> None:
    """Whoever builds the same sources again gets the same app."""
    build("--out", tmp_path / "again")
    first, second = contents(app), contents(tmp_path / "again")

    assert first.keys() == second.keys()
    assert [path for path in first if first[path] != second[path]] == []


def test_the_server_ends_quietly_when_it_is_stopped(server: AppServer) -> None:
    """Ctrl+C is the way in which serving is meant to end: no fault, and nobody answers any more."""
    assert server.interrupt() == 0
    with pytest.raises(URLError):
        urllib.request.urlopen(server.address)

    server.start()
    with urllib.request.urlopen(server.address) as answer:
        assert answer.status == 200
