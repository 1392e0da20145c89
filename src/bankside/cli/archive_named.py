"""Surveys and gaugings of an archive as people name them on the command line."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection

from bankside.archive.listing import ids_beginning, survey_counts
from bankside.archive.register import survey_of
from bankside.gauging.faults import Fault, InputRefused

__all__ = ["gaugings_named", "require_survey"]


def require_survey(connection: Connection, survey: str) -> None:
    """Refuse a survey that the archive does not have, and name those that it has."""
    if survey_of(connection, survey) is None:
        known = ", ".join(one.id for one in survey_counts(connection)) or "it has none"
        message = f'--survey: found "{survey}"; one of the archive would be right ({known})'
        raise InputRefused([Fault(message)])


def gaugings_named(connection: Connection, named: Sequence[str]) -> list[str]:
    """Return the ids of gaugings by their beginnings; InputRefused for what names not one."""
    found: list[str] = []
    faults: list[Fault] = []
    for text in named:
        ids = ids_beginning(connection, text) if text else ()
        found += ids[:1]
        if len(ids) != 1:
            several = f"several gaugings ({', '.join(ids)} and perhaps more)"
            which = several if ids else "no gauging"
            faults.append(Fault(f'"{text}" names {which}; the id of one would be right'))
    if faults:
        raise InputRefused(faults)
    return list(dict.fromkeys(found))
