"""A gauging at a desk: all that was said, what was filed, where it came from; and its review."""

from __future__ import annotations

import json
import secrets
from collections.abc import Mapping, Sequence
from http import HTTPStatus
from typing import Any

import attrs
from sqlalchemy import Connection, select

from bankside.archive.clock import now
from bankside.archive.due import figures_in
from bankside.archive.entries import entries_of_gauging, take_entries
from bankside.archive.filing import Filing, filings_of
from bankside.archive.listing import gauging_rows
from bankside.archive.refresh import refresh, surveys_in
from bankside.archive.tables import refused, source_gaugings, sources
from bankside.archive.work_out import Worked, work_out
from bankside.gauging.checked import Checked
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import Choice, Number, Text, about
from bankside.gauging.journal.entry import Entry, to_members
from bankside.gauging.journal.fold import fold
from bankside.gauging.journal.from_record import figure_of
from bankside.gauging.journal.state import state_of
from bankside.server.api.asked import THIS_MACHINE, Asked
from bankside.server.api.kinds import Line
from bankside.server.api.refusals import Refusal, not_found
from bankside.server.api.route import Route
from bankside.server.api.shapes import (
    ANY,
    COUNT,
    NUMBER,
    SHA256_TEXT,
    TEXT,
    list_of,
    map_of,
    members,
    named,
    or_null,
)
from bankside.server.desk.plain_answers import without_options
from bankside.server.desk.rows import ROW, rows_as_told, sites_by_id

__all__ = ["ROUTES", "row_of"]

_DESK = "desk"


@attrs.frozen
class ReviewSaid(Checked):
    """What a reviewer says of a gauging as it was shown."""

    verdict: str = attrs.field(
        metadata=about(Choice(("approved", "sent back")), "what is said of it")
    )
    state: str = attrs.field(metadata=about(Line(64), "the digest of the entries that were shown"))
    reason: str | None = attrs.field(
        default=None, metadata=about(Text(), "why; needed where it is sent back")
    )
    by: str | None = attrs.field(
        default=None, metadata=about(Text(), "who says it, where nobody signs in")
    )
    discharge_m3s: float | None = attrs.field(
        default=None, metadata=about(Number(), "the discharge that was shown, to be held to it")
    )


def gauging(asked: Asked) -> dict[str, Any]:
    """Return a gauging with everything that was said and filed of it."""
    id_ = asked.path["id"]
    with asked.archive.reading() as connection:
        entries = entries_of_gauging(connection, id_)
        row = row_of(connection, id_)
        return {
            "row": row,
            "state": state_of(entries),
            "entries": [to_members(entry) for entry in entries],
            "filings": [_filing(filing) for filing in filings_of(connection, id_)],
            "conflicts": _conflicts(connection, id_),
            "source": _source(connection, id_),
        }


def review(asked: Asked) -> dict[str, Any]:
    """Approve a gauging or send it back, as it was shown and not as it may be since."""
    said = asked.said(ReviewSaid)
    id_ = asked.path["id"]
    if said.verdict == "sent back" and said.reason is None:
        message = "reason must be given where a gauging is sent back (got none)"
        raise InputRefused([Fault(message, path="reason")])
    with asked.archive.writing() as connection:
        entries = entries_of_gauging(connection, id_)
        if not entries:
            raise not_found(f"There is no gauging {id_[:64]} in this archive.")
        if state_of(entries) != said.state:
            raise Refusal(
                HTTPStatus.CONFLICT,
                "More was said of this gauging since it was shown; it is to be looked at again.",
            )
        worked = work_out(id_, entries, surveys_in(connection))
        figure = _figure_shown(worked, filings_of(connection, id_))
        _require_reviewable(said, worked.row, figure)
        entry = _review_entry(asked, said, entries, figure)
        take_entries(connection, [entry], asked.you.name)
    refresh(asked.archive)
    with asked.archive.reading() as connection:
        return {"row": row_of(connection, id_), "state": said.state}


def row_of(connection: Connection, id_: str) -> dict[str, Any]:
    """Return the row of a gauging as a desk is told of it; a refusal where there is none."""
    rows = rows_as_told(gauging_rows(connection, [id_]), sites_by_id(connection))
    if not rows:
        raise not_found(f"There is no gauging {id_[:64]} in this archive, or not yet.")
    return rows[0]


def _figure_shown(worked: Worked, filed: Sequence[Filing]) -> tuple[float, str] | None:
    """Return the discharge that stands for a gauging, and the method's version; None for none.

    It is the one that was filed while the readings still give it, else what they give now.
    """
    now_there = figures_in(worked)
    if filed and (filed[-1].state == worked.state or filed[-1].figures == now_there):
        return filed[-1].discharge_m3s, filed[-1].method_version
    if worked.visit is None or worked.visit.result is None:
        return None
    result = worked.visit.result
    return result.discharge_m3s, result.method_version


def _require_reviewable(
    said: ReviewSaid, row: Mapping[str, Any], figure: tuple[float, str] | None
) -> None:
    """Refuse to approve what is no figure yet, or not the one that was shown."""
    if said.discharge_m3s is not None and (figure is None or figure[0] != said.discharge_m3s):
        raise Refusal(
            HTTPStatus.CONFLICT,
            "The discharge is not the one that was shown; it is to be looked at again.",
        )
    if said.verdict != "approved":
        return
    if not row["over"] or figure is None:
        why = "its readings give no discharge" if row["over"] else "it is not finished"
        raise Refusal(HTTPStatus.CONFLICT, f"The gauging cannot be approved: {why}.")
    grave = row["open_stop"] + row["open_fix"] + row["conflicts"]
    if grave and said.reason is None:
        message = (
            "reason must be given where findings to stop or fix, or conflicts, are open "
            f"(got none, with {grave} open)"
        )
        raise InputRefused([Fault(message, path="reason")])


def _review_entry(
    asked: Asked,
    said: ReviewSaid,
    entries: tuple[Entry, ...],
    figure: tuple[float, str] | None,
) -> Entry:
    # Who signed in is known; where nobody does, a reviewer says who it is.
    by = said.by if asked.you is THIS_MACHINE and said.by is not None else asked.you.name
    value: dict[str, Any] = {"verdict": said.verdict, "by": by, "state": said.state}
    if figure is not None:
        value["discharge_m3s"], value["method_version"] = figure_of(figure[0]), figure[1]
    standing = fold(entries).get("review")
    return Entry(
        id=secrets.token_hex(16),
        gauging=entries[0].gauging,
        device=_DESK,
        sequence=max(entry.sequence for entry in entries) + 1,
        at=now(),
        what="review",
        value=value,
        reason=said.reason,
        by=by,
        replaces=() if standing is None else tuple(head.id for head in standing.heads),
    )


def _filing(filing: Filing) -> dict[str, Any]:
    names = ("number", "method_version", "version", "state", "reason", "by", "at")
    return {
        **{name: getattr(filing, name) for name in names},
        "discharge_m3s": filing.discharge_m3s,
        "standard_percent": filing.figures["standard_percent"],
    }


def _conflicts(connection: Connection, id_: str) -> list[dict[str, Any]]:
    """Return what came under an id that stands for something else here."""
    rows = connection.execute(
        select(refused).where(refused.c.gauging == id_).order_by(refused.c.number)
    )
    return [
        {
            "entry": _as_sent(row.content),
            "received_from": row.received_from,
            "received_at": row.received_at,
            "why": row.why,
        }
        for row in rows
    ]


def _as_sent(content: str) -> Any:
    try:
        return json.loads(content)
    except ValueError:
        return content


def _source(connection: Connection, id_: str) -> dict[str, Any] | None:
    """Return the sheet that a gauging came from, None where it came from a device."""
    row = connection.execute(
        select(sources, source_gaugings.c.label, source_gaugings.c.place)
        .join(source_gaugings, source_gaugings.c.source == sources.c.number)
        .where(source_gaugings.c.gauging == id_)
        .order_by(sources.c.number)
        .limit(1)
    ).first()
    if row is None:
        return None
    told = json.loads(row.report)["gaugings"][row.place]
    fates = told["rows"]
    return {
        "name": row.name,
        "sha256": row.sha256,
        "taken_at": row.taken_at,
        "taken_by": row.taken_by,
        "label": row.label,
        "rows": {
            fate: sum(one[2] == fate for one in fates) for fate in ("used", "remark", "refused")
        },
        "fates": [[*place, without_options(reason or "")] for *place, reason in fates],
        "notes": [without_options(note) for note in told["notes"]],
    }


_TEXT, _NUMBER = or_null(TEXT), or_null(NUMBER)

ROUTES = (
    Route(
        "GET",
        "gaugings/{id}",
        "crew",
        "A gauging: all that was said, what was filed, and the sheet that it came from.",
        gauging,
        members(
            row=ROW,
            state=SHA256_TEXT,
            entries=list_of(named("Entry")),
            filings=list_of(
                members(
                    number=COUNT,
                    method_version=TEXT,
                    version=TEXT,
                    state=SHA256_TEXT,
                    reason=TEXT,
                    by=_TEXT,
                    at=TEXT,
                    discharge_m3s=NUMBER,
                    standard_percent=_NUMBER,
                )
            ),
            conflicts=list_of(members(entry=ANY, received_from=TEXT, received_at=TEXT, why=TEXT)),
            source=or_null(
                members(
                    name=TEXT,
                    sha256=SHA256_TEXT,
                    taken_at=TEXT,
                    taken_by=_TEXT,
                    label=TEXT,
                    rows=map_of(COUNT),
                    fates=list_of(ANY),
                    notes=list_of(TEXT),
                )
            ),
        ),
        fails=(404,),
    ),
    Route(
        "POST",
        "gaugings/{id}/review",
        "reviewer",
        "Approve a gauging, or send it back with a reason.",
        review,
        members(row=ROW, state=SHA256_TEXT),
        takes=ReviewSaid,
        fails=(404, 409, 422),
    ),
)
