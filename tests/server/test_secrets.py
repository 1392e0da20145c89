"""Passwords, tokens and codes: kept as hashes alone, in no log, in no sentence, in no cookie."""

from __future__ import annotations

import json
import logging
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any
from urllib.request import Request, urlopen

import attrs
import pytest
from sqlalchemy import insert, select
from sqlalchemy.exc import DBAPIError

from bankside.archive.accounts import add_account
from bankside.archive.archive import Archive, open_archive
from bankside.archive.backup import backup
from bankside.archive.tables import accounts as account_table
from bankside.archive.tables import metadata
from bankside.server.api.application import api_application
from bankside.server.api.asked import Asked
from bankside.server.api.route import Route
from bankside.server.api.routes import ROUTES
from bankside.server.guard import Guard

from .asking import PASSWORD, Answered, Client, Served
from .serving import Serving
from .test_who_may_ask import plainest

_NAME = "Ada Brook"
_WRONG = "a guess that is wrong"


@attrs.frozen
class Secrets:
    """What was told to people and devices while an archive was used, and is nobody else's."""

    password: str
    session: str
    code: str
    device: str

    def all(self) -> tuple[str, ...]:
        """Return each as it may be found: a code also as it may be typed."""
        return (self.password, self.session, self.device, self.code, self.code.lower())


def _used(served: Served) -> Secrets:
    """Use an archive as an office does; wrong passwords and codes are among what it is asked."""
    with served.archive.writing() as connection:
        add_account(connection, _NAME, "lead", PASSWORD)
    client = served.client()
    client.post("sign-in", {"name": _NAME, "password": _WRONG})
    client.post("pair", {"code": "WRONG234", "device": "dev-1", "name": "a phone"})
    session = client.post("sign-in", {"name": _NAME, "password": PASSWORD}).json["token"]
    lead = served.client(session)
    code = lead.post("devices/code", {"name": "Truck tablet"}).json["code"]
    said = {"code": code, "device": "dev-1", "name": "a phone"}
    device = client.post("pair", said).json["token"]
    assert served.client(device).get("field").status == 200
    for route in ROUTES:
        if route.path != "sign-out":
            plainest(lead, route)
    return Secrets(PASSWORD, session, code, device)


def test_no_byte_of_an_archive_or_its_backup_spells_a_secret(
    archive_file: Path, tmp_path: Path
) -> None:
    """Whoever gets hold of the file, of what lies beside it or of a backup, can sign in by none."""
    with open_archive(archive_file) as archive:
        secrets = _used(Served.to_others(archive))
        backup(archive, tmp_path / "backup.db")
        content = b"".join(file.read_bytes() for file in sorted(tmp_path.iterdir()))
    assert content.count(_NAME.encode()) > 1 and b"$argon2id$" in content
    assert [secret for secret in (*secrets.all(), _WRONG) if secret.encode() in content] == []


def test_no_row_of_a_database_spells_a_secret(served: Served) -> None:
    """What is true of a file is true of PostgreSQL."""
    secrets = _used(served)
    with served.archive.reading() as connection:
        rows = "".join(str(connection.execute(select(t)).all()) for t in metadata.sorted_tables)
    assert _NAME in rows
    assert [secret for secret in (*secrets.all(), _WRONG) if secret in rows] == []


def test_no_log_has_a_secret(file_served: Served, caplog: pytest.LogCaptureFixture) -> None:
    """At the most talkative level, signing in, pairing and a fault in Bankside tell of none."""

    def broken(asked: Asked) -> Mapping[str, Any]:
        raise ZeroDivisionError("on purpose")

    routes = (*ROUTES, Route("GET", "broken", "crew", "A fault.", broken, {}))
    served = file_served
    served.app = Guard(api_application(served.office, routes), served.office)
    with caplog.at_level(logging.DEBUG):
        secrets = _used(served)
        answer = served.client(secrets.session).get("broken?token=" + secrets.device)
    assert answer.status == 500 and "ZeroDivisionError" in answer.said
    assert "GET broken" in caplog.text and "on purpose" in caplog.text
    assert [secret for secret in (*secrets.all(), _WRONG) if secret in caplog.text] == []
    assert "on purpose" not in answer.said


def test_an_error_of_the_database_does_not_tell_what_was_to_be_written(archive: Archive) -> None:
    """Such an error may end in a log, with the hash of a password in it."""
    row = {
        "name": _NAME,
        "role": "lead",
        "password": "$argon2id$x",
        "made_at": "",
        "changed_at": "",
    }
    with archive.engine.connect() as connection, pytest.raises(DBAPIError) as error:
        connection.execute(insert(account_table).values(row))
        connection.execute(insert(account_table).values(row))
    assert "accounts" in str(error.value) and "$argon2id$x" not in str(error.value)


def test_a_running_server_prints_no_secret(archive_file: Path, tmp_path: Path) -> None:
    """What the process says, a service manager keeps."""
    with open_archive(archive_file) as archive, archive.writing() as connection:
        add_account(connection, _NAME, "lead", PASSWORD)
    serving = Serving(str(archive_file), tmp_path, "--port", "0")

    def post(path: str, said: object) -> Any:
        request = Request(f"{serving.page}api/1/{path}", json.dumps(said).encode())
        request.add_header("Content-Type", "application/json")
        with urlopen(request, timeout=60) as answer:
            return json.load(answer)

    session = post("sign-in", {"name": _NAME, "password": PASSWORD})["token"]
    code = post("devices/code", {})["code"]
    device = post("pair", {"code": code, "device": "dev-1", "name": "a phone"})["token"]
    serving.stop()
    said = serving.said
    assert serving.page in said
    assert [one for one in (PASSWORD, session, code, device) if one in said] == []


_FOUR = "4711471147114711"


@pytest.mark.parametrize(
    ("path", "content"),
    [
        ("sign-in", f'{{"name": "Ada", "password": {_FOUR}}}'),
        ("sign-in", f'{{"name": "Ada", "password": "{_FOUR * 70}"}}'),
        ("sign-in", f'{{"name": "Ada", "password": ["{_FOUR}"]}}'),
        ("sign-in", f'{{"name": "Ada", "password": "{_FOUR}", "password": "{_FOUR}"}}'),
        ("sign-in", f'{{"name": "Ada", "pasword": "{_FOUR}"}}'),
        ("sign-in", f'{{"name": "Ada", "password": "{_FOUR}"'),
        ("sign-in", f'{{"name": "Ada", "password": "{_FOUR}\\ud800"}}'),
        ("sign-in", f'{{"name": "Ada", "password": "{_FOUR}"}}'),
        ("pair", f'{{"code": {_FOUR}, "device": "d", "name": "n"}}'),
        ("pair", f'{{"code": "{_FOUR * 7}", "device": "d", "name": "n"}}'),
        ("pair", f'{{"code": "{_FOUR}", "device": "d", "name": "n"}}'),
        ("people", f'{{"name": "Ben Ford", "role": "lead", "password": {_FOUR}}}'),
        ("people", f'{{"name": "Ben Ford", "role": "leader", "password": "{_FOUR}"}}'),
        ("people", f'{{"name": "Ben Ford", "role": "lead", "password": "{_FOUR[:9]}"}}'),
    ],
)
def test_no_sentence_repeats_a_secret(file_here: Served, path: str, content: str) -> None:
    """What was refused is told, and a password or a code in it is not: screens are looked at."""
    answer = file_here.client().ask("POST", path, content.encode(), content_type="application/json")
    assert answer.status in (403, 409, 422) and answer.said
    assert _FOUR[:9] not in answer.body.decode()


def _walk(client: Client) -> Iterator[Answered]:
    for route in ROUTES:
        if route.path != "sign-out":
            yield plainest(client, route)


def test_nothing_is_kept_in_cookies(file_served: Served) -> None:
    """No answer sets one, and none that comes is read: no other site's page can ask by it."""
    person = file_served.person("lead", _NAME)
    client = file_served.client()
    answers = [*_walk(person), *_walk(client)]
    answers.append(client.post("sign-in", {"name": _NAME, "password": PASSWORD}))
    assert answers[-1].status == 200
    assert [answer for answer in answers if "set-cookie" in answer.headers] == []


def test_a_token_that_somebody_brings_along_never_comes_to_hold(file_served: Served) -> None:
    """Whoever signs in gets a token made then: nobody can choose it, nor know it beforehand."""
    file_served.person("lead", _NAME)
    chosen = file_served.client("chosen-by-somebody-else")
    said = {"name": _NAME, "password": PASSWORD}
    tokens = {chosen.post("sign-in", said).json["token"] for _ in range(3)}
    assert len(tokens) == 3 and "chosen-by-somebody-else" not in tokens
    assert chosen.get("field").status == 401
    refused = file_served.client().post("sign-in", {**said, "token": "chosen-by-somebody-else"})
    assert refused.status == 422
