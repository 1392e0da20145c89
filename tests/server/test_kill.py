"""What a device was told is kept is kept, whenever the server's process ends."""

from __future__ import annotations

import http.client
import json
import random
import ssl
import threading
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import func, select

from bankside.archive.accounts import add_account
from bankside.archive.archive import Archive, open_archive
from bankside.archive.refresh import refresh
from bankside.archive.tables import entries
from bankside.archive.verify import verify
from bankside.gauging.journal.entry import to_members

from ..archive.building import crossing
from .serving import Serving

_PUSHES = 1000
_KILLS = 6


@pytest.fixture
def place(make_ready_place: Callable[[], str]) -> str:
    """Where there is an archive with nothing in it."""
    return make_ready_place()


class _Pusher:
    """A device that pushes until each push was answered, and again after any failure."""

    def __init__(self, pushes: list[list[dict[str, Any]]]) -> None:
        self._pushes = pushes
        self.page = ""
        self.acknowledged: list[str] = []
        self.said_again: list[str] = []
        self.done = False
        self.trouble: BaseException | None = None

    def run(self) -> None:
        """Push everything."""
        try:
            for push in self._pushes:
                while not self._answered(push):
                    time.sleep(0.02)
        except BaseException as error:  # told to the test, which waits
            self.trouble = error
        self.done = True

    def _answered(self, push: list[dict[str, Any]]) -> bool:
        host = self.page.removeprefix("http://").rstrip("/")
        connection = http.client.HTTPConnection(host, timeout=20)
        headers = {"Content-Type": "application/json"}
        try:
            body = json.dumps({"entries": push})
            connection.request("POST", "/api/1/entries", body, headers)
            response = connection.getresponse()
            answer = json.loads(response.read())
        except (OSError, http.client.HTTPException, ValueError):
            return False
        finally:
            connection.close()
        assert response.status == 200, answer
        assert not answer["differing"] and not answer["refused"]
        self.acknowledged += answer["added"] + answer["known"]
        self.said_again += answer["known"]
        return True


def _pushes() -> list[list[dict[str, Any]]]:
    """A thousand pushes: the entries of many gaugings, each pushed as it is said."""
    said: list[dict[str, Any]] = []
    number = 0
    while len(said) < _PUSHES:
        number += 1
        said += [to_members(entry) for entry in crossing(f"g{number}").entries]
    return [[entry] for entry in said[:_PUSHES]]


def test_whatever_was_acknowledged_is_there_after_the_process_was_killed(
    place: str, tmp_path: Path
) -> None:
    """The process is killed again and again while a device pushes; nothing is lost or doubled.

    An entry that was written and not acknowledged is pushed again, and is known. This holds the
    order of transaction and answer. It says nothing of power cuts: it passes with weak settings of
    the database too, as the system keeps what it was given when a process is killed. The settings
    that survive a power cut were chosen by the documentation of the databases.
    """
    pushes = _pushes()
    pusher = _Pusher(pushes)
    chance = random.Random(20261129)
    serving = Serving(place, tmp_path, "--port", "0")
    pusher.page = serving.page
    thread = threading.Thread(target=pusher.run, daemon=True)
    thread.start()
    kills = 0
    while not pusher.done and kills < _KILLS:
        enough = len(pusher.acknowledged) + _PUSHES // (_KILLS + 2)
        while not pusher.done and len(pusher.acknowledged) < enough:
            time.sleep(0.001)
        time.sleep(chance.uniform(0, 0.01))
        serving.kill()
        kills += 1
        serving.start()
        pusher.page = serving.page
    thread.join(120)
    serving.kill()

    assert pusher.trouble is None and pusher.done and kills == _KILLS
    every = [entry["id"] for push in pushes for entry in push]
    assert pusher.acknowledged == every
    with open_archive(place) as archive:
        _require_whole(archive, every)


def _require_whole(archive: Archive, every: list[str]) -> None:
    with archive.reading() as connection:
        kept = connection.execute(select(entries.c.id).order_by(entries.c.number)).scalars().all()
        assert connection.execute(select(func.count(entries.c.id.distinct()))).scalar() == len(kept)
    assert list(kept) == every
    refresh(archive)
    assert list(verify(archive)) == []


@pytest.fixture
def encrypted(
    place: str, pem: tuple[Path, Path], free_port: int, tmp_path: Path
) -> Iterator[Serving]:
    """A server that encrypts by itself, with somebody who may sign in."""
    with open_archive(place) as archive, archive.writing() as connection:
        add_account(connection, "Ada Brook", "lead", "a long walk upstream")
    url = ("--url", "https://bank.example.org:8443/")
    files = ("--certificate", str(pem[0]), "--key", str(pem[1]))
    serving = Serving(
        place, tmp_path, "--address", "0.0.0.0", "--port", str(free_port), *url, *files
    )
    yield serving
    serving.stop()


def test_a_server_for_others_encrypts_and_asks_for_a_token(
    encrypted: Serving, pem: tuple[Path, Path], free_port: int
) -> None:
    """By the certificate that it was given; under its own name, and to nobody without a token."""
    context = ssl.create_default_context(cafile=pem[0])
    context.check_hostname = False
    assert encrypted.page == "https://bank.example.org:8443/"

    def ask(path: str, host: str = "bank.example.org:8443") -> tuple[int, Any]:
        headers = {"Host": host}
        request = urllib.request.Request(
            f"https://127.0.0.1:{free_port}/api/1/{path}", headers=headers
        )
        try:
            with urllib.request.urlopen(request, context=context, timeout=20) as answer:
                return answer.status, json.load(answer)
        except urllib.error.HTTPError as refusal:
            with refusal:
                return refusal.code, json.load(refusal)

    status, about = ask("about")
    assert status == 200 and about["sign_in"] and about["you"] is None
    assert ask("field")[0] == 401
    assert ask("about", "127.0.0.1")[0] == 421
