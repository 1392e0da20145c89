"""A route: what may be asked, by whom, with what, and what comes back."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Literal

import attrs

from bankside.archive.roles import Role
from bankside.gauging.checked import Checked
from bankside.server.api.answers import Answer
from bankside.server.api.asked import Asked

__all__ = ["Gives", "Route", "Sent"]

Gives = Mapping[str, Any] | tuple[str, ...]
"""The schema of a JSON answer, or the media types of another one."""

Sent = Literal["bytes", "form"]
"""A file as the body of a request, or as the part `file` of a form, with `answers` beside it."""


@attrs.frozen
class Route:
    """One thing that may be asked.

    `path` is below `api/1/`, its parts in braces. `who` is the least role that is answered, None
    for anybody. `takes` is the record that a request holds as JSON, or how a file is sent. `query`
    are the names behind the address, each with what it means. `fails` are the statuses of what is
    refused, beside those of access and of a body that is none. `draws` says that pictures are drawn
    for it, which takes long and goes one at a time.
    """

    method: Literal["GET", "POST", "PUT", "DELETE"]
    path: str
    who: Role | None
    about: str
    answer: Callable[[Asked], Answer | Mapping[str, Any]]
    gives: Gives
    takes: type[Checked] | Sent | None = None
    query: Mapping[str, str] = attrs.field(factory=dict)
    fails: tuple[int, ...] = ()
    also: Mapping[int, str] = attrs.field(factory=dict)
    draws: bool = False
