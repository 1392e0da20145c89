"""The app without a network: kept on the device, renewed only when asked, taken off again."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from playwright.sync_api import Error as PlaywrightError
from playwright.sync_api import Page, Playwright, expect

from bankside.server.built_app import built_app
from bankside.server.host_folder import withdraw_app, write_app

from .browsing import own_profile
from .hosts import Host, edition, engine_place
from .standing import COMPUTES, READY, close_gauging, line, open_gauging, ready, without_engine

WAITING = "Change to the new version"


def note_when_ready(page: Page) -> None:
    """Have the page note, from its next load on, whether it ever says that it is ready."""
    page.add_init_script(
        f"""new MutationObserver(() => {{
          if (document.body?.innerText.includes("{READY}")) window.saidReady = true;
        }}).observe(document, {{ subtree: true, childList: true, characterData: true }});"""
    )


def kept_files(page: Page) -> dict[str, list[str]]:
    """The paths in each cache of files, by its name; another holds the second copy of readings."""
    kept: dict[str, list[str]] = page.evaluate(
        """async () => Object.fromEntries(await Promise.all((await caches.keys()).filter(
          (name) => !name.endsWith("-second-copy")).map(
          async (name) => [name, (await (await caches.open(name)).keys()).map(
            (request) => new URL(request.url).pathname.slice(1))])))"""
    )
    return kept


def edition_shown(page: Page) -> str | None:
    """Return which edition the page is; None for the one that was built."""
    found: str | None = page.evaluate(
        "document.querySelector('meta[name=edition]')?.content ?? null"
    )
    return found


def look_for_update(page: Page) -> None:
    """Have the browser look for a newer version, as it does by itself from time to time."""
    page.evaluate("navigator.serviceWorker.getRegistration().then((one) => one.update())")


def waiting_worker(page: Page) -> bool:
    """Whether a newer version is there and waits."""
    return bool(
        page.evaluate("navigator.serviceWorker.getRegistration().then((one) => !!one.waiting)")
    )


def installed_or_failed(page: Page) -> None:
    """Wait until no version is being fetched."""
    page.evaluate(
        """navigator.serviceWorker.getRegistration().then((one) => new Promise((done) => {
          const look = () => one.installing === null ? done() : setTimeout(look, 20);
          look();
        }))"""
    )


def no_network(page: Page, host: Host) -> None:
    """Stop the host and take the device off the network: the one without the other proves less."""
    host.stop()
    page.context.set_offline(True)


def test_after_the_first_visit_the_app_opens_and_computes_with_no_host(
    page: Page, host: Host
) -> None:
    """A reload and a deep link work and compute when the host is gone and the device offline."""
    ready(page, host)
    no_network(page, host)
    page.reload()
    line(page, COMPUTES)
    line(page, READY)
    other = page.context.new_page()
    other.goto(f"{host.address}#/settings")
    line(other, COMPUTES)
    assert other.evaluate("location.hash") == "#/settings"


def test_it_opens_after_the_browser_was_closed(
    playwright: Playwright, host: Host, tmp_path: Path
) -> None:
    """A new browser on the same profile opens the app and computes when the host is gone."""
    with own_profile(playwright, tmp_path / "profile") as context:
        ready(context.new_page(), host)
    host.stop()
    with own_profile(playwright, tmp_path / "profile") as context:
        page = context.new_page()
        page.goto(host.address)
        line(page, COMPUTES)
        line(page, READY)


def test_an_address_that_the_host_alone_knows_leads_to_the_app(page: Page, host: Host) -> None:
    """A page of the host comes from the host; without it, the app opens in its place."""
    without_engine(page)
    ready(page, host)
    page.goto(f"{host.address}other")
    expect(page.get_by_text("There is nothing here.")).to_be_visible()
    no_network(page, host)
    page.goto(f"{host.address}other")
    assert page.url == host.address
    line(page, READY)
    page.get_by_role("link", name="Settings").click()
    page.get_by_role("link", name="Licences of its parts").click()
    expect(page.get_by_text("MIT").first).to_be_visible()


@pytest.mark.parametrize(
    "path",
    [
        # Of the files that take readings, of those that compute, the first of those and the last.
        "icons/icon-512.png",
        "{python}",
        "{pyodide}pyodide.asm.wasm",
        "{pyodide}python_stdlib.zip",
    ],
)
def test_an_interrupted_first_visit_is_never_ready_and_goes_on_later(
    page: Page, host: Host, app: Path, path: str
) -> None:
    """Wherever the host died, the app says ready only when all files came; none comes twice."""
    path = path.format(**engine_place(app))
    # no-store: what the page fetched for itself helps nobody.
    host.cache_control = "no-store"
    host.dies_at = (path, 1)
    without_engine(page)
    note_when_ready(page)
    page.goto(host.address)
    line(page, "Not ready to work offline")
    if path.startswith("engine/"):
        page.reload()
        line(page, "Not ready to work offline")
    assert page.evaluate("window.saidReady") is None
    before = {path for paths in kept_files(page).values() for path in paths}
    host.asked.clear()
    host.dies_at = None
    page.reload()
    line(page, READY)
    assert not {path for path in host.asked if path.startswith("engine/")} & before
    no_network(page, host)
    page.reload()
    line(page, READY)


def test_an_update_waits_while_a_gauging_is_open(
    page: Page, app: Path, tmp_path: Path, host: Host
) -> None:
    """A newer version is neither taken nor offered until the gauging is left; then on asking."""
    without_engine(page)
    ready(page, host)
    open_gauging(page)
    host.folder = edition(app, tmp_path / "newer", "newer")
    look_for_update(page)
    installed_or_failed(page)
    assert waiting_worker(page)
    expect(page.get_by_role("button", name=WAITING)).to_have_count(0)
    page.reload()
    expect(page.get_by_text("Saved on this device").first).to_be_visible()
    assert edition_shown(page) is None
    expect(page.get_by_role("button", name=WAITING)).to_have_count(0)
    close_gauging(page)
    with page.expect_navigation():
        page.get_by_role("button", name=WAITING).click()
    assert edition_shown(page) == "newer"
    line(page, READY)
    expect(page.get_by_role("button", name=WAITING)).to_have_count(0)


@pytest.mark.parametrize("new_engine", [False, True])
def test_an_update_fetches_what_is_new_and_is_whole_when_it_is_taken(
    page: Page, app: Path, tmp_path: Path, host: Host, new_engine: bool
) -> None:
    """The interpreter is not fetched again, and the new version computes without a host at once."""
    ready(page, host)
    host.folder = edition(app, tmp_path / "newer", "newer", new_engine)
    host.asked.clear()
    look_for_update(page)
    page.get_by_role("button", name=WAITING).wait_for()
    host.stop()
    with page.expect_navigation():
        page.get_by_role("button", name=WAITING).click()
    line(page, COMPUTES)
    line(page, READY)
    assert edition_shown(page) == "newer"
    new = {"engine/bankside-newer.zip"} if new_engine else set()
    assert {path for path in host.asked if path.startswith("engine/")} == new


def test_a_failed_update_leaves_the_version_that_runs(
    page: Page, app: Path, tmp_path: Path, host: Host
) -> None:
    """One missing file, and the newer version is not taken; once it is there, it is."""
    without_engine(page)
    ready(page, host)
    before = kept_files(page)
    host.folder = edition(app, tmp_path / "newer", "newer")
    host.gone.add("index.html")
    look_for_update(page)
    installed_or_failed(page)
    assert not waiting_worker(page)
    assert kept_files(page) == before
    page.reload()
    line(page, READY)
    assert edition_shown(page) is None
    host.gone.clear()
    look_for_update(page)
    with page.expect_navigation():
        page.get_by_role("button", name=WAITING).click()
    assert edition_shown(page) == "newer"


def test_a_version_that_is_fetched_while_another_takes_over_loses_nothing(
    page: Page, app: Path, tmp_path: Path, host: Host
) -> None:
    """Two newer versions, one waiting and one on its way: the second one opens without a host."""
    without_engine(page)
    ready(page, host)
    host.folder = edition(app, tmp_path / "second", "second")
    look_for_update(page)
    page.get_by_role("button", name=WAITING).wait_for()
    host.folder = edition(app, tmp_path / "third", "third", new_engine=True)
    late = engine_place(host.folder)["python"]
    host.held.add(late)
    look_for_update(page)
    assert host.wait_until_asked(late)
    with page.expect_navigation():
        page.get_by_role("button", name=WAITING).click()
    assert edition_shown(page) == "second"
    host.let_go(late)
    page.get_by_role("button", name=WAITING).wait_for()
    no_network(page, host)
    with page.expect_navigation():
        page.get_by_role("button", name=WAITING).click()
    line(page, READY)
    assert edition_shown(page) == "third"


def test_no_update_is_taken_while_the_app_is_open_in_another_tab(
    page: Page, app: Path, tmp_path: Path, host: Host
) -> None:
    """The other tab would lose its files; the person is told to close it."""
    without_engine(page)
    ready(page, host)
    other = page.context.new_page()
    other.goto(host.address)
    host.folder = edition(app, tmp_path / "newer", "newer")
    look_for_update(page)
    page.get_by_role("button", name=WAITING).click()
    expect(page.get_by_text("close it there first").first).to_be_visible()
    assert waiting_worker(page)
    other.close()
    with page.expect_navigation():
        page.get_by_role("button", name=WAITING).click()
    assert edition_shown(page) == "newer"


def test_wrong_bytes_in_the_cache_are_found_and_fetched_again(page: Page, host: Host) -> None:
    """The app is not ready while a kept file has wrong bytes; then it is mended."""
    ready(page, host)
    page.evaluate(
        """async () => {
          const name = (await caches.keys()).find((name) => name.includes(":engine:"));
          const cache = await caches.open(name);
          const request = (await cache.keys()).find(({ url }) => url.endsWith(".zip"));
          const bytes = new Uint8Array(await (await cache.match(request)).arrayBuffer());
          bytes[bytes.length >> 1] ^= 1;
          const headers = { "Content-Type": "application/zip" };
          await cache.put(request, new Response(bytes, { headers }));
        }"""
    )
    host.dead = True
    note_when_ready(page)
    page.reload()
    line(page, "Not ready to work offline")
    assert page.evaluate("window.saidReady") is None
    host.dead = False
    page.get_by_role("button", name="Make it ready now").click()
    line(page, READY)
    no_network(page, host)
    page.reload()
    line(page, COMPUTES)


def test_only_the_apps_own_files_and_caches_are_touched(
    page: Page, app: Path, tmp_path: Path, host: Host
) -> None:
    """What is not in the list is fetched each time and not kept; a stranger's cache outlives us."""
    without_engine(page)
    ready(page, host)
    page.evaluate("caches.open('a stranger')")
    for _ in range(2):
        page.evaluate("fetch('api/gaugings').then((answer) => answer.status)")
    assert host.asked.count("api/gaugings") == 2
    host.folder = edition(app, tmp_path / "newer", "newer", new_engine=True)
    look_for_update(page)
    with page.expect_navigation():
        page.get_by_role("button", name=WAITING).click()
    line(page, READY)
    kept = kept_files(page)
    assert kept.pop("a stranger") == []
    listed = json.loads((host.folder / "files.json").read_text(encoding="utf-8"))
    assert {name: set(paths) for name, paths in kept.items()} == {
        f"bankside:/:shell:{listed['version']}": {file["path"] for file in listed["shell"]},
        "bankside:/:engine:newer": {file["path"] for file in listed["engine"]},
    }


def test_a_host_can_take_the_app_off_every_device(
    page: Page, tmp_path: Path, host: Host, app: Path
) -> None:
    """The withdrawing worker removes the caches and itself; what was measured stays."""
    folder = tmp_path / "host"
    write_app(built_app(app), folder)
    host.folder = folder
    without_engine(page)
    ready(page, host)
    open_gauging(page)
    withdraw_app(folder)
    look_for_update(page)
    line(page, "Not ready to work offline")
    assert kept_files(page) == {}
    page.reload()
    expect(page.get_by_text("Saved on this device").first).to_be_visible()
    line(page, "Not ready to work offline")
    assert kept_files(page) == {}
    assert page.evaluate("caches.has('bankside-second-copy')")
    host.stop()
    with pytest.raises(PlaywrightError, match="ERR_"):
        page.reload()


def test_an_unencrypted_address_is_said_to_keep_nothing(page: Page, host: Host) -> None:
    """Browsers keep nothing of what came by plain http; the app says so, and what to do."""
    page.goto(f"http://bank.test:{host.port}/")
    expect(page.get_by_text("Open it by an address with https")).to_be_visible()


def test_a_wrong_media_type_is_put_right_in_what_is_kept(page: Page, host: Host, app: Path) -> None:
    """No browser compiles an interpreter of a wrong type; from the cache it has the right one."""
    host.types[engine_place(app)["pyodide"] + "pyodide.asm.wasm"] = "application/octet-stream"
    ready(page, host)
    line(page, COMPUTES)
