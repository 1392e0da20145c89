"""Who may do what: three roles, each of which may all that the one before it may."""

from __future__ import annotations

from typing import Literal, get_args

__all__ = ["ROLES", "Role", "may"]

Role = Literal["crew", "reviewer", "lead"]
"""crew: hand in and read; reviewer: also judge and correct; lead: also say who may."""

ROLES: tuple[Role, ...] = get_args(Role)


def may(role: Role, needed: Role) -> bool:
    """Return whether a role may what another one is needed for."""
    return ROLES.index(role) >= ROLES.index(needed)
