"""What the app for the bank costs in a browser, beside what nobody can go below.

Two ratios, each between times of one run on one machine, with Chromium as a phone:

- reading shown / engine boot: from the key that says a velocity until discharge and picture show
  it, beside what the bare interpreter, with nothing of Bankside, needs to boot. The aim is 0.1.
- offline start / blank page: with no host, from opening the address of a gauging until the first
  digit stands on the screen, beside a page with nothing on it that the same service worker
  serves. The aim is 1.3. Once with the start of the browser, as from an icon that is tapped, and
  once in a browser that runs, its service workers stopped.
"""

from __future__ import annotations

import contextlib
import functools
import http.server
import json
import shutil
import sys
import tempfile
import threading
from collections.abc import Iterator
from pathlib import Path
from statistics import median
from time import perf_counter
from typing import Any

from playwright.sync_api import BrowserContext, FilePayload, Page, Playwright, sync_playwright

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "web"))

from app_files import TYPES, WORKER, list_files  # noqa: E402
from engine_files import EnginePlace  # noqa: E402

STATIC = ROOT / "src" / "bankside" / "server" / "static"
GAUGING = "5f0c2a9e-0000-4000-8000-00000000000b"
PLANNED, READ = 25, 15
BOOTS, STARTS, COLD_STARTS = 5, 15, 7
BLANK = "<!doctype html><html lang=en><meta charset=utf-8><title>Blank</title><p>Blank</p></html>\n"

BOOT = """async (place) => {
  const begun = performance.now();
  const { loadPyodide } = await import(place + "pyodide.mjs");
  const python = await loadPyodide({ indexURL: place });
  if (python.runPython("1 + 1") !== 2) throw new Error("it does not compute");
  return performance.now() - begun;
}"""

# Presses the keys of a velocity; the clock runs from the big key until a frame with the result.
READING = """async (figure) => {
  const press = (key) => document.body.dispatchEvent(
    new KeyboardEvent("keydown", { key, bubbles: true, cancelable: true }));
  const frame = () => new Promise((done) => requestAnimationFrame(done));
  const picture = () => document.querySelector(".picture svg").outerHTML;
  const standing = document.querySelector(".standing");
  const worked = () => new Promise((done) => {
    new MutationObserver((_, observer) => {
      if (standing.getAttribute("aria-busy") === "true") return;
      observer.disconnect();
      done();
    }).observe(standing, { attributeFilter: ["aria-busy"] });
  });
  for (const key of figure) press(key);
  await frame();
  const before = [standing.innerText, picture()];
  const begun = performance.now();
  press("Enter");
  await worked();
  // The frame that shows it has been drawn when the next one begins.
  await frame();
  await frame();
  const took = performance.now() - begun;
  const after = [standing.innerText, picture()];
  if (after.some((one, i) => one === before[i])) throw new Error("nothing changed");
  return took;
}"""

# Types a digit again and again from the first moment on, until it stands on the screen.
FIRST_DIGIT = """
  window.accepted = new Promise((done) => {
    const typing = setInterval(() => {
      if (!document.body) return;
      const shown = document.querySelector("output.figure");
      if (shown?.innerText.includes("1")) {
        clearInterval(typing);
        requestAnimationFrame(() => done(performance.now()));
      } else {
        document.body.dispatchEvent(new KeyboardEvent("keydown", { key: "1", bubbles: true }));
      }
    }, 2);
  });
"""
BLANK_SHOWN = """
  window.accepted = new Promise((done) => {
    addEventListener("load", () => requestAnimationFrame(() => done(performance.now())));
  });
"""


def main() -> int:
    """Measure and print."""
    if not (STATIC / "files.json").is_file():
        print("The app is not built; make build builds it.", file=sys.stderr)
        return 1
    chromium = shutil.which("chromium")
    if chromium is None:
        print("Chromium is needed: apt-get install chromium", file=sys.stderr)
        return 1
    with tempfile.TemporaryDirectory() as work, sync_playwright() as playwright:
        app = Path(work) / "app"
        shutil.copytree(STATIC, app)
        (app / "blank.html").write_text(BLANK, encoding="utf-8")
        blank = blank_app(Path(work) / "blank")
        with phone(playwright, chromium, Path(work) / "profile") as context:
            with served(app) as address:
                boots = boot_times(context, address)
                readings = reading_times(context, address)
                keep_offline(context, address)
                with served(blank) as blank_address:
                    keep_offline(context, blank_address)
            # From here on no host answers.
            place = f"{address}#/gauging/{GAUGING}/read"
            starts = start_times(context, place, FIRST_DIGIT)
            floors = start_times(context, blank_address, BLANK_SHOWN)
        start = functools.partial(cold_start, playwright, chromium, Path(work) / "profile")
        # By turns, so that both meet the same machine; the first of each fills the system's cache.
        cold = [
            (start(place, FIRST_DIGIT), start(blank_address, BLANK_SHOWN))
            for _ in range(1 + COLD_STARTS)
        ][1:]
    cold_starts, cold_floors = (list(times) for times in zip(*cold, strict=True))

    print("The app in Chromium as a phone; medians (least to most)")
    report("bare engine boot", boots)
    report("a velocity until result and picture show it", readings)
    report("blank page opened offline", floors)
    report("app opened offline, first digit accepted", starts)
    report("the same two with the browser's start: blank page", cold_floors)
    report("  and the app", cold_starts)
    print("Ratios")
    ratio("reading shown / engine boot", readings, boots, 0.1)
    ratio("offline start / blank page, from the tapped icon", cold_starts, cold_floors, 1.3)
    ratio("offline start / blank page, in a running browser", starts, floors, 1.3)
    return 0


def report(name: str, times: list[float]) -> None:
    """One line of milliseconds."""
    print(f"  {name:<52} {median(times):7.1f} ms ({min(times):.1f} to {max(times):.1f})")


def ratio(name: str, times: list[float], base: list[float], aim: float) -> None:
    """One line with a ratio of medians and what is aimed at."""
    print(f"  {name:<52} {median(times) / median(base):7.3f}    (aim: at most {aim})")


def blank_app(folder: Path) -> Path:
    """The app with a page that has nothing on it, and the same service worker."""
    shutil.copytree(STATIC, folder)
    (folder / "index.html").write_text(BLANK, encoding="utf-8")
    files = json.loads((folder / "files.json").read_text(encoding="utf-8"))
    worker = folder / WORKER
    worker.write_text(worker.read_text(encoding="utf-8").split("\n", 1)[1], encoding="utf-8")
    list_files(folder, EnginePlace(**files["engine_place"]))
    return folder


@contextlib.contextmanager
def phone(playwright: Playwright, chromium: str, profile: Path) -> Iterator[BrowserContext]:
    """Chromium as a phone, with a profile of its own."""
    device = dict(playwright.devices["Pixel 7"])
    device.pop("default_browser_type")
    context = playwright.chromium.launch_persistent_context(
        profile, executable_path=chromium, args=["--no-sandbox", "--disable-gpu"], **device
    )
    context.set_default_timeout(120_000)
    try:
        yield context
    finally:
        context.close()


class _Files(http.server.SimpleHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    extensions_map = TYPES

    def log_message(self, *_: object) -> None:
        """Say nothing."""


@contextlib.contextmanager
def served(folder: Path) -> Iterator[str]:
    """Serve a folder at an address that ends in a slash."""
    handler = functools.partial(_Files, directory=str(folder))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        server.daemon_threads = True
        threading.Thread(target=server.serve_forever, args=(0.01,), daemon=True).start()
        yield f"http://127.0.0.1:{server.server_address[1]}/"
        server.shutdown()


def boot_times(context: BrowserContext, address: str) -> list[float]:
    """Of the bare interpreter, each in a page of its own; the first fills the browser's cache."""
    place = json.loads((STATIC / "files.json").read_text(encoding="utf-8"))["engine_place"]
    times = []
    for _ in range(1 + BOOTS):
        page = context.new_page()
        page.goto(f"{address}blank.html")
        times.append(page.evaluate(BOOT, address + place["pyodide"]))
        page.close()
    return times[1:]


def reading_times(context: BrowserContext, address: str) -> list[float]:
    """Of each velocity that is left to read of a gauging, the first few apart: they warm it up."""
    page = context.new_page()
    page.goto(address)
    with page.expect_file_chooser() as chooser:
        page.get_by_role("button", name="Import files").click()
    content = {"format": "bankside.journal/1", "gauging": GAUGING, "entries": entries()}
    chooser.value.set_files(
        FilePayload(
            name="bench.bankside.json",
            mimeType="application/json",
            buffer=json.dumps(content).encode("utf-8"),
        )
    )
    page.get_by_text("entries are new here").wait_for()
    page.goto(f"{address}#/gauging/{GAUGING}/read")
    page.locator(".standing[aria-busy=false] b").first.wait_for()
    times = []
    for place in range(READ, PLANNED - 1):
        page.keyboard.type(depth(place))
        page.keyboard.press("Enter")
        page.locator(".standing[aria-busy=false]").wait_for()
        times.append(page.evaluate(READING, velocity(place)))
    page.close()
    return times[2:]


def keep_offline(context: BrowserContext, address: str) -> None:
    """Have everything kept, and wait until it was read back."""
    page = context.new_page()
    page.goto(address)
    page.evaluate(
        """() => new Promise(async (done) => {
          navigator.serviceWorker.addEventListener("message", ({ data }) => {
            if (data.kind === "kept") done();
          });
          await navigator.serviceWorker.register("sw.js");
          const { active } = await navigator.serviceWorker.ready;
          active.postMessage({ kind: "keep all" });
        })"""
    )
    page.close()


def start_times(context: BrowserContext, address: str, watch: str) -> list[float]:
    """From the opening of an address until the watch says so, the service worker stopped before."""
    times = []
    for _ in range(1 + STARTS):
        page = context.new_page()
        stop_workers(page)
        page.add_init_script(watch)
        page.goto(address)
        times.append(page.evaluate("window.accepted"))
        page.close()
    return times[1:]


def cold_start(
    playwright: Playwright, chromium: str, profile: Path, address: str, watch: str
) -> float:
    """From the start of the browser until the watch says so."""
    begun = perf_counter()
    with phone(playwright, chromium, profile) as context:
        context.add_init_script(watch)
        page = context.pages[0]
        page.goto(address)
        page.evaluate("window.accepted")
        return 1000 * (perf_counter() - begun)


def stop_workers(page: Page) -> None:
    """Stop every service worker, as it is when nobody looked at the app for a while."""
    devtools = page.context.new_cdp_session(page)
    devtools.send("ServiceWorker.enable")
    devtools.send("ServiceWorker.stopAllWorkers")
    devtools.detach()


def depth(place: int) -> str:
    """In feet, for one reading at 0.6 of it."""
    return f"{0.8 + 0.02 * (place % 12):.2f}"


def velocity(place: int) -> str:
    """In feet a second."""
    return f"{1.1 + 0.01 * (place % 7):.2f}"


def entries() -> list[dict[str, Any]]:
    """A gauging that is planned and half read."""
    positions = [f"{4 + 0.8 * place:.1f}" for place in range(PLANNED)]
    plan = {"rule": "equal", "verticals": PLANNED, "resolution": "0.1", "positions": positions}
    said: list[tuple[str, Any]] = [
        ("site/stream", "Quill Brook"),
        ("units/length", "ft"),
        ("units/velocity", "ft/s"),
        ("rule_set", "common-practice"),
        ("crew/a", {"name": "J. Ostrander", "role": "recorder"}),
        ("wading/w1", {"safe": True, "by": "I. Marrow"}),
        ("start_bank", "left"),
        ("started", "2026-07-14T10:00:00.000-07:00"),
        ("plan", plan),
    ]
    for key, tape, side in (("va", "3.2", "left"), ("vz", "24.0", "right")):
        parts = {"tape": tape, "edge": side, "bank": "sloping", "depth": "0"}
        said += [(f"channels/1/verticals/{key}/{part}", value) for part, value in parts.items()]
    for place in range(READ):
        vertical = f"channels/1/verticals/w{place}"
        said += [
            (f"{vertical}/tape", positions[place]),
            (f"{vertical}/depth", depth(place)),
            (f"{vertical}/readings/r1", {"value": velocity(place), "fraction": 0.6}),
        ]
    return [
        {
            "id": f"00000000-0000-4000-8000-{sequence:012d}",
            "gauging": GAUGING,
            "device": "tablet",
            "sequence": sequence,
            "at": f"2026-07-14T10:{sequence // 60:02d}:{sequence % 60:02d}.000-07:00",
            "what": what,
            "value": value,
        }
        for sequence, (what, value) in enumerate(said, 1)
    ]


if __name__ == "__main__":
    sys.exit(main())
