"""What an archive cannot do, in one sentence."""

from __future__ import annotations

from bankside.gauging.faults import BanksideError

__all__ = ["GO_ON_WITH", "ArchiveDamaged", "ArchiveOlder", "ArchiveTrouble", "DoesNotFit"]

GO_ON_WITH = "the last backup that bankside archive verify finds in order is the one to go on with."


class ArchiveTrouble(BanksideError):
    """The archive is not there, is none, is damaged or cannot be written; a sentence says why."""


class ArchiveDamaged(ArchiveTrouble):
    """The database itself is no longer as it was written."""


class ArchiveOlder(ArchiveTrouble):
    """The tables are those of an older version of Bankside, and nothing may be written."""


class DoesNotFit(ArchiveTrouble):
    """What was asked does not fit what is in an archive; nothing is wrong with the archive."""
