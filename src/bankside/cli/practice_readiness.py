"""`bankside practice readiness`: who has shown what a leader asks for, as table and papers."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Annotated

import attrs
from cyclopts import Parameter

from bankside.archive.archive import open_archive
from bankside.archive.practice.records import keep_record, records_kept
from bankside.archive.practice.sessions import sessions_kept
from bankside.cli.archive_looking import opened_to_read
from bankside.cli.output import make_folder, require_free
from bankside.cli.practice_files import (
    content_of,
    give,
    practices_in,
    require_writable,
    requirements_in,
    write_document,
)
from bankside.gauging.faults import Fault, InputRefused
from bankside.practice.readiness.requirements import Requirements
from bankside.practice.readiness.standing import PersonStanding, standings_of
from bankside.practice.readiness.tries import tries_of
from bankside.report.practice.readiness_document import certificate, readiness_table
from bankside.report.typst_document import Paper

__all__ = ["readiness_command"]

_Output = Annotated[Path | None, Parameter(name=("--output", "-o"))]
_Flag = Annotated[bool, Parameter(show_default=False)]


@attrs.frozen
class _Readiness:
    """What is asked for, how everybody stands, and what is said of the record that was kept."""

    asked: Requirements
    people: tuple[PersonStanding, ...]
    kept: str = ""


def readiness_command(
    *files: Path,
    archive: str | None = None,
    keep: _Flag = False,
    by: str | None = None,
    record: int | None = None,
    requirements: Path | None = None,
    output: _Output = None,
    certificates: Path | None = None,
    html: _Flag = False,
    paper: Paper = "a4",
    replace: _Flag = False,
) -> None:
    """Say who has shown what the leader asks for, worked out anew from the sessions themselves.

    Parameters
    ----------
    files
        Practice sessions of everybody, or folders of them.
    archive
        The archive that keeps the sessions, in the place of files.
    keep
        Keep the record of who is ready in the archive as well.
    by
        Who keeps it.
    record
        The number of a record that the archive keeps: it is given as it was kept.
    requirements
        What is asked for, as `bankside practice requirements` writes it; five streams of three
        kinds, three of them gauged within ± 5 %, if nothing is said.
    output
        A PDF or HTML file for the table; without it the table is printed.
    certificates
        A folder for a paper of each person: a certificate, or what is still to come.
    html
        Write these papers as pages for a browser instead of PDF.
    paper
        a4 or letter.
    replace
        Write over files that are there already.
    """
    require_writable(output, replace)
    _require_fitting(files, archive, keep, by, record, requirements)
    others = [path for path in (requirements, output, certificates) if path is not None]
    if archive is None:
        asked = requirements_in(requirements)
        found = _Readiness(asked, standings_of(tries_of(practices_in(files, others)), asked))
    elif record is not None:
        found = _recorded(archive, record)
    else:
        found = _of_archive(archive, requirements_in(requirements), keep, by)
    papers = {}
    if certificates is not None:
        papers = dict(_certificates(found, certificates, ".html" if html else ".pdf", paper))
    if not replace:
        require_free(list(papers))
    give(readiness_table(found.people, found.asked), output, paper, replace)
    if certificates is not None:
        make_folder(certificates)
    for path, content in papers.items():
        write_document(path, content, replace)
    if found.kept:
        print(found.kept)


def _require_fitting(
    files: Sequence[Path],
    archive: str | None,
    keep: bool,
    by: str | None,
    record: int | None,
    requirements: Path | None,
) -> None:
    """Refuse what does not go together, in a sentence each."""
    faults = []
    if archive is not None and files:
        message = "found files beside --archive; the sessions of the archive alone are right"
        faults.append(Fault(message, file=str(files[0])))
    if archive is None and (keep or by is not None or record is not None):
        faults.append(Fault("--keep, --by and --record want the archive that is meant: --archive"))
    if record is not None and (keep or requirements is not None):
        message = "--record gives what was kept; it goes with neither --keep nor --requirements"
        faults.append(Fault(message))
    if faults:
        raise InputRefused(faults)


def _of_archive(place: str, asked: Requirements, keep: bool, by: str | None) -> _Readiness:
    """Return how everybody stands by the sessions of an archive, and keep the record if asked."""
    # What cannot be written is told before everything is worked out.
    with open_archive(place) if keep else opened_to_read(place) as archive:
        with archive.reading() as connection:
            sessions = sessions_kept(connection)
        if not sessions:
            message = "found no practice sessions; bankside practice keep takes them in"
            raise InputRefused([Fault(message, file=archive.place)])
        people = standings_of(tries_of([one.practice() for one in sessions]), asked)
        if not keep:
            return _Readiness(asked, people)
        with archive.writing() as connection:
            number, is_new = keep_record(connection, asked, sessions, people, by)
        how = "kept as" if is_new else "there already as"
        return _Readiness(asked, people, f"{archive.place}: {how} practice record {number}.")


def _recorded(place: str, number: int) -> _Readiness:
    """Return a record as it was kept; InputRefused where there is none of that number."""
    with opened_to_read(place) as archive, archive.reading() as connection:
        records = {one.number: one for one in records_kept(connection)}
    if number not in records:
        known = ", ".join(map(str, records)) or "it keeps none"
        message = f"--record: found {number}; one of the archive would be right ({known})"
        raise InputRefused([Fault(message)])
    return _Readiness(records[number].requirements, records[number].people)


def _certificates(
    found: _Readiness, folder: Path, suffix: str, paper: Paper
) -> Iterator[tuple[Path, bytes]]:
    for number, person in enumerate(found.people, 1):
        name = re.sub(r"[^A-Za-z0-9]+", "-", person.person).strip("-") or "person"
        target = folder / f"{number:02}-{name}{suffix}"
        yield target, content_of(certificate(person, found.asked), target, paper)
