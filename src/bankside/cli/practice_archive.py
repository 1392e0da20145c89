"""`bankside practice keep`, `list` and `export`: practice in an archive, apart from real water."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import Annotated

import attrs
from cyclopts import Parameter
from sqlalchemy import Connection

from bankside.archive.archive import open_archive
from bankside.archive.engine import shown_place
from bankside.archive.practice.records import ReadinessRecord, records_kept
from bankside.archive.practice.sessions import KeptSession, keep_session, sessions_kept
from bankside.cli.amounts import amount_or_no
from bankside.cli.archive_looking import opened_to_read
from bankside.cli.output import make_folder, print_faults, require_free, write_file
from bankside.cli.practice_files import one_for_all, session_bytes, session_files
from bankside.cli.render import PlainConsole, render_lines
from bankside.gauging.faults import Fault, InputRefused

__all__ = ["export_command", "keep_command", "list_command"]


def keep_command(place: str, files: list[Path], /, *, by: str | None = None) -> int:
    """Keep practice sessions in an archive, byte for byte, apart from gaugings of real water.

    What is there already stays as it is. What is no session is named, and the rest is kept.

    Parameters
    ----------
    place
        The archive.
    files
        Practice sessions of everybody, or folders of them.
    by
        Who hands them in.
    """
    paths = session_files(files)
    new = 0
    faults: list[Fault] = []
    with open_archive(place) as archive, archive.writing() as connection:
        for path in paths:
            try:
                new += keep_session(connection, session_bytes(path), path.name, by)
            except InputRefused as refused:
                faults += [attrs.evolve(one, file=path.name) for one in refused.faults]
    others = {fault.file for fault in faults}
    known = len(paths) - new - len(others)
    faults = faults if new or known else one_for_all(len(paths), faults)
    if new or known:
        there = f", {known} there already" if known else ""
        print(f"{shown_place(place)}: {amount_or_no(new, 'practice session')} kept{there}.")
        print(f"Go on with: bankside practice readiness --archive {shown_place(place)}")
    print_faults(faults)
    return 2 if faults else 0


def list_command(place: str, /) -> None:
    """List who has practised, as an archive keeps it, and the records of who was ready.

    Parameters
    ----------
    place
        The archive.
    """
    with opened_to_read(place) as archive, archive.reading() as connection:
        sessions, records = sessions_kept(connection), records_kept(connection)
    lines = [*_people(sessions), *map(_told, records)]
    render_lines(PlainConsole(), lines or ["No practice is kept here."])


def export_command(
    place: str, /, *, output: Annotated[Path, Parameter(name=("--output", "-o"))]
) -> None:
    """Write the practice of an archive to a folder: sessions as they came, and the records.

    Parameters
    ----------
    place
        The archive.
    output
        A folder; what is there already is not written over.
    """
    with opened_to_read(place) as archive, archive.reading() as connection:
        files = dict(_files(connection))
    make_folder(output)
    require_free([output / name for name in files])
    for name, content in files.items():
        write_file(output / name, False, partial(_write, content))
    print(f"{output}: {amount_or_no(len(files), 'file')} of practice.")


def _people(sessions: Sequence[KeptSession]) -> Iterator[str]:
    """Yield a line for each person: how many sessions, and the day of the last."""
    people: dict[str, list[tuple[str, str]]] = {}
    for one in sessions:
        practice = one.practice()
        name = " ".join((practice.person or "").split())
        day = "" if practice.day is None else practice.day.isoformat()
        people.setdefault(name.casefold(), []).append((name, day))
    for key in sorted(people):
        (name, _), *_ = people[key]
        last = max(day for _, day in people[key])
        until = f", the last on {last}" if last else ""
        yield f"{name}: {amount_or_no(len(people[key]), 'practice session')}{until}."


def _told(record: ReadinessRecord) -> str:
    ready = sum(1 for person in record.people if person.ready)
    by = f", kept by {record.by}" if record.by else ""
    return f"Record {record.number} of {record.at[:10]}: {ready} of {len(record.people)} ready{by}."


def _files(connection: Connection) -> Iterator[tuple[str, bytes]]:
    for one in sessions_kept(connection):
        plain = re.sub(r"[^\w-]", "_", one.name.removesuffix(".json"))[-40:] or "session"
        yield f"{one.number:04d}-{plain}.json", one.content
    for record in records_kept(connection):
        yield f"record-{record.number:04d}.json", record.content.encode()


def _write(content: bytes, path: Path) -> None:
    path.write_bytes(content)
