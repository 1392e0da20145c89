"""Who asks, by the token that a request shows, and whether that one may."""

from __future__ import annotations

from http import HTTPStatus

from bankside.archive.clock import in_seconds, now
from bankside.archive.devices import device_of
from bankside.archive.roles import Role, may
from bankside.archive.sessions import signed_in
from bankside.server.api.asked import THIS_MACHINE, Caller
from bankside.server.api.refusals import Refusal
from bankside.server.office import Office

__all__ = ["caller_of", "require", "token_in"]

# A device is noted as heard of no oftener than this: it may ask many times a minute.
_SECONDS_BETWEEN_NOTES = 600
_LONGEST_TOKEN = 200


def token_in(authorization: str) -> str:
    """Return the token that an `Authorization` shows, "" where it shows none."""
    kind, _, token = authorization.partition(" ")
    token = token.strip()
    return token if kind.lower() == "bearer" and len(token) <= _LONGEST_TOKEN else ""


def caller_of(office: Office, token: str) -> Caller | None:
    """Return who shows a token; where nobody has to sign in, this machine; else None."""
    found = _known(office, token) if token else None
    return THIS_MACHINE if found is None and not office.sign_in else found


def _known(office: Office, token: str) -> Caller | None:
    with office.archive.reading() as connection:
        account = signed_in(connection, token)
        if account is not None:
            return Caller(account.name, account.role)
        device = device_of(connection, token)
    if device is None:
        return None
    noted = in_seconds(-_SECONDS_BETWEEN_NOTES) <= (device.seen_at or "") <= now()
    if not noted:  # a note of later than now was made while the clock was ahead
        office.background.saw(device.id)
    return Caller(device.name, device.role, device.device)


def require(caller: Caller | None, needed: Role) -> None:
    """Refuse a request of somebody unknown, or of one whose role may not make it."""
    if caller is None:
        raise Refusal(
            HTTPStatus.UNAUTHORIZED,
            "This needs a token that holds: pair the device, or sign in.",
            headers={"WWW-Authenticate": "Bearer"},
        )
    if not may(caller.role, needed):
        raise Refusal(
            HTTPStatus.FORBIDDEN,
            f"The role {caller.role} may not do this; {needed} may.",
        )
