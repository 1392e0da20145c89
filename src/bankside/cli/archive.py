"""`bankside archive`: the store of an office, on the command line."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Annotated

from cyclopts import App, Parameter

from bankside.archive.archive import create_archive, open_archive
from bankside.archive.backup import archive_from_backup, backup
from bankside.archive.difference import Difference
from bankside.archive.engine import shown_place
from bankside.archive.listing import gauging_rows
from bankside.archive.refiling import refile
from bankside.archive.refresh import refresh, rework
from bankside.archive.taking import TakenFile, take_file
from bankside.archive.trouble import ArchiveDamaged, ArchiveTrouble, DoesNotFit
from bankside.archive.verify import verify
from bankside.cli.amounts import amount
from bankside.cli.archive_export import What, export
from bankside.cli.archive_list import render_list
from bankside.cli.archive_looking import looked_at
from bankside.cli.archive_named import gaugings_named
from bankside.cli.archive_output import render_found
from bankside.cli.archive_taken import render_taken
from bankside.cli.examples import examples
from bankside.cli.folders import files_in
from bankside.cli.inputs import SheetOptions
from bankside.cli.progress import counted, tracked
from bankside.cli.render import PlainConsole
from bankside.sheets.answers import save_answers

__all__ = ["archive_app"]

archive_app = App(
    name="archive",
    help="The store of an office: every reading ever made, what is filed of it, original sheets "
    "and photos, in one SQLite file or a PostgreSQL database.",
    help_epilogue=examples("archive"),
)


_EXPORTED: dict[What, tuple[str, ...]] = {
    "journals": ("journal",),
    "records": ("record",),
    "sheets": ("sheet",),
    "surveys": ("survey",),
    "refused": ("entry that was refused", "entries that were refused"),
}
"""One of what is exported, in words; several where no s is added."""


@archive_app.command(name="init", help_epilogue=examples("archive init"))
def init_command(
    place: str,
    /,
    *,
    from_backup: Annotated[Path | None, Parameter(name="--from")] = None,
) -> None:
    """Make an archive where there is none.

    Parameters
    ----------
    place
        A new file, such as season.db, or the address of an empty PostgreSQL database, such as
        postgresql://user@host/name.
    from_backup
        A backup with which the new archive is filled.
    """
    if from_backup is None:
        with create_archive(place) as archive:
            print(f"{archive.place}: an archive.")
        return
    with archive_from_backup(from_backup, place) as archive:
        print(f"{archive.place}: an archive, as backed up.")


@archive_app.command(name="import", help_epilogue=examples("archive import"))
def import_command(
    place: str,
    files: list[Path],
    /,
    *,
    by: str | None = None,
    options: SheetOptions = SheetOptions(),  # noqa: B008 - frozen
) -> int:
    """Take in sheets, journals, records and surveys; what is there already stays as it is.

    Every file of which something is taken in is kept byte for byte. What cannot be taken in is
    named, and the rest is taken in.

    Parameters
    ----------
    place
        The archive: a file, such as season.db, or the address of a PostgreSQL database.
    files
        Files, or folders with all the sheets and JSON files in them.
    by
        Who hands them in.
    """
    answers = options.to_answers()
    paths = files_in(files)
    taken: list[TakenFile] = []
    with open_archive(place) as archive:
        for path in tracked(paths, "taking in"):
            with _after(len(taken)):
                taken.append(take_file(archive, path, answers, by))
        with counted("working out", sum(len(one.added) for one in taken)) as told:
            refresh(archive, told)
        ids = list(dict.fromkeys(id_ for one in taken for id_ in one.added))
        with archive.reading() as connection:
            added = gauging_rows(connection, ids)
    if options.keep_answers is not None:
        save_answers(answers, options.keep_answers)
    render_taken(PlainConsole(), shown_place(place), taken, added)
    return 2 if any(one.faults for one in taken) else 0


@contextmanager
def _after(files: int) -> Iterator[None]:
    """Let what stops an import say what was taken in before it."""
    try:
        yield
    except ArchiveTrouble as trouble:
        if not files:
            raise
        before = "The file before it is" if files == 1 else f"The {files} files before it are"
        raise type(trouble)(
            f"{trouble} {before} taken in as far as possible; the same import again, once that is "
            "put right, adds what is missing, nothing twice, and says what became of each file."
        ) from trouble


@archive_app.command(name="list", help_epilogue=examples("archive list"))
def list_command(
    place: str,
    /,
    *,
    survey: str | None = None,
    search: str | None = None,
    as_json: Annotated[bool, Parameter(name="--json", show_default=False)] = False,
) -> None:
    """List the surveys of an archive, or the gaugings of one, or those that a search finds.

    Parameters
    ----------
    place
        The archive: a file, such as season.db, or the address of a PostgreSQL database.
    survey
        The id of a survey; "none" for gaugings that belong to none.
    search
        Words of stream, site, crew, meter or remarks, or a day such as 2026-07-14.
    as_json
        Print JSON instead of a table.
    """
    with looked_at(place) as archive, archive.reading() as connection:
        render_list(PlainConsole(), connection, survey, search, as_json)


@archive_app.command(name="export", help_epilogue=examples("archive export"))
def export_command(
    place: str,
    /,
    *,
    output: Annotated[Path, Parameter(name=("--output", "-o"))],
    what: What = "journals",
    survey: str | None = None,
) -> int:
    """Write what an archive holds to a folder, a file for each gauging or sheet.

    Parameters
    ----------
    place
        The archive: a file, such as season.db, or the address of a PostgreSQL database.
    output
        A folder; what is there already is not written over.
    what
        journals: every entry, with photos; records: what they come to; sheets: the original files;
        surveys: sites, streams and balances; refused: entries that could not be taken in.
    survey
        Only the gaugings of the survey with this id.
    """
    with looked_at(place) as archive, archive.reading() as connection:
        exported = export(connection, output, what, survey)
    print(f"{output}: {amount(exported.files, *_EXPORTED[what])}.")
    if exported.left_out:
        ids = ", ".join(exported.left_out)
        print(f"Left out, as their journals make no record: {ids}.", file=sys.stderr)
    for sentence in exported.damaged:
        print(sentence, file=sys.stderr)
    return 2 if exported.damaged else 0


@archive_app.command(name="verify", help_epilogue=examples("archive verify"))
def verify_command(place: str, /) -> int:
    """Work out every figure and every checksum anew, and say what differs; nothing is changed.

    Parameters
    ----------
    place
        The archive: a file, such as season.db, or the address of a PostgreSQL database.
    """
    found: list[Difference] = []
    gaugings = 0
    with counted("verifying") as told:

        def count(done: int, all_: int) -> None:
            nonlocal gaugings
            gaugings = all_
            told(done)

        try:
            with open_archive(place, to_write=False) as archive:
                found.extend(verify(archive, count))
        except ArchiveDamaged as damaged:
            found.append(Difference("damaged", "the database", str(damaged).rstrip(".")))
    render_found(PlainConsole(), shown_place(place), gaugings, found)
    return 1 if found else 0


@archive_app.command(name="rework", help_epilogue=examples("archive rework"))
def rework_command(place: str, /) -> None:
    """Work out anew every row, count and word of the search; filed figures stay as they are.

    Parameters
    ----------
    place
        The archive: a file, such as season.db, or the address of a PostgreSQL database.
    """
    with open_archive(place) as archive, counted("working out") as told:
        print(f"{archive.place}: {rework(archive, told)} gaugings worked out anew.")


@archive_app.command(name="backup", help_epilogue=examples("archive backup"))
def backup_command(place: str, file: Path, /) -> None:
    """Write a backup of an archive to a new file, while others may go on using it.

    The file is an archive itself: `bankside archive verify` tells whether it is in order, and
    `bankside archive init --from` fills a new archive from it, also one in PostgreSQL.

    Parameters
    ----------
    place
        The archive: a file, such as season.db, or the address of a PostgreSQL database.
    file
        The file to write.
    """
    with open_archive(place) as archive:
        backup(archive, file)
    print(f"{file}: a backup of {archive.place}, {file.stat().st_size} bytes.")


@archive_app.command(name="refile", help_epilogue=examples("archive refile"))
def refile_command(place: str, gaugings: list[str], /, *, by: str, reason: str) -> int:
    """File the figures of gaugings anew by the present version of the method.

    The former figures stay on record.

    Parameters
    ----------
    place
        The archive: a file, such as season.db, or the address of a PostgreSQL database.
    gaugings
        The ids of the gaugings, or as much of them as tells them from others.
    by
        Who files them.
    reason
        Why they are filed anew.
    """
    code = 0
    with open_archive(place) as archive:
        refresh(archive)
        with archive.reading() as connection:
            ids = gaugings_named(connection, gaugings)
        for id_ in ids:
            try:
                before, after = refile(archive, id_, by, reason)
            except DoesNotFit as unfit:
                print(unfit, file=sys.stderr)
                code = 2
            else:
                former = "" if before is None else f", before {before.discharge_m3s:.6g}"
                print(f"{id_}: {after.discharge_m3s:.6g} m³/s{former}")
    return code
