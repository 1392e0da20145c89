"""The computing part in a browser: it starts, dies, is started again, and never blocks entry."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from bankside.bank import answer
from bankside.server.headers import CONTENT_SECURITY_POLICY

from .browsing import Faults
from .hosts import Host, engine_place
from .standing import COMPUTES, line, open_gauging

AGAIN = "Computing is being started again"
OFF = "Computing is off; readings are kept all the same"
GIVES_UP_MS = 150_000
"""After so long without a sign of life nobody waits any more: three boots of 45 s, and pauses."""


@pytest.fixture
def wasm(app: Path) -> str:
    """The path of the interpreter, whose loader is the one that waits for ever."""
    return engine_place(app)["pyodide"] + "pyodide.asm.wasm"


def not_told(page: Page) -> None:
    """Go to the check of the open gauging, where the engine has not spoken yet."""
    page.get_by_role("link", name=re.compile("Check")).click()
    expect(page.get_by_text("Not told yet:")).to_be_visible()


def throw_in_worker(page: Page) -> None:
    """Let the engine's thread end by an error that nothing in it hears."""
    page.workers[0].evaluate("setTimeout(() => { throw new Error('killed by the test') })")


def test_a_killed_engine_is_started_again_and_answers_what_waited(
    page: Page, host: Host, wasm: str, faults: Faults
) -> None:
    """A question that was put before the thread died is answered by the next one."""
    faults.expect("killed by the test")
    host.unanswered.add(wasm)
    page.goto(host.address)
    open_gauging(page)
    not_told(page)
    host.unanswered.clear()
    throw_in_worker(page)
    line(page, AGAIN)
    expect(page.get_by_text("Not told yet:")).to_have_count(0)


def test_an_engine_that_answered_is_started_again_after_its_death(
    page: Page, host: Host, faults: Faults
) -> None:
    """A death after the first answer costs the person nothing but the wait."""
    faults.expect("killed by the test")
    page.goto(host.address)
    line(page, COMPUTES)
    throw_in_worker(page)
    line(page, AGAIN)
    line(page, COMPUTES)


def test_a_thread_that_ended_without_a_word_is_found_out(page: Page, host: Host) -> None:
    """A browser may end a thread silently; the next question finds nobody, and brings another."""
    page.clock.install()
    page.goto(host.address)
    line(page, COMPUTES)
    page.workers[0].evaluate("self.close()")
    open_gauging(page)
    not_told(page)
    page.clock.run_for(21_000)
    expect(page.get_by_text("Not told yet:")).to_have_count(0)


def test_a_boot_that_never_ends_is_given_up_and_entry_goes_on(
    page: Page, host: Host, wasm: str
) -> None:
    """Waiting for an interpreter ends after two and a half minutes; readings are taken."""
    host.unanswered.add(wasm)
    page.clock.install()
    page.goto(host.address)
    line(page, "Computing is being started")
    page.clock.run_for(GIVES_UP_MS)
    line(page, OFF)
    open_gauging(page)


def test_a_broken_off_interpreter_is_given_up_at_once_and_tried_again_on_asking(
    page: Page, host: Host, wasm: str
) -> None:
    """A download that breaks off needs no time limit; once it is there, the gauging is told."""
    host.cut.add(wasm)
    page.goto(host.address)
    line(page, OFF)
    open_gauging(page)
    page.get_by_role("link", name=re.compile("Check")).click()
    expect(page.get_by_text("Nothing is computed")).to_be_visible()
    host.cut.clear()
    page.get_by_role("button", name="Start computing again").click()
    expect(page.get_by_text("Nothing is computed")).to_have_count(0)
    expect(page.get_by_text("Not told yet:")).to_have_count(0)


def test_a_forbidden_interpreter_is_given_up_at_once(
    page: Page, host: Host, faults: Faults
) -> None:
    """A host whose policy forbids WebAssembly is found out, without waiting for the time limit."""
    faults.expect("wasm|WebAssembly")
    host.policy = CONTENT_SECURITY_POLICY.replace(" 'wasm-unsafe-eval'", "")
    page.goto(host.address)
    line(page, OFF)
    open_gauging(page)


def test_the_app_says_which_version_computes(page: Page, host: Host) -> None:
    """The browser's engine says of itself what the same Python files say here."""
    about = json.loads(answer(json.dumps({"ask": "about"})))
    page.goto(host.address)
    line(page, COMPUTES)
    page.get_by_role("link", name="Settings").click()
    versions = f"Bankside {about['version']}, methods {about['method_version']}."
    expect(page.get_by_text(versions)).to_be_visible()
