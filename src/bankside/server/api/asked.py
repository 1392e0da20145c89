"""What a route is asked: by whom, of whom, and with what."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any, TypeVar

import attrs

from bankside.archive.archive import Archive
from bankside.archive.roles import Role
from bankside.gauging.checked import Checked
from bankside.server.office import Office

__all__ = ["THIS_MACHINE", "Asked", "Caller", "SentFile"]

R = TypeVar("R", bound=Checked)


@attrs.frozen
class Caller:
    """Who asks. `device` is by what entries name the device, None for a person at a desk."""

    name: str
    role: Role
    device: str | None = None

    @property
    def you(self) -> dict[str, Any]:
        """Who asks, as the server tells it."""
        return {"name": self.name, "role": self.role, "device": self.device}


THIS_MACHINE = Caller("this machine", "lead")
"""Whoever uses the machine, where nobody has to sign in."""


@attrs.frozen
class SentFile:
    """A file that was sent: where its bytes lie meanwhile, its media type, and its name if any."""

    path: Path
    type: str
    name: str = ""


@attrs.frozen
class Asked:
    """A request that may be answered.

    `caller` is None where nobody is signed in, `token` what was shown. `path` are the parts of the
    address, `query` what stands behind it. `body` is the record that was sent as JSON and `text`
    its very text, `file` a file that was sent.
    """

    office: Office
    caller: Caller | None
    token: str
    address: str
    path: Mapping[str, str]
    query: Mapping[str, str]
    headers: Mapping[str, str]
    body: Checked | None = None
    text: str = ""
    file: SentFile | None = None

    @property
    def archive(self) -> Archive:
        """The archive that is asked."""
        return self.office.archive

    @property
    def you(self) -> Caller:
        """Who asks, of a route that nobody is answered without being known."""
        assert self.caller is not None  # access.py let nobody else through
        return self.caller

    def said(self, record: type[R]) -> R:
        """Return the record that was sent, of the class that the route takes."""
        assert isinstance(self.body, record)  # bodies.py read it by the route's own class
        return self.body
