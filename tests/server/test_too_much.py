"""More than a server takes: too large, too often, and by whom nobody knows."""

from __future__ import annotations

import asyncio
import json
import tempfile
import tracemalloc
from pathlib import Path

import pytest

from bankside.server.api.bodies import (
    MOST_FILE,
    MOST_FROM_ANYBODY,
    MOST_JSON,
    MOST_VALUES,
)
from bankside.server.api.route import Route
from bankside.server.api.routes import ROUTES

from .asking import PASSWORD, Answered, Client, Served
from .loops import run
from .test_who_may_ask import path_of

_TAKING = [route for route in ROUTES if route.takes is not None]
_CHUNK = b" " * 1_000_000
_FORM = "multipart/form-data; boundary=b"
_HEAD = b'--b\r\nContent-Disposition: form-data; name="file"; filename="flow.csv"\r\n\r\n'
# What is handed over at a time, the spool of a form, and what the answer itself takes.
_MOST_MEMORY = 16_000_000


@pytest.fixture
def meanwhile(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder of files that are only there meanwhile."""
    folder = tmp_path / "meanwhile"
    folder.mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(folder))
    return folder


def _limit(route: Route) -> tuple[int, str]:
    """Return how much a route takes, and how its sentence says so."""
    if isinstance(route.takes, str):
        return MOST_FILE, "larger than 64 MB"
    if route.who is None:
        return MOST_FROM_ANYBODY, "larger than 20 kB"
    return MOST_JSON, "larger than 8 MB"


def _sent(client: Client, route: Route, parts: list[bytes], **headers: str) -> Answered:
    if route.takes == "form":
        headers["content_type"] = _FORM
        parts = [_HEAD, *parts]
    elif route.takes != "bytes":
        headers["content_type"] = "application/json"
    return client.ask(route.method, path_of(route), parts=parts, **headers)


@pytest.mark.parametrize("route", _TAKING, ids=lambda route: f"{route.method} {route.path}")
def test_too_much_is_refused_while_it_comes(
    file_served: Served, route: Route, meanwhile: Path
) -> None:
    """With its length said and without, the answer is 413; no memory or disk is filled by it."""
    client = file_served.person("lead")
    most, words = _limit(route)
    assert _sent(client, route, [b" "], content_length=f"{most + 1}").status == 413

    tracemalloc.start()
    try:
        answers = [_sent(client, route, [_CHUNK] * (most // len(_CHUNK) + 3)) for _ in range(2)]
        peak = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()

    for answer in answers:
        assert answer.status == 413 and words in answer.said
        assert answer.headers["connection"] == "close"
    assert peak < _MOST_MEMORY
    assert list(meanwhile.iterdir()) == []


@pytest.mark.parametrize(
    "route", [r for r in _TAKING if r.who is not None], ids=lambda route: route.path
)
def test_nothing_is_read_of_what_somebody_unknown_sends(file_served: Served, route: Route) -> None:
    """Whoever is not let in is told so before a byte of the body is taken."""
    left = [b"x"] * 3

    async def receive() -> dict[str, object]:
        left.pop()
        return {"type": "http.request", "body": b"x", "more_body": True}

    sent: list[dict[str, object]] = []

    async def send(message: dict[str, object]) -> None:
        sent.append(message)

    scope = file_served.client().scope_of(route.method, path_of(route))
    run(file_served.app(scope, receive, send))  # type: ignore[arg-type]
    assert sent[0]["status"] == 401 and len(left) == 3


def test_json_of_very_many_values_is_refused_unread(file_here: Served) -> None:
    """Small values take far more memory than their text has letters."""
    content = b'{"entries": [' + b"{}," * (MOST_VALUES // 2 + 1) + b"{}]}"
    assert len(content) < MOST_JSON
    answer = file_here.client().ask("POST", "entries", content, content_type="application/json")
    assert answer.status == 422 and "more than 1,000,000 values" in answer.said


def test_another_spelling_of_a_name_is_no_other_name(file_served: Served) -> None:
    """Spaces and accents written otherwise lead to the same account, and to the same count."""
    file_served.person("lead", "Zoë Brook")
    client = file_served.client()
    names = ["Zoë" + " " * (n + 1) + "Brook" for n in range(6)]
    names += ["Zoe\u0308" + " " * (n + 1) + "Brook" for n in range(6)]
    statuses = [
        client.post(
            "sign-in", {"name": name, "password": "a guess at it"}, address=f"192.0.2.{n}"
        ).status
        for n, name in enumerate(names)
    ]
    assert statuses == [403] * 10 + [429] * 2


def test_many_guesses_at_once_are_no_more_than_one_by_one(file_served: Served) -> None:
    """Whoever sends all guesses before the first is answered gets no more of them looked at."""
    file_served.person("lead", "Ada Brook")
    client = file_served.client()
    body = json.dumps({"name": "Ada Brook", "password": "a guess at it"}).encode()

    async def guess(n: int) -> int:
        answer = await client.asking(
            "POST", "sign-in", body, address=f"192.0.2.{n}", content_type="application/json"
        )
        return answer.status

    async def all_at_once() -> list[int]:
        return list(await asyncio.gather(*map(guess, range(60))))

    statuses = run(all_at_once())
    assert statuses.count(403) == 10 and statuses.count(429) == 50


def test_whoever_signs_in_rightly_is_not_counted(file_served: Served) -> None:
    """An office whose people share one address signs in as often as it likes."""
    file_served.person("lead", "Ada Brook")
    said = {"name": "Ada Brook", "password": PASSWORD}
    statuses = {file_served.client().post("sign-in", said).status for _ in range(25)}
    assert statuses == {200}
