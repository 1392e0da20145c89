"""File a figure anew by the present version of the method: a person does it, with a reason."""

from __future__ import annotations

from sqlalchemy import Connection

from bankside.archive.archive import Archive
from bankside.archive.entries import entries_of_gauging
from bankside.archive.filing import Filing, figures_of, file_figures, last_filing
from bankside.archive.refresh import note_changed, refresh, surveys_in
from bankside.archive.trouble import DoesNotFit
from bankside.archive.work_out import work_out
from bankside.gauging.budget import Budget
from bankside.gauging.result import Result

__all__ = ["refile"]


def refile(archive: Archive, gauging: str, by: str, reason: str) -> tuple[Filing | None, Filing]:
    """File the figure of a gauging as it is worked out now; return the former one and the new one.

    Raises DoesNotFit where there is no such gauging, nothing to file, or nobody who files it
    for a reason.
    """
    if not by.strip() or not reason.strip():
        raise DoesNotFit("A figure is filed by a person and for a reason; both are needed.")
    with archive.writing() as connection:
        state, result, budget = _figure_now(archive, connection, gauging)
        before = last_filing(connection, gauging)
        if before is not None and _is_filed(before, state, result, budget):
            why = f"for the reason: {before.reason}"
            raise DoesNotFit(f"The figure of gauging {gauging} is filed already, {why}.")
        file_figures(connection, gauging, state, result, budget, reason, by)
        note_changed(connection, [gauging])
        after = last_filing(connection, gauging)
    assert after is not None  # it was filed just now
    refresh(archive)
    return before, after


def _figure_now(
    archive: Archive, connection: Connection, gauging: str
) -> tuple[str, Result, Budget | None]:
    """Return the state of a gauging and what it comes to, for one that comes to something."""
    entries = entries_of_gauging(connection, gauging)
    if not entries:
        raise DoesNotFit(f"There is no gauging {gauging} in {archive.place}.")
    worked = work_out(gauging, entries, surveys_in(connection))
    if worked.visit is None or worked.visit.result is None:
        why = worked.row["trouble"] or "its readings give no discharge"
        raise DoesNotFit(f"Gauging {gauging} has no figure to file: {why}.")
    return worked.state, worked.visit.result, worked.visit.budget


def _is_filed(before: Filing, state: str, result: Result, budget: Budget | None) -> bool:
    return (before.state, before.method_version, before.figures) == (
        state,
        result.method_version,
        figures_of(result, budget),
    )
