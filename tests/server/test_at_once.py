"""What many ask at once: nothing is missed, and nothing is mixed up."""

from __future__ import annotations

import asyncio
import threading
from collections.abc import Callable
from typing import Any

import pytest

from bankside.gauging.journal.entry import to_members

from ..archive.building import crossing, keep
from ..archive.cluster import Cluster
from .asking import Answered, Served
from .loops import run


def at_once(*acts: Callable[[], None]) -> None:
    """Do everything at the same time; raise what goes wrong in any of it."""
    wrong: list[BaseException] = []

    def guarded(act: Callable[[], None]) -> None:
        try:
            act()
        except BaseException as error:  # told to the test, which waits
            wrong.append(error)

    threads = [threading.Thread(target=guarded, args=(act,)) for act in acts]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(120)
    assert wrong == []


def test_a_device_that_pulls_while_others_push_misses_nothing(served: Served) -> None:
    """Numbers are given in the order in which pushes end, so that none comes late below another."""
    pushing = [served.device(f"dev-{number}") for number in range(4)]
    pulling = served.device("dev-9")
    said = [
        [to_members(entry) for entry in crossing(f"g{number}", name=f"d{number}").entries]
        for number in range(4)
    ]
    got: list[str] = []
    done = threading.Event()

    def push(number: int) -> None:
        for entry in said[number]:
            assert pushing[number].post("entries", {"entries": [entry]}).status == 200

    def pull() -> None:
        after = 0
        while True:
            last = done.is_set()
            answer = pulling.post("pull", {"after": after, "most": 7}).json
            got.extend(entry["id"] for entry in answer["entries"])
            after = answer["after"]
            if last and not answer["more"] and not answer["entries"]:
                return

    def push_all() -> None:
        try:
            at_once(*(lambda number=number: push(number) for number in range(4)))
        finally:
            done.set()

    at_once(push_all, pull)

    every = [entry["id"] for entries in said for entry in entries]
    assert sorted(got) == sorted(every)


@pytest.mark.parametrize("database", ["sqlite"])
def test_notes_that_are_asked_for_at_once_are_drawn_one_after_the_other(served: Served) -> None:
    """The library that draws mixes up pictures that are drawn at the same time."""
    keep(served.archive, *(crossing(f"g{number}", name=f"d{number}") for number in range(4)))
    client = served.device()
    paths = [f"gaugings/g{number}/note.pdf" for number in range(4)]
    alone = {path: client.get(path).body for path in paths}

    async def together() -> list[Answered]:
        return await asyncio.gather(*(client.asking("GET", path) for path in (*paths, *paths)))

    answers = run(together())

    assert [answer.body for answer in answers] == [*alone.values(), *alone.values()]


def test_nothing_secret_is_logged(
    served: Served, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    """Whatever breaks while a password, a code or a token is looked at, the log has none."""

    def broken(*_: Any) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("bankside.server.api.pairing.who_signs_in", broken)
    monkeypatch.setattr("bankside.server.api.pairing.pair", broken)
    monkeypatch.setattr("bankside.server.api.field.last_visits", broken)
    client = served.device()
    token = client._token

    signed_in = client.post("sign-in", {"name": "Ada Brook", "password": "my secret words"})
    paired = client.post("pair", {"code": "SECRET22", "device": "d", "name": "n"})
    field = client.get("field")

    assert [signed_in.status, paired.status, field.status] == [500] * 3
    assert "fault in Bankside" in field.said and "ZeroDivisionError" in caplog.text
    for secret in ("my secret words", "SECRET22", token):
        assert secret not in caplog.text and secret not in field.body.decode()


@pytest.mark.parametrize("database", ["postgresql"])
def test_a_database_that_was_away_is_told_and_found_again(served: Served, cluster: Cluster) -> None:
    """While the database is restarted a sentence says so, and then everything goes on."""
    device = served.device()
    entry = to_members(crossing("g1").entries[0])
    assert device.post("entries", {"entries": [entry]}).json["added"] == [entry["id"]]

    cluster.stop()
    try:
        away = device.post("entries", {"entries": [entry]})
    finally:
        cluster.start()

    assert away.status == 503 and "cannot be used" in away.said
    assert device.post("entries", {"entries": [entry]}).json["known"] == [entry["id"]]
