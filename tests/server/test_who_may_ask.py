"""Every route, asked by every kind of caller, answers as the table in the documents says."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from http import HTTPStatus
from pathlib import Path

import attrs
import pytest
from sqlalchemy import func, select

from bankside.archive.accounts import accounts, add_account, remove_account, set_password
from bankside.archive.archive import Archive
from bankside.archive.devices import devices, make_code, pair, revoke
from bankside.archive.roles import ROLES, Role
from bankside.archive.sessions import open_session
from bankside.archive.tables import metadata
from bankside.server.api.route import Route
from bankside.server.api.routes import ROUTES

from .asking import PASSWORD, Answered, Client, Served
from .who_may import WHO_MAY

_DOCUMENT = Path(__file__).parents[2] / "docs" / "server.md"
_PARTS = {"id": "nothing", "sha256": "0" * 64, "name": "Nobody"}
_CHANGES = "a page of another site"

Asks = Callable[[Served, Role], tuple[Client, Mapping[str, str]]]
"""What makes somebody who asks, and the headers that go with every request of theirs."""


@attrs.frozen
class Caller:
    """A kind of caller: the column of the table that tells what is answered, and who asks."""

    name: str
    column: str
    asks: Asks


def _account(served: Served, role: Role) -> tuple[str, str]:
    """Return the name and a token of a new account."""
    with served.archive.writing() as connection:
        name = f"{role} {len(accounts(connection))}"
        token, _ = open_session(connection, add_account(connection, name, role, PASSWORD))
    return name, token


def _person(served: Served, role: Role) -> tuple[Client, Mapping[str, str]]:
    return served.client(_account(served, role)[1]), {}


def _device(served: Served, role: Role) -> tuple[Client, Mapping[str, str]]:
    return served.client(_paired(served, role)), {}


def _paired(served: Served, role: Role) -> str:
    with served.archive.writing() as connection:
        code = make_code(connection, "Ada Brook", role)
        paired = pair(connection, code.code, f"dev-{len(devices(connection))}", "a phone")
    assert paired is not None
    return paired[0]


def _nobody(served: Served, role: Role) -> tuple[Client, Mapping[str, str]]:
    return served.client(), {}


def _made_up(served: Served, role: Role) -> tuple[Client, Mapping[str, str]]:
    return served.client("made-up-token-of-43-signs-0123456789abcdefg"), {}


def _nearly(served: Served, role: Role) -> tuple[Client, Mapping[str, str]]:
    return served.client(_account(served, role)[1][:-1]), {}


def _expired(served: Served, role: Role) -> tuple[Client, Mapping[str, str]]:
    with served.archive.writing() as connection:
        name = f"late {role} {len(accounts(connection))}"
        account = add_account(connection, name, role, PASSWORD)
        token, _ = open_session(connection, account, hours=-1)
    return served.client(token), {}


def _signed_out(served: Served, role: Role) -> tuple[Client, Mapping[str, str]]:
    client = _person(served, role)[0]
    assert client.post("sign-out").status == HTTPStatus.OK
    return client, {}


def _removed(served: Served, role: Role) -> tuple[Client, Mapping[str, str]]:
    name, token = _account(served, role)
    with served.archive.writing() as connection:
        remove_account(connection, name)
    return served.client(token), {}


def _other_password(served: Served, role: Role) -> tuple[Client, Mapping[str, str]]:
    name, token = _account(served, role)
    with served.archive.writing() as connection:
        set_password(connection, name, f"{PASSWORD}, and down")
    return served.client(token), {}


def _withdrawn(served: Served, role: Role) -> tuple[Client, Mapping[str, str]]:
    token = _paired(served, role)
    with served.archive.writing() as connection:
        revoke(connection, devices(connection)[0].id)
    return served.client(token), {}


def _by_basic(served: Served, role: Role) -> tuple[Client, Mapping[str, str]]:
    return served.client(), {"authorization": f"Basic {_account(served, role)[1]}"}


def _by_cookie(served: Served, role: Role) -> tuple[Client, Mapping[str, str]]:
    return served.client(), {"cookie": f"token={_account(served, role)[1]}"}


def _from_elsewhere(served: Served, role: Role) -> tuple[Client, Mapping[str, str]]:
    return _person(served, role)[0], {"origin": "https://elsewhere.example.net"}


def _of_elsewhere(served: Served, role: Role) -> tuple[Client, Mapping[str, str]]:
    return _person(served, role)[0], {"sec_fetch_site": "cross-site"}


def _by_another_name(served: Served, role: Role) -> tuple[Client, Mapping[str, str]]:
    return Client(served.app, _account(served, role)[1], "rebound.example.net"), {}


CALLERS = (
    Caller("nobody", "nobody", _nobody),
    Caller("with a token that was made up", "nobody", _made_up),
    Caller("with a token that lacks a sign", "nobody", _nearly),
    Caller("signed in yesterday", "nobody", _expired),
    Caller("signed out", "nobody", _signed_out),
    Caller("removed", "nobody", _removed),
    Caller("signed in with the password before", "nobody", _other_password),
    Caller("a device that was withdrawn", "nobody", _withdrawn),
    Caller("with the token as a password", "nobody", _by_basic),
    Caller("with the token in a cookie", "nobody", _by_cookie),
    *(Caller(f"signed in, {role}", role, _person) for role in ROLES),
    *(Caller(f"a paired device, {role}", role, _device) for role in ROLES),
    Caller("a page of another site by its origin", _CHANGES, _from_elsewhere),
    Caller("a page of another site by what the browser says", _CHANGES, _of_elsewhere),
    Caller("under another name of the server", "by another name", _by_another_name),
)
"""Whoever is let in nowhere is tried with what a lead had: whatever were let in would show."""


def _told() -> dict[str, dict[str, str]]:
    """Return what the document says: request → column → what is answered."""
    lines = iter(_DOCUMENT.read_text(encoding="utf-8").splitlines())
    heads = next(_cells(line) for line in lines if line.startswith("| request | nobody |"))
    rows = {}
    for line in lines:
        if not line.startswith("|"):
            break
        cells = _cells(line)
        if set(line) != set("|-"):
            rows[cells[0].strip("`")] = dict(zip(heads, cells, strict=True))
    return rows


def _cells(line: str) -> list[str]:
    return [cell.strip() for cell in line.strip("|").split("|")]


def path_of(route: Route) -> str:
    """Return the address of a route with names in it that lead to nothing."""
    return re.sub(r"{(\w+)}", lambda part: _PARTS[part[1]], route.path)


def plainest(client: Client, route: Route, headers: Mapping[str, str] | None = None) -> Answered:
    """Put the plainest request that a route could be sent."""
    path, headers = path_of(route), headers or {}
    if route.takes is None:
        return client.ask(route.method, path, **headers)
    if route.takes in ("bytes", "form"):
        return client.ask(route.method, path, b"", **headers)
    return client.send(route.method, path, {}, **headers)


def _name(route: Route) -> str:
    return f"{route.method} {route.path}"


def _state(archive: Archive) -> dict[str, int]:
    with archive.reading() as connection:
        return {
            table.name: connection.execute(select(func.count()).select_from(table)).scalar_one()
            for table in metadata.sorted_tables
        }


def test_every_route_is_in_the_table_by_hand_with_its_role() -> None:
    """A new route, or one that lets others in than before, has to be said here as well."""
    assert {_name(route): route.who for route in ROUTES} == dict(WHO_MAY)


def test_the_document_tells_of_every_route_and_of_nothing_else() -> None:
    """What is read in the document is what the routes are."""
    assert sorted(_told()) == sorted(WHO_MAY)


@pytest.mark.parametrize("caller", CALLERS, ids=lambda caller: caller.name)
def test_every_route_answers_a_caller_as_the_document_says(
    file_served: Served, caller: Caller
) -> None:
    """Whoever is refused has that status on every route, and changes nothing by asking."""
    told = _told()
    role: Role = next((role for role in ROLES if role == caller.column), "lead")
    client, headers = caller.asks(file_served, role)
    expected = {_name(route): told[_name(route)][caller.column] for route in ROUTES}
    refused = [route for route in ROUTES if expected[_name(route)] != "yes"]
    before = _state(file_served.archive)
    got = {_name(route): plainest(client, route, headers).status for route in refused}
    assert _state(file_served.archive) == before
    assert {name: str(status) for name, status in got.items()} == {
        _name(route): expected[_name(route)] for route in refused
    }
    # Last is what makes the caller's own token void.
    let_in = [route for route in ROUTES if expected[_name(route)] == "yes"]
    for route in sorted(let_in, key=lambda route: route.path == "sign-out"):
        status = plainest(client, route, headers).status
        assert status < 500 and status not in (401, 403, 421, 429), (_name(route), status)


def test_this_machine_is_answered_as_a_lead_and_other_pages_are_not(file_here: Served) -> None:
    """Where nobody signs in, only pages of this server may change anything."""
    told = _told()
    client = file_here.client()
    for route in ROUTES:
        status = plainest(client, route).status
        assert status < 500 and status not in (401, 403, 421, 429), route
        other = plainest(client, route, {"origin": "http://127.0.0.1:9999"}).status
        assert (other == 403) is (told[_name(route)][_CHANGES] == "403"), route


def test_no_answer_lets_a_page_of_another_site_read_it(file_served: Served) -> None:
    """What a browser asks for another site's page is answered without leave to read it."""
    client, _ = _person(file_served, "lead")
    for route in ROUTES:
        headers = plainest(client, route, {"origin": "https://elsewhere.example.net"}).headers
        assert not any(name.startswith("access-control-") for name in headers), route
    asked = client.ask("OPTIONS", "entries", origin="https://elsewhere.example.net")
    assert asked.status == 403 and not any(n.startswith("access-control-") for n in asked.headers)


def test_a_head_is_answered_to_whom_its_get_is(file_served: Served) -> None:
    """The method that asks for headers alone is no way around who may ask."""
    for route in ROUTES:
        if route.method == "GET":
            asked = file_served.client().ask("HEAD", path_of(route))
            assert asked.status == (401 if route.who else 200)
