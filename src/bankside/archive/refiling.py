"""File a figure anew by the present version of the method: a person does it, with a reason."""

from __future__ import annotations

from bankside.archive.archive import Archive
from bankside.archive.entries import entries_of_gauging
from bankside.archive.filing import Filing, file_figures, last_filing
from bankside.archive.refresh import note_changed, refresh, surveys_in
from bankside.archive.trouble import ArchiveTrouble
from bankside.archive.work_out import work_out

__all__ = ["refile"]


def refile(archive: Archive, gauging: str, by: str, reason: str) -> tuple[Filing | None, Filing]:
    """File the figure of a gauging as it is worked out now; return the former one and the new one.

    Raises ArchiveTrouble where there is no such gauging, or nothing to file.
    """
    with archive.writing() as connection:
        entries = entries_of_gauging(connection, gauging)
        if not entries:
            raise ArchiveTrouble(f"There is no gauging {gauging} in {archive.place}.")
        worked = work_out(gauging, entries, surveys_in(connection))
        if worked.visit is None or worked.visit.result is None:
            why = worked.row["trouble"] or "its readings give no discharge"
            raise ArchiveTrouble(f"Gauging {gauging} has no figure to file: {why}.")
        before = last_filing(connection, gauging)
        result, budget = worked.visit.result, worked.visit.budget
        file_figures(connection, gauging, worked.state, result, budget, reason, by)
        note_changed(connection, [gauging])
        after = last_filing(connection, gauging)
    assert after is not None  # it was filed just now
    refresh(archive)
    return before, after
