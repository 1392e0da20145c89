"""The devices of crews: paired by a code that is used once, known by their tokens from then on."""

from __future__ import annotations

import secrets

import attrs
from sqlalchemy import Connection, Row, delete, insert, select, update

from bankside.archive.accounts import account_name
from bankside.archive.clock import in_seconds, now, running
from bankside.archive.roles import Role
from bankside.archive.secret_texts import as_typed, digest_of, new_code, new_token
from bankside.archive.tables import devices as table
from bankside.archive.tables import pairing_codes as codes
from bankside.archive.trouble import DoesNotFit

__all__ = [
    "CODE_MINUTES",
    "Code",
    "Device",
    "device_of",
    "devices",
    "make_code",
    "pair",
    "revoke",
    "saw",
]

CODE_MINUTES = 15
"""How long a code can be used: as long as two people stand side by side."""


@attrs.frozen
class Device:
    """A device that was paired.

    `device` is by what its entries name it. `seen_at` is when it was last heard of, `revoked_at`
    when its token was made void, each None where it never was.
    """

    id: str
    device: str
    name: str
    role: Role
    paired_by: str
    paired_at: str
    seen_at: str | None
    revoked_at: str | None


@attrs.frozen
class Code:
    """A code by which one device can be paired, until a moment; nowhere kept as it is."""

    code: str
    until: str


_COLUMNS = tuple(table.c[field.name] for field in attrs.fields(Device))


def make_code(
    connection: Connection,
    made_by: str,
    role: Role = "crew",
    name: str | None = None,
    minutes: float = CODE_MINUTES,
) -> Code:
    """Make a code for one device.

    role: what the device may; name: what it is to be called, as it says itself if None.
    """
    connection.execute(delete(codes).where(codes.c.expires_at <= now()))
    code = Code(new_code(), in_seconds(minutes * 60))
    connection.execute(
        insert(codes).values(
            sha256=digest_of(code.code),
            name=None if name is None else account_name(name),
            role=role,
            made_by=made_by,
            expires_at=code.until,
        )
    )
    return code


def pair(connection: Connection, code: str, device: str, name: str) -> tuple[str, Device] | None:
    """Pair a device by a code, which is used up; return its token and what is kept of it.

    device: by what its entries name it; name: what it calls itself. None where the code is none,
    was used, or is too old.
    """
    asked = digest_of(as_typed(code))
    at = now()
    found = connection.execute(
        update(codes)
        .where(
            codes.c.sha256 == asked,
            codes.c.used_at.is_(None),
            *running(codes.c.expires_at, CODE_MINUTES / 60),
        )
        .values(used_at=at)
        .returning(codes.c.name, codes.c.role, codes.c.made_by)
    ).first()
    if found is None:
        return None
    called = account_name(found.name or name)
    paired = Device(secrets.token_hex(8), device, called, found.role, found.made_by, at, at, None)
    token = new_token()
    connection.execute(insert(table).values(**attrs.asdict(paired), sha256=digest_of(token)))
    return token, paired


def device_of(connection: Connection, token: str) -> Device | None:
    """Return whose token this is, None where it is no device's or was made void."""
    row = connection.execute(
        select(*_COLUMNS).where(table.c.sha256 == digest_of(token), table.c.revoked_at.is_(None))
    ).first()
    return None if row is None else _device(row)


def devices(connection: Connection) -> tuple[Device, ...]:
    """Return every device that was ever paired, the last paired first."""
    rows = connection.execute(select(*_COLUMNS).order_by(table.c.paired_at.desc(), table.c.id))
    return tuple(map(_device, rows))


def revoke(connection: Connection, id_: str) -> Device:
    """Make the token of a device void for good; DoesNotFit where there is no such device."""
    row = connection.execute(select(*_COLUMNS).where(table.c.id == id_)).first()
    if row is None:
        raise DoesNotFit(f"There is no device {id_}; bankside devices list shows those there are.")
    if row.revoked_at is None:
        connection.execute(update(table).where(table.c.id == id_).values(revoked_at=now()))
    return _device(row)


def saw(connection: Connection, id_: str) -> None:
    """Note that a device was heard of just now."""
    connection.execute(update(table).where(table.c.id == id_).values(seen_at=now()))


def _device(row: Row[tuple[str | None, ...]]) -> Device:
    return Device(**row._mapping)
