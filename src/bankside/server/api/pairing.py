"""How a device and a person get their tokens, and how they give them back."""

from __future__ import annotations

import ipaddress
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from http import HTTPStatus
from typing import Any

import attrs

from bankside.archive.accounts import as_kept, who_signs_in
from bankside.archive.devices import device_of, pair, revoke
from bankside.archive.entries import arrivals
from bankside.archive.sessions import end_session, open_session
from bankside.archive.settings import lineage
from bankside.gauging.checked import Checked
from bankside.gauging.fields import about
from bankside.gauging.journal.kinds import Key
from bankside.server.api.asked import Asked, Caller
from bankside.server.api.kinds import Line, Password
from bankside.server.api.refusals import Refusal
from bankside.server.api.route import Route
from bankside.server.api.shapes import COUNT, TEXT, members, named
from bankside.server.attempts import Attempts

__all__ = ["ROUTES"]


@attrs.frozen
class Pairing(Checked):
    """A device that shows the code it was given."""

    code: str = attrs.field(metadata=about(Line(), "the code, as it was typed", secret=True))
    device: str = attrs.field(metadata=about(Key(), "by what the device's entries name it"))
    name: str = attrs.field(metadata=about(Line(), "what the device calls itself"))


@attrs.frozen
class SignIn(Checked):
    """A person who signs in at a desk."""

    name: str = attrs.field(metadata=about(Line(), "the name of the account"))
    password: str = attrs.field(metadata=about(Password(), "its password", secret=True))


def pair_device(asked: Asked) -> dict[str, Any]:
    """Pair a device by a code, which is used up."""
    said = asked.said(Pairing)
    with _counted(asked, f"pair {_place_of(asked)}"), asked.archive.writing() as connection:
        paired = pair(connection, said.code, said.device, said.name)
        if paired is None:
            raise Refusal(
                HTTPStatus.FORBIDDEN,
                "This code is none that is valid now: it was used, is older than 15 minutes, or "
                "was mistyped; a new one is right.",
            )
        token, device = paired
        after, line = arrivals(connection), lineage(connection)
    you = Caller(device.name, device.role, device.device).you
    return {"token": token, "you": you, "lineage": line, "after": after}


def sign_in(asked: Asked) -> dict[str, Any]:
    """Sign a person in."""
    said = asked.said(SignIn)
    # Under the name by which the account is found: another spelling of it is no other name.
    name = f"sign in as {as_kept(said.name)}"
    with _counted(asked, f"sign in {_place_of(asked)}", name):
        with asked.archive.reading() as connection:
            account = who_signs_in(connection, said.name, said.password)
        if account is None:
            raise Refusal(HTTPStatus.FORBIDDEN, "Name and password do not belong together.")
    with asked.archive.writing() as connection:
        token, until = open_session(connection, account)
    return {"token": token, "you": Caller(account.name, account.role).you, "until": until}


def sign_out(asked: Asked) -> dict[str, Any]:
    """Make the token void that was shown."""
    with asked.archive.writing() as connection:
        end_session(connection, asked.token)
        device = device_of(connection, asked.token) if asked.token else None
        if device is not None:
            revoke(connection, device.id)
    return {}


@contextmanager
def _counted(asked: Asked, address: str, name: str | None = None) -> Iterator[None]:
    """Look at no more attempts of one address, or under one name, than a person makes.

    Each counts as a failure until it is none, so that many at once are not more than one by one.
    """
    counts = [(asked.office.by_address, address)]
    if name is not None:
        counts.append((asked.office.by_name, name))
    begun: list[tuple[Attempts, str]] = []
    for attempts, key in counts:
        wait = attempts.begin(key)
        if wait:
            _take_back(begun)
            raise Refusal(
                HTTPStatus.TOO_MANY_REQUESTS,
                f"This failed too often; it can be tried again in {-(-wait // 60)} minutes.",
                headers={"Retry-After": str(wait)},
            )
        begun.append((attempts, key))
    try:
        yield
    except Refusal:
        raise
    except BaseException:
        _take_back(begun)
        raise
    _take_back(begun)
    if name is not None:
        asked.office.by_name.forget(name)


def _take_back(begun: Sequence[tuple[Attempts, str]]) -> None:
    for attempts, key in begun:
        attempts.take_back(key)


def _place_of(asked: Asked) -> str:
    """Return where somebody asks from: of addresses as long as IPv6 has them, the network."""
    try:
        address = ipaddress.ip_address(asked.address)
    except ValueError:
        return asked.address
    if address.version == 4:
        return str(address)
    return str(ipaddress.ip_network((address, 64), strict=False))


ROUTES = (
    Route(
        "POST",
        "pair",
        None,
        "Pair a device by the code that it was given, and give it a token.",
        pair_device,
        members(token=TEXT, you=named("You"), lineage=TEXT, after=COUNT),
        takes=Pairing,
        fails=(403, 429),
    ),
    Route(
        "POST",
        "sign-in",
        None,
        "Sign a person in for 12 hours.",
        sign_in,
        members(token=TEXT, you=named("You"), until=TEXT),
        takes=SignIn,
        fails=(403, 429),
    ),
    Route(
        "POST",
        "sign-out",
        "crew",
        "Make the token void that is shown; a device is not paired any more.",
        sign_out,
        members(),
    ),
)
