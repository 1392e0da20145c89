"""What an archive cannot do, in one sentence."""

from __future__ import annotations

from bankside.gauging.faults import BanksideError

__all__ = ["ArchiveTrouble"]


class ArchiveTrouble(BanksideError):
    """The archive is not there, is none, is damaged or cannot be written; a sentence says why."""
