"""What is worked out beside the answers: begun anew at every start, and stopped by nothing."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from sqlalchemy import select

from bankside.archive.archive import Archive
from bankside.archive.devices import devices, make_code, pair
from bankside.archive.tables import devices as device_table
from bankside.archive.tables import gaugings
from bankside.archive.trouble import ArchiveTrouble
from bankside.server import background as module
from bankside.server.background import Background

from ..archive.building import crossing, store

_PATIENCE_S = 30


@pytest.fixture
def background(archive: Archive) -> Iterator[Background]:
    """The background of an archive, not started; it is stopped in the end."""
    background = Background(archive, again_after=0.05)
    yield background
    background.stop()


def worked_out(archive: Archive) -> set[str]:
    """The gaugings that were worked out."""
    with archive.reading() as connection:
        return set(connection.execute(select(gaugings.c.id)).scalars())


def eventually(holds: Callable[[], bool]) -> None:
    """Wait until something holds; fail where it does not in a long time."""
    until = time.monotonic() + _PATIENCE_S
    while not holds():
        assert time.monotonic() < until, "it did not come about"
        time.sleep(0.01)


def test_what_was_left_is_worked_out_at_the_start_and_the_rest_when_it_comes(
    archive: Archive, background: Background
) -> None:
    """A server that was killed before it had worked something out does so when it starts."""
    store(archive, crossing("g1"))

    background.start()
    eventually(lambda: worked_out(archive) == {"g1"})
    store(archive, crossing("g2"))
    background.wake()
    eventually(lambda: worked_out(archive) == {"g1", "g2"})


@pytest.mark.parametrize("error", [ArchiveTrouble("no room left"), ZeroDivisionError("a fault")])
def test_whatever_goes_wrong_is_logged_and_tried_again(
    archive: Archive,
    background: Background,
    error: Exception,
    monkeypatch: pytest.MonkeyPatch,
    caplog: pytest.LogCaptureFixture,
) -> None:
    """A full disk and a fault in the program end nothing: the entries are there, and it goes on."""
    store(archive, crossing("g1"))
    right = module.refresh
    failures = iter([error, error])

    def sometimes(*arguments: Any) -> int:
        failure = next(failures, None)
        if failure is not None:
            raise failure
        return right(*arguments)

    monkeypatch.setattr(module, "refresh", sometimes)
    background.start()

    eventually(lambda: worked_out(archive) == {"g1"})
    assert str(error) in caplog.text


def test_it_stops_while_much_is_waiting(archive: Archive, background: Background) -> None:
    """Stopping waits for the gaugings at hand, not for all of them."""
    store(archive, *(crossing(f"g{number}") for number in range(120)))

    background.start()
    background.stop()

    assert len(worked_out(archive)) < 120


def test_when_a_device_was_heard_of_is_noted(archive: Archive, background: Background) -> None:
    """A lead sees which device has not been heard of for long."""
    with archive.writing() as connection:
        code = make_code(connection, "Ada Brook")
        paired = pair(connection, code.code, "dev-1", "a phone")
        assert paired is not None
        connection.execute(device_table.update().values(seen_at=None))

    background.start()
    background.saw(paired[1].id)

    def noted() -> bool:
        with archive.reading() as connection:
            return devices(connection)[0].seen_at is not None

    eventually(noted)
