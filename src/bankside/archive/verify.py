"""Hold an archive against itself: every checksum, and every figure worked out anew."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from typing import Any, Literal

import attrs
from sqlalchemy import Connection, func, select

from bankside.archive.archive import Archive
from bankside.archive.entries import entries_of_gauging
from bankside.archive.files import wrong_files
from bankside.archive.filing import Filing, figures_of, filings_of
from bankside.archive.refresh import surveys_in
from bankside.archive.tables import (
    entries,
    file_contents,
    gauging_files,
    gaugings,
    stale,
    survey_states,
    vocabulary,
    words,
)
from bankside.archive.work_out import Surveys, Worked, work_out
from bankside.gauging.compute import METHOD_VERSION
from bankside.gauging.faults import InputRefused

__all__ = ["Difference", "Kind", "verify"]

Kind = Literal["damaged", "method", "behind", "missing"]


@attrs.frozen
class Difference:
    """Something that verifying found.

    `kind` is "damaged" where the archive is not as it was written, "method" where a filed figure
    rests on another version of the method than this one, "behind" where something has still to be
    worked out, and "missing" where a file is named that never came.
    """

    kind: Kind
    what: str
    words: str


def verify(
    archive: Archive, told: Callable[[int, int], object] = lambda done, all_: None
) -> Iterator[Difference]:
    """Yield everything in which an archive differs from what it ought to be.

    told: called with the number of gaugings looked at, and of all. Nothing is changed.
    """
    with archive.reading() as connection:
        yield from _database(connection)
        for sha256 in wrong_files(connection):
            words = "its bytes are no longer those that came: its checksum differs"
            yield Difference("damaged", f"file {sha256}", words)
        yield from _files_missing(connection)
        yield from _behind(connection)
        yield from _counts(connection)
        known = surveys_in(connection)
        ids = (
            connection.execute(select(entries.c.gauging).distinct().order_by(entries.c.gauging))
            .scalars()
            .all()
        )
        for done, id_ in enumerate(ids, 1):
            yield from _gauging(connection, id_, known)
            told(done, len(ids))


def _database(connection: Connection) -> Iterator[Difference]:
    if connection.dialect.name != "sqlite":
        return
    for (said,) in connection.exec_driver_sql("PRAGMA integrity_check"):
        if said != "ok":
            yield Difference("damaged", "the database", str(said))
    for row in connection.exec_driver_sql("PRAGMA foreign_key_check"):
        words = f"row {row[1]} names a row of {row[2]} that is not there"
        yield Difference("damaged", f"table {row[0]}", words)


def _files_missing(connection: Connection) -> Iterator[Difference]:
    rows = connection.execute(
        select(gauging_files.c.gauging, gauging_files.c.purpose, gauging_files.c.sha256)
        .outerjoin(file_contents, file_contents.c.sha256 == gauging_files.c.sha256)
        .where(file_contents.c.sha256.is_(None))
        .order_by(gauging_files.c.gauging)
    )
    for gauging, purpose, sha256 in rows:
        words = f"its photo ({purpose}) {sha256[:12]} has not come"
        yield Difference("missing", f"gauging {gauging}", words)


def _behind(connection: Connection) -> Iterator[Difference]:
    waiting = int(connection.execute(select(func.count()).select_from(stale)).scalar_one())
    if waiting:
        words = f"{waiting} gaugings have still to be worked out; any command that writes does so"
        yield Difference("behind", "the archive", words)


def _counts(connection: Connection) -> Iterator[Difference]:
    """Yield counts that are kept beside rows and are not those of the rows."""
    rows = select(gaugings.c.survey, gaugings.c.state, func.count())
    counted = {
        (survey or "", state): count
        for survey, state, count in connection.execute(
            rows.group_by(gaugings.c.survey, gaugings.c.state)
        )
    }
    kept = connection.execute(select(survey_states).where(survey_states.c.gaugings > 0))
    if counted != {(row.survey, row.state): row.gaugings for row in kept}:
        said = "the numbers of gaugings by survey and state are not those of the rows"
        yield Difference("behind", "the archive", said)
    used = connection.execute(select(words.c.word, func.count()).group_by(words.c.word)).all()
    known = connection.execute(select(vocabulary).where(vocabulary.c.gaugings > 0)).all()
    if {tuple(row) for row in used} != {tuple(row) for row in known}:
        yield Difference(
            "behind", "the archive", "the words of the search are not those of the rows"
        )


def _gauging(connection: Connection, id_: str, known: Surveys) -> Iterator[Difference]:
    what = f"gauging {id_}"
    try:
        said = entries_of_gauging(connection, id_)
    except InputRefused as refused:
        yield Difference("damaged", what, f"an entry cannot be read: {refused}")
        return
    row = connection.execute(select(gaugings).where(gaugings.c.id == id_)).mappings().first()
    if (
        row is None
        or connection.execute(select(stale.c.gauging).where(stale.c.gauging == id_)).first()
    ):
        return  # it is behind, which is told for all of them
    worked = work_out(id_, said, known)
    filed = filings_of(connection, id_)
    for one in filed:
        if not one.is_sound:
            words = f"figure {one.number} is not the one that was filed: its checksum differs"
            yield Difference("damaged", what, words)
    if row["digest"] != worked.state:
        words = "its entries are not those that it was worked out from"
        yield Difference("damaged", what, words)
        return
    yield from _figure(what, filed, worked)
    yield from _row(what, row, worked, bool(filed))


def _figure(what: str, filed: Sequence[Filing], worked: Worked) -> Iterator[Difference]:
    last = filed[-1] if filed else None
    if last is None or last.state != worked.state or not last.is_sound:
        return
    if worked.visit is None or worked.visit.result is None:
        yield Difference(
            "method",
            what,
            f"{last.discharge_m3s:.6g} m³/s was filed by version {last.method_version} of the "
            f"method; version {METHOD_VERSION} gives none",
        )
        return
    now = figures_of(worked.visit.result, worked.visit.budget)
    if now == last.figures:
        return
    kind: Kind = "damaged" if last.method_version == METHOD_VERSION else "method"
    discharge = now["discharge_m3s"]
    yield Difference(
        kind,
        what,
        f"{last.discharge_m3s:.6g} m³/s was filed by version {last.method_version} of the method "
        f"(Bankside {last.version}); version {METHOD_VERSION} gives {discharge:.6g} m³/s"
        f"{_apart(last.discharge_m3s, discharge)}",
    )


def _apart(filed: float, now: float) -> str:
    if filed == now:
        return ", and differs in another figure"
    if not filed or not math.isfinite(now / filed):
        return ""
    return f", {100 * (now / filed - 1):+.3g} %"


def _row(what: str, row: Any, worked: Worked, filed: bool) -> Iterator[Difference]:
    """Yield what a row says otherwise than it is worked out now; filed figures stand apart."""
    figures = {"discharge_m3s", "width_m", "area_m2", "mean_depth_m", "mean_velocity_ms"}
    apart = figures | {"standard_percent"} if filed else set()
    names = [
        name
        for name, value in worked.row.items()
        if name not in apart and name != "number" and row[name] != value
    ]
    if names:
        words = f"its row differs from what is worked out now in {', '.join(sorted(names))}"
        yield Difference("behind", what, words)
