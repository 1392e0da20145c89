"""A site at a desk: every visit to it, the sections over the tape, what changed, the photos."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from sqlalchemy import Connection, RowMapping

from bankside.archive.entries import entries_of_gauging
from bankside.archive.listing import record_in, site_asked
from bankside.archive.register import survey_of
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.header_records import Units
from bankside.gauging.journal.fold import fold
from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.choice import rules_of
from bankside.gauging.rule_sets.load import BASE, load_rule_set
from bankside.gauging.structure import unstructured
from bankside.gauging.units import metres_per
from bankside.gauging.wire import to_document
from bankside.server.api.asked import Asked
from bankside.server.api.refusals import not_found
from bankside.server.api.route import Route
from bankside.server.api.shapes import (
    FLAG,
    ID,
    NUMBER,
    SHA256_TEXT,
    TEXT,
    list_of,
    members,
    named,
    or_null,
)
from bankside.server.desk.rows import ROW, rows_as_told
from bankside.survey.in_time import in_time
from bankside.survey.mirrored import mirrored_of
from bankside.survey.records import SurveySite
from bankside.survey.through_time import history_of
from bankside.survey.visits import Visit, visit_of

__all__ = ["ROUTES"]

_SYSTEMS = {"ft": Units(length="ft", velocity="ft/s"), "m": Units(length="m", velocity="m/s")}


def site(asked: Asked) -> dict[str, Any]:
    """Return a site with every visit that there was."""
    id_ = asked.path["id"]
    units = _units(asked.query.get("units"))
    with asked.archive.reading() as connection:
        found = site_asked(connection, id_)
        if found.site is None and not found.visits:
            raise not_found(f"There is no site {id_[:64]} in this archive.")
        surveys = [survey_of(connection, one) for one in found.surveys]
        banks = {row["id"]: _zero_bank(connection, row["id"]) for row in found.visits}
    records = {row["id"]: record for row in found.visits if (record := record_in(row))}
    sites = {} if found.site is None else {found.site.id: found.site}
    told = rows_as_told(found.visits, sites)
    return {
        "site": None if found.site is None else unstructured(found.site),
        "surveys": [{"id": one.id, "name": one.name} for one in surveys if one is not None],
        "visits": [
            {**row, "record": None if (r := records.get(row["id"])) is None else to_document(r)}
            for row in told
        ],
        "sections": [
            {"gauging": one, "zero_bank": banks[one], "channels": list(_channels(record))}
            for one, record in records.items()
        ],
        "photos": [
            {name: photo[name] for name in ("gauging", "key", "sha256", "purpose", "type")}
            for photo in found.photos
        ],
        "comparisons": list(_comparisons(found.site, found.visits, records, units)),
    }


def _zero_bank(connection: Connection, gauging: str) -> str | None:
    said = fold(entries_of_gauging(connection, gauging)).get("zero_bank")
    return said.value if said is not None and said.value in ("left", "right") else None


def _channels(record: Gauging) -> Iterator[dict[str, Any]]:
    along = metres_per(record.units.length)
    deep = metres_per(record.units.depth or record.units.length)
    for channel in record.channels:
        depths = {v.tape * along: 0.0 if v.dry else v.depth for v in channel.verticals}
        points = [[tape, d * deep] for tape, d in sorted(depths.items()) if d is not None]
        yield {"name": channel.name, "points": points}


def _units(said: str | None) -> Units | None:
    if said is None:
        return None
    if said not in _SYSTEMS:
        message = f'units must be "ft" or "m" (got "{said[:40]}")'
        raise InputRefused([Fault(message, path="units")])
    return _SYSTEMS[said]


def _comparisons(
    site: SurveySite | None,
    rows: Sequence[RowMapping],
    records: dict[str, Gauging],
    units: Units | None,
) -> Iterator[dict[str, Any]]:
    """Yield each visit beside the one before it: what changed, and whether it is turned about."""
    if site is None:
        return
    visits = in_time(_visits(site, rows, records))
    turned = {one.visit.id: one for one in mirrored_of(visits, load_rule_set(BASE))}
    for timed in history_of(site, visits, units).visits:
        mirrored = turned.get(timed.visit.id)
        before = timed.previous if mirrored is None else mirrored.earlier
        if before is None:
            continue
        words = [f"{one.name}: {one.words}" for one in timed.compared]
        yield {
            "gauging": timed.visit.id,
            "with": before.id,
            "odd": mirrored is not None or any(one.odd for one in timed.compared),
            "words": [*(() if mirrored is None else (mirrored.words,)), *words],
        }


def _visits(
    site: SurveySite, rows: Sequence[RowMapping], records: dict[str, Gauging]
) -> list[Visit]:
    return [
        visit_of(
            records[row["id"]],
            rules_of(records[row["id"]])[0],
            site,
            id_=row["id"],
            finished=bool(row["over"]),
        )
        for row in rows
        if row["id"] in records
    ]


ROUTES = (
    Route(
        "GET",
        "sites/{id}",
        "crew",
        "A site: every visit, the sections over the tape, what changed, the photos.",
        site,
        members(
            site=or_null(named("SurveySite")),
            surveys=list_of(members(id=ID, name=TEXT)),
            visits=list_of(
                {
                    **ROW,
                    "required": [*ROW["required"], "record"],
                    "properties": {**ROW["properties"], "record": or_null(named("Gauging"))},
                }
            ),
            sections=list_of(
                members(
                    gauging=ID,
                    zero_bank=or_null(TEXT),
                    channels=list_of(members(name=or_null(TEXT), points=list_of(list_of(NUMBER)))),
                )
            ),
            photos=list_of(
                members(gauging=ID, key=ID, sha256=SHA256_TEXT, purpose=TEXT, type=TEXT)
            ),
            comparisons=list_of(members(gauging=ID, with_=ID, odd=FLAG, words=list_of(TEXT))),
        ),
        query={"units": "ft or m, in which visits are held together, else those of the later one"},
        fails=(404, 422),
    ),
)
