"""Who may sign in, and which devices are paired: for a lead."""

from __future__ import annotations

from typing import Any

import attrs

from bankside.archive.accounts import account_name, accounts, add_account, remove_account
from bankside.archive.devices import devices, make_code, revoke
from bankside.archive.roles import ROLES, Role
from bankside.archive.trouble import DoesNotFit
from bankside.gauging.checked import Checked
from bankside.gauging.fields import Choice, about
from bankside.server.api.asked import Asked
from bankside.server.api.kinds import Line, Password
from bankside.server.api.route import Route
from bankside.server.api.shapes import ID, TEXT, list_of, members, or_null
from bankside.server.pairing_link import pairing_link, qr_svg

__all__ = ["ROUTES"]


@attrs.frozen
class NewPerson(Checked):
    """Somebody who is to sign in."""

    name: str = attrs.field(metadata=about(Line(), "the name of the account"))
    role: Role = attrs.field(metadata=about(Choice(ROLES), "what may be done with it"))
    password: str = attrs.field(metadata=about(Password(), "its password", secret=True))


@attrs.frozen
class CodeAsked(Checked):
    """A device that is to be paired."""

    name: str | None = attrs.field(
        default=None, metadata=about(Line(), "what it is to be called, else what it calls itself")
    )
    role: Role = attrs.field(
        default="crew", metadata=about(Choice(ROLES), "what may be done with it")
    )


def people(asked: Asked) -> dict[str, Any]:
    """Return who may sign in."""
    with asked.archive.reading() as connection:
        return {"people": [_person(one.name, one.role) for one in accounts(connection)]}


def add_person(asked: Asked) -> dict[str, Any]:
    """Let somebody sign in from now on."""
    said = asked.said(NewPerson)
    with asked.archive.writing() as connection:
        made = add_account(connection, said.name, said.role, said.password)
    return _person(made.name, made.role)


def remove_person(asked: Asked) -> dict[str, Any]:
    """Let somebody no longer sign in; of the leads one has to stay, who lets others in."""
    with asked.archive.writing() as connection:
        leads = [one.name for one in accounts(connection) if one.role == "lead"]
        if leads == [account_name(asked.path["name"])]:
            raise DoesNotFit(
                f"{leads[0]} is the last lead, without whom nobody could say who may; another lead "
                "is needed first."
            )
        remove_account(connection, asked.path["name"])
    return {}


def paired(asked: Asked) -> dict[str, Any]:
    """Return the devices whose tokens hold."""
    names = ("id", "device", "name", "role", "paired_at", "seen_at")
    with asked.archive.reading() as connection:
        found = [device for device in devices(connection) if device.revoked_at is None]
    return {"devices": [{name: getattr(one, name) for name in names} for one in found]}


def code(asked: Asked) -> dict[str, Any]:
    """Make a code by which one device can be paired."""
    said = asked.said(CodeAsked)
    with asked.archive.writing() as connection:
        made = make_code(connection, asked.you.name, said.role, said.name)
    link = pairing_link(asked.office.page, made.code)
    return {"code": made.code, "until": made.until, "url": link, "qr": qr_svg(link)}


def revoke_device(asked: Asked) -> dict[str, Any]:
    """Make the token of a device void for good."""
    with asked.archive.writing() as connection:
        revoke(connection, asked.path["id"])
    return {}


def _person(name: str, role: Role) -> dict[str, Any]:
    return {"name": name, "role": role}


_ROLE = {"enum": list(ROLES)}
_PERSON = members(name=TEXT, role=_ROLE)

ROUTES = (
    Route("GET", "people", "lead", "Who may sign in.", people, members(people=list_of(_PERSON))),
    Route(
        "POST",
        "people",
        "lead",
        "Let somebody sign in from now on.",
        add_person,
        _PERSON,
        takes=NewPerson,
        fails=(409,),
    ),
    Route(
        "DELETE",
        "people/{name}",
        "lead",
        "Let somebody no longer sign in.",
        remove_person,
        members(),
        fails=(409,),
    ),
    Route(
        "GET",
        "devices",
        "lead",
        "The devices that are paired, the last one first.",
        paired,
        members(
            devices=list_of(
                members(
                    id=ID,
                    device=or_null(ID),
                    name=TEXT,
                    role=_ROLE,
                    paired_at=TEXT,
                    seen_at=or_null(TEXT),
                )
            )
        ),
    ),
    Route(
        "POST",
        "devices/code",
        "lead",
        "Make a code by which one device can be paired.",
        code,
        members(code=TEXT, until=TEXT, url=TEXT, qr=TEXT),
        takes=CodeAsked,
    ),
    Route(
        "DELETE",
        "devices/{id}",
        "lead",
        "Make the token of a device void for good.",
        revoke_device,
        members(),
        fails=(409,),
    ),
)
