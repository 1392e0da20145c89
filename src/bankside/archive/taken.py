"""What became of a file that was handed to an archive."""

from __future__ import annotations

import attrs

from bankside.gauging.faults import Fault
from bankside.intake.source import Source
from bankside.sheets.read import count_fates

__all__ = ["TakenFile"]


@attrs.frozen
class TakenFile:
    """What became of a file.

    `gaugings` are the ids of all gaugings in it, `added` of those that were not there before or
    got new entries; `photos` counts those that were not there; `rows` counts the rows of a sheet by
    their fate; `faults` say what could not be taken in, and `notes` what else there is to know.
    `survey` is the id of a survey in it, and `survey_put` whether it was new or another one before.
    `read` is what was read from a sheet or a record and taken in.
    """

    file: str
    sha256: str
    gaugings: tuple[str, ...] = ()
    added: tuple[str, ...] = ()
    entries: int = 0
    photos: int = 0
    rows: dict[str, int] = attrs.field(factory=lambda: count_fates(()))
    faults: tuple[Fault, ...] = ()
    notes: tuple[str, ...] = ()
    survey: str | None = None
    survey_put: bool = False
    read: Source | None = None

    @property
    def is_known(self) -> bool:
        """Whether everything in it was in the archive before."""
        new = self.faults or self.added or self.photos or self.survey_put
        return not new and bool(self.gaugings or self.survey)
