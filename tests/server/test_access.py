"""Who is answered: by role, by token, by the host and the page that a request comes from."""

from __future__ import annotations

from typing import Any

import pytest

from bankside.archive.devices import make_code
from bankside.server.attempts import Attempts
from bankside.server.guard import refused_as_foreign
from bankside.server.office import Office

from .asking import LOOPBACK_PAGE, PAGE, PASSWORD, Client, Served


def test_a_void_token_is_as_good_as_none(served: Served) -> None:
    """A token that somebody made up, or that was given back, lets nobody in."""
    device = served.device()
    assert device.get("field").status == 200
    assert device.post("sign-out").status == 200

    for client in (device, served.client("made up"), served.client("x" * 5000)):
        answer = client.get("field")
        assert answer.status == 401 and answer.headers["www-authenticate"] == "Bearer"


def test_this_machine_is_served_without_signing_in(here: Served) -> None:
    """On a loopback address whoever uses the machine is the lead."""
    about = here.client().get("about").json

    assert about["you"] == {"name": "this machine", "role": "lead", "device": None}
    assert not about["sign_in"]
    assert here.client("made up").get("field").status == 200


def test_whoever_asks_is_told_who_it_is(served: Served) -> None:
    """A page asks before it shows what may be done."""
    assert served.client().get("about").json["you"] is None
    assert served.client().get("about").json["sign_in"]
    assert served.device("dev-9").get("about").json["you"] == {
        "name": "phone dev-9",
        "role": "crew",
        "device": "dev-9",
    }


def test_a_person_signs_in_and_out(served: Served) -> None:
    """Name and password give a token for a day at a desk, and signing out ends it."""
    served.person("reviewer", "Ada Brook")
    client = served.client()

    wrong = client.post("sign-in", {"name": "Ada Brook", "password": "not hers at all"})
    assert wrong.status == 403 and "do not belong together" in wrong.said
    right = client.post("sign-in", {"name": "Ada Brook", "password": PASSWORD}).json
    assert right["you"] == {"name": "Ada Brook", "role": "reviewer", "device": None}
    signed_in = served.client(right["token"])
    assert signed_in.get("field").status == 200
    signed_in.post("sign-out")
    assert signed_in.get("field").status == 401


def test_a_device_is_paired_by_its_code_once(served: Served) -> None:
    """The first device that shows the code gets a token; whoever comes later does not."""
    with served.archive.writing() as connection:
        code = make_code(connection, "Ada Brook", name="Truck tablet")
    said = {"code": code.code.lower(), "device": "dev-1", "name": "a phone"}

    first = served.client().post("pair", said)
    second = served.client().post("pair", {**said, "device": "dev-2"})

    assert first.json["you"] == {"name": "Truck tablet", "role": "crew", "device": "dev-1"}
    assert first.json["after"] == 0
    assert first.json["lineage"] == served.client().get("about").json["lineage"]
    assert second.status == 403 and "a new one is right" in second.said
    assert served.client(first.json["token"]).get("field").status == 200


def test_whoever_guesses_is_kept_waiting(served: Served) -> None:
    """After some failures from one address, or under one name, nothing more is looked at."""
    served.person("lead", "Ada Brook")
    said = {"name": "Ada Brook", "password": "a guess at it"}
    client = served.client()

    statuses = [client.post("sign-in", said, address=f"192.0.2.{n}").status for n in range(11)]
    assert statuses == [403] * 10 + [429]
    right = {"name": "Ada Brook", "password": PASSWORD}
    refusal = client.post("sign-in", right, address="192.0.2.99")
    assert refusal.status == 429 and int(refusal.headers["retry-after"]) > 800
    said = {"code": "GUESSED2", "device": "d", "name": "n"}
    codes = [client.post("pair", said) for _ in range(21)]
    assert [answer.status for answer in codes] == [403] * 20 + [429]


def test_failures_are_forgotten_with_time_and_with_success() -> None:
    """Who mistyped yesterday starts anew today."""
    at = 0.0
    attempts = Attempts(2, seconds=60, clock=lambda: at)
    assert [attempts.begin("Ada") for _ in range(3)] == [0, 0, 61]
    assert attempts.begin("Ben") == 0
    at = 61.0
    assert attempts.begin("Ada") == 0
    attempts.forget("Ada")
    assert [attempts.begin("Ada") for _ in range(2)] == [0, 0]
    attempts.take_back("Ada")
    assert [attempts.begin("Ada") for _ in range(2)] == [0, 61]


@pytest.mark.parametrize(
    ("method", "headers", "status"),
    [
        ("GET", {"host": "127.0.0.1:8000"}, None),
        ("GET", {"host": "localhost:8123"}, None),
        ("GET", {"host": "[::1]:8000"}, None),
        ("GET", {"host": "rebound.example.net:8000"}, 421),
        ("GET", {"host": "127.0.0.1.example.net"}, 421),
        ("GET", {"host": "["}, 421),
        ("GET", {}, 421),
        ("POST", {"host": "localhost:8000"}, None),
        ("POST", {"host": "localhost:8000", "origin": "http://localhost:8000"}, None),
        ("POST", {"host": "localhost:8000", "origin": "http://localhost:9000"}, 403),
        ("POST", {"host": "localhost:8000", "origin": "https://evil.example.net"}, 403),
        ("POST", {"host": "localhost:8000", "origin": "null"}, 403),
        ("DELETE", {"host": "localhost:8000", "sec-fetch-site": "cross-site"}, 403),
        ("DELETE", {"host": "localhost:8000", "sec-fetch-site": "same-site"}, 403),
        ("PUT", {"host": "localhost:8000", "sec-fetch-site": "same-origin"}, None),
    ],
)
def test_only_requests_that_are_meant_for_this_server_are_looked_at(
    method: str, headers: dict[str, str], status: int | None
) -> None:
    """A page of another site, and a name that was led here, get nothing and change nothing."""
    hosts = frozenset({"127.0.0.1", "::1", "localhost"})

    refusal = refused_as_foreign(method, headers, hosts)

    assert (None if refusal is None else refusal.status) == status


def test_a_server_is_named_as_it_is_reached(here: Served) -> None:
    """Served to others it answers under its own name alone, not under that of this machine."""
    assert Office.of(here.archive, PAGE, sign_in=True).hosts == {"bank.example.org"}
    assert "localhost" in Office.of(here.archive, LOOPBACK_PAGE, sign_in=False).hosts
    foreign = Client(here.app, host="rebound.example.net")
    assert foreign.get("about").status == 421


@pytest.mark.parametrize(
    ("said", "status", "words"),
    [
        ({"content": b"{"}, 422, "must be JSON"),
        ({"content": b"\xff"}, 422, "no UTF-8"),
        ({"content": b"[]"}, 422, "must be a JSON object"),
        ({"content": b'{"after": "1"}'}, 422, "after must be a whole number"),
        ({"content": b'{"after": 0, "held": ["a b"]}'}, 422, "held must be"),
        ({"content": b'{"after": 0, "most": 0}'}, 422, "most must be"),
        ({"content": b'{"after": 0, "afer": 1}'}, 422, 'did you mean "after"?'),
        ({"content": b"{}", "content_type": "text/plain"}, 415, "application/json would be right"),
        ({"content": b"{}", "content_length": "8000001"}, 413, "larger than 8 MB"),
        ({"parts": [b" " * 4_000_000] * 3}, 413, "larger than 8 MB"),
    ],
)
def test_what_cannot_be_taken_is_told_in_a_sentence(
    here: Served, said: dict[str, Any], status: int, words: str
) -> None:
    """Whatever is sent wrongly, the answer says what would be right; too much is not even read."""
    answer = here.client().ask("POST", "pull", **{"content_type": "application/json", **said})

    assert answer.status == status and words in answer.said
    assert answer.json["error"]["status"] == status


def test_what_is_not_there_is_told_in_the_same_form(here: Served) -> None:
    """An address that is none, and a method that is none, are answered like everything else."""
    assert here.client().get("nothing").status == 404
    answer = here.client().ask("DELETE", "pull")
    assert answer.status == 405 and answer.json["error"]["status"] == 405
    assert "POST" in answer.headers["allow"]


def test_nothing_is_kept_on_its_way(here: Served) -> None:
    """No proxy and no browser keeps what an archive answers, and no page frames it."""
    headers = here.client().get("about").headers

    assert headers["cache-control"] == "no-store"
    assert "frame-ancestors 'none'" in headers["content-security-policy"]
