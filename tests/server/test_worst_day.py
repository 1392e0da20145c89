"""The server's disk is full, or its database crashes under load: what was acknowledged is there."""

from __future__ import annotations

import hashlib
import http.client
import json
import resource
import threading
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import select

from bankside.archive.archive import open_archive
from bankside.archive.entries import content_of
from bankside.archive.refresh import refresh
from bankside.archive.tables import entries
from bankside.archive.verify import verify
from bankside.gauging.journal.entry import Entry, to_members

from ..archive.building import crossing
from ..archive.cluster import Cluster
from .serving import Serving

_THREADS = 10
_GAUGINGS = 2
_AT_ONCE = 4
_RESTARTS = 2
_PAUSE_S = 0.05
"""Between two attempts; the app waits longer, by web/sync/pauses.ts."""


def _asked(page: str, method: str, path: str, body: bytes, type_: str) -> tuple[int, Any] | None:
    """What is answered; None where no answer came."""
    connection = http.client.HTTPConnection(page.removeprefix("http://").rstrip("/"), timeout=30)
    try:
        connection.request(method, f"/api/1/{path}", body, {"Content-Type": type_})
        response = connection.getresponse()
        return response.status, json.loads(response.read())
    except (OSError, http.client.HTTPException, ValueError):
        return None
    finally:
        connection.close()


def _push(page: str, said: list[Entry]) -> tuple[int, Any] | None:
    body = json.dumps({"entries": [to_members(entry) for entry in said]}).encode()
    return _asked(page, "POST", "entries", body, "application/json")


def _kept(place: str) -> dict[str, str]:
    """Every entry of an archive by its id, once everything is worked out and found in order."""
    with open_archive(place) as archive:
        refresh(archive)
        assert list(verify(archive)) == []
        with archive.reading() as connection:
            rows = connection.execute(select(entries.c.id, entries.c.content)).all()
    assert len({id_ for id_, _ in rows}) == len(rows)
    return {id_: content for id_, content in rows}


@pytest.mark.parametrize("database", ["sqlite"])
def test_a_push_for_which_there_is_no_room_waits_on_the_device(
    make_ready_place: Callable[[], str], tmp_path: Path
) -> None:
    """It is answered by a sentence, nothing of it is kept, and the same push with room is taken."""
    place = make_ready_place()
    first, second = crossing("g1").entries, crossing("g2", remarks="x" * 2_000_000).entries
    photo = bytes(range(256)) * 12_000
    path = f"files/{hashlib.sha256(photo).hexdigest()}"
    serving = Serving(place, tmp_path, "--port", "0")
    try:
        assert _push(serving.page, first)[0] == 200  # type: ignore[index]
        endless = resource.prlimit(serving.pid, resource.RLIMIT_FSIZE)
        room = max(Path(place).stat().st_size, Path(f"{place}-wal").stat().st_size) + 50_000
        resource.prlimit(serving.pid, resource.RLIMIT_FSIZE, (room, endless[1]))
        for answer in (
            _push(serving.page, second),
            _asked(serving.page, "PUT", path, photo, "image/png"),
        ):
            assert answer is not None
            status, said = answer
            assert status == 503, said
            assert said["error"]["said"].endswith("nothing of this was kept.")
        resource.prlimit(serving.pid, resource.RLIMIT_FSIZE, endless)
        status, said = _push(serving.page, second)  # type: ignore[misc]
        assert status == 200 and said["added"] == [entry.id for entry in second]
        assert _asked(serving.page, "PUT", path, photo, "image/png")[0] == 200  # type: ignore[index]
    finally:
        serving.stop()
    assert "Traceback" not in serving.said
    assert _kept(place) == {entry.id: content_of(entry) for entry in (*first, *second)}


class _Pusher(threading.Thread):
    """A device that pushes in parts, and each again until it was answered as kept."""

    def __init__(self, page: str, name: str) -> None:
        super().__init__(daemon=True)
        self._page = page
        self.entries = [
            entry
            for number in range(_GAUGINGS)
            for entry in crossing(f"{name}-g{number}", name=name).entries
        ]
        self.acknowledged: set[str] = set()
        self.again = 0
        self.trouble: object = None

    def run(self) -> None:
        for start in range(0, len(self.entries), _AT_ONCE):
            part = self.entries[start : start + _AT_ONCE]
            while not self._is_kept(part):
                self.again += 1
                time.sleep(_PAUSE_S)
                if self.trouble is not None:
                    return

    def _is_kept(self, part: list[Entry]) -> bool:
        answer = _push(self._page, part)
        if answer is None or answer[0] == 503:
            return False
        status, said = answer
        if status != 200 or said["differing"] or said["refused"]:
            self.trouble = answer
            return False
        self.acknowledged |= {*said["added"], *said["known"]}
        return True


@pytest.mark.parametrize("database", ["postgresql"])
def test_a_database_that_crashes_under_load_loses_nothing(
    make_ready_place: Callable[[], str], cluster: Cluster, tmp_path: Path
) -> None:
    """Ten devices push while it is restarted as by a crash; each entry is there once, as sent.

    What was acknowledged before a crash is looked for right after it, before anything is sent
    again.
    """
    place = make_ready_place()
    serving = Serving(place, tmp_path, "--port", "0")
    pushers = [_Pusher(serving.page, f"d{number}") for number in range(_THREADS)]
    every = sum(len(pusher.entries) for pusher in pushers)
    try:
        for pusher in pushers:
            pusher.start()
        for restart in range(1, _RESTARTS + 1):
            _wait_for(pushers, every * restart // (_RESTARTS + 1))
            said = set[str]().union(*(set(pusher.acknowledged) for pusher in pushers))
            cluster.restart()
            with open_archive(place) as archive, archive.reading() as connection:
                there = set(connection.execute(select(entries.c.id)).scalars())
            assert said <= there
        for pusher in pushers:
            pusher.join(120)
    finally:
        serving.stop()

    assert [pusher.trouble for pusher in pushers] == [None] * _THREADS
    assert not any(pusher.is_alive() for pusher in pushers)
    assert sum(pusher.again for pusher in pushers) > 0
    assert "Traceback" not in serving.said
    sent = {entry.id: content_of(entry) for pusher in pushers for entry in pusher.entries}
    assert _kept(place) == sent
    assert set().union(*(pusher.acknowledged for pusher in pushers)) == set(sent)


def _wait_for(pushers: list[_Pusher], enough: int) -> None:
    until = time.monotonic() + 120
    while sum(len(pusher.acknowledged) for pusher in pushers) < enough:
        assert time.monotonic() < until, "the devices do not get on"
        time.sleep(0.005)
