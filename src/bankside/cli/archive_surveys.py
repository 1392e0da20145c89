"""The surveys of an archive, as people name them on the command line."""

from __future__ import annotations

from sqlalchemy import Connection

from bankside.archive.listing import survey_counts
from bankside.archive.register import survey_of
from bankside.gauging.faults import Fault, InputRefused

__all__ = ["require_survey"]


def require_survey(connection: Connection, survey: str) -> None:
    """Refuse a survey that the archive does not have, and name those that it has."""
    if survey_of(connection, survey) is None:
        known = ", ".join(one.id for one in survey_counts(connection)) or "it has none"
        message = f'--survey: found "{survey}"; one of the archive would be right ({known})'
        raise InputRefused([Fault(message)])
