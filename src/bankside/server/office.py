"""What the server of an office goes by: its archive, its address, and who has to sign in."""

from __future__ import annotations

from urllib.parse import urlsplit

import attrs

from bankside.archive.archive import Archive
from bankside.server.attempts import Attempts
from bankside.server.background import Background

__all__ = ["LOOPBACK_NAMES", "Office"]

LOOPBACK_NAMES = frozenset({"127.0.0.1", "::1", "localhost"})
"""The names of this machine to itself."""

# A crew mistypes a code, a person a password; whoever fails so often within a quarter of an hour
# is guessing. Ours, no source.
_MOST_BY_ADDRESS = 20
_MOST_BY_NAME = 10


@attrs.define
class Office:
    """A server's office.

    `page` is the address of the page as devices open it, with a slash at its end. `sign_in` says
    whether every request needs a token.
    """

    archive: Archive
    page: str
    sign_in: bool
    background: Background
    by_address: Attempts = attrs.field(factory=lambda: Attempts(_MOST_BY_ADDRESS))
    by_name: Attempts = attrs.field(factory=lambda: Attempts(_MOST_BY_NAME))

    @classmethod
    def of(cls, archive: Archive, page: str, *, sign_in: bool) -> Office:
        """Return the office of an archive; its background is not started yet."""
        return cls(archive, page, sign_in, Background(archive))

    @property
    def hosts(self) -> frozenset[str]:
        """The names under which requests may name this server."""
        own = urlsplit(self.page).hostname
        return (frozenset() if self.sign_in else LOOPBACK_NAMES) | ({own} if own else frozenset())
