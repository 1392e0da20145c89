"""Hold one gauging of an archive against its entries."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from typing import Any

from sqlalchemy import Connection, select

from bankside.archive.difference import Difference, Kind
from bankside.archive.due import entries_of_state, figures_in
from bankside.archive.entries import entry_of
from bankside.archive.filing import Filing, filings_of
from bankside.archive.tables import entries as entry_table
from bankside.archive.tables import gauging_files, gaugings, stale, words
from bankside.archive.trouble import ArchiveDamaged
from bankside.archive.work_out import Surveys, Worked, work_out
from bankside.gauging.compute import METHOD_VERSION
from bankside.gauging.faults import InputRefused
from bankside.gauging.journal.entry import Entry

__all__ = ["verify_gauging"]


def verify_gauging(connection: Connection, id_: str, known: Surveys) -> Iterator[Difference]:
    """Yield in what a gauging differs from what its entries come to."""
    what = f"gauging {id_}"
    try:
        said = _entries(connection, id_)
        filed = filings_of(connection, id_)
    except ArchiveDamaged as damaged:
        yield Difference("damaged", what, str(damaged).rstrip("."))
        return
    if not said:
        yield Difference("damaged", what, "there is no entry of it")
        return
    for one in filed:
        if not one.is_sound:
            words = f"figure {one.number} is not the one that was filed: its checksum differs"
            yield Difference("damaged", what, words)
    if connection.execute(select(stale.c.gauging).where(stale.c.gauging == id_)).first():
        return  # it is behind, which is told of all that are
    row = connection.execute(select(gaugings).where(gaugings.c.id == id_)).mappings().first()
    if row is None:
        yield Difference("behind", what, "it has no row; bankside archive rework makes one")
        return
    worked = work_out(id_, said, known)
    if row["digest"] != worked.state:
        words = "its entries are not those that it was worked out from"
        yield Difference("damaged", what, words)
        return
    yield from _figures(what, filed, said, worked, lambda some: work_out(id_, some, known))
    yield from _row(connection, what, row, worked, filed)


def _entries(connection: Connection, gauging: str) -> tuple[Entry, ...]:
    """Return the entries of a gauging; ArchiveDamaged where one is not what it was."""
    rows = connection.execute(
        select(entry_table).where(entry_table.c.gauging == gauging).order_by(entry_table.c.number)
    )
    found = []
    for row in rows:
        try:
            entry = entry_of(row.content)
        except InputRefused as refused:
            why = "; ".join(str(fault) for fault in refused.faults)
            raise ArchiveDamaged(f"entry {row.id} cannot be read ({why})") from refused
        if (entry.id, entry.gauging) != (row.id, row.gauging):
            raise ArchiveDamaged(f"entry {row.id} is kept under the id of another one")
        found.append(entry)
    return tuple(found)


def _figures(
    what: str,
    filed: Sequence[Filing],
    said: Sequence[Entry],
    worked: Worked,
    work: Callable[[Sequence[Entry]], Worked],
) -> Iterator[Difference]:
    """Yield figures that do not come out of the entries that they rest on.

    Of figures by former versions of the method only the last is told: it is the one that holds.
    """
    for one in filed:
        last = one is filed[-1]
        if not one.is_sound or (one.method_version != METHOD_VERSION and not last):
            continue
        then = said if one.state == worked.state else entries_of_state(said, one.state)
        if then is None:
            words = f"figure {one.number} rests on entries that are not there"
            yield Difference("damaged", what, words)
            continue
        now = figures_in(worked if then is said else work(then))
        if now != one.figures:
            kind: Kind = "damaged" if one.method_version == METHOD_VERSION else "method"
            yield Difference(kind, what, _apart(one, now))


def _apart(filed: Filing, now: dict[str, Any] | None) -> str:
    before = (
        f"{filed.discharge_m3s:.6g} m³/s was filed by version {filed.method_version} of the "
        f"method (Bankside {filed.version}); version {METHOD_VERSION} gives"
    )
    if now is None:
        return f"{before} none"
    return f"{before} {now['discharge_m3s']:.6g} m³/s{_percent(filed, now['discharge_m3s'])}"


def _percent(filed: Filing, now: float) -> str:
    if filed.discharge_m3s == now:
        return ", and differs in another figure"
    if not filed.discharge_m3s or not math.isfinite(now / filed.discharge_m3s):
        return ""
    return f", {100 * (now / filed.discharge_m3s - 1):+.3g} %"


def _row(
    connection: Connection, what: str, row: Any, worked: Worked, filed: Sequence[Filing]
) -> Iterator[Difference]:
    """Yield what a row says otherwise than it is worked out now; figures are those filed."""
    right = worked.row_with(filed[-1] if filed else None)
    names = [name for name, value in right.items() if row[name] != value]
    photos = connection.execute(
        select(gauging_files).where(gauging_files.c.gauging == row["id"])
    ).mappings()
    kept = {
        photo["key"]: {name: photo[name] for name in ("sha256", "purpose", "type")}
        for photo in photos
    }
    if kept != worked.photos:
        names.append("the files of its photos")
    found = connection.execute(
        select(words.c.word, words.c.day).where(words.c.gauging == row["id"])
    )
    if {tuple(one) for one in found} != {(word, right["day"]) for word in worked.words}:
        names.append("the words by which it is found")
    if names:
        said = f"its row differs from what is worked out now in {', '.join(sorted(names))}"
        yield Difference("behind", what, f"{said}; bankside archive rework puts it right")
