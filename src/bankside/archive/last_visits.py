"""The last visit to each site, as crews take it along."""

from __future__ import annotations

import attrs
from sqlalchemy import Connection, RowMapping, func, select

from bankside.archive.listing import record_in
from bankside.archive.tables import gaugings
from bankside.gauging.records import Gauging

__all__ = ["LastVisit", "last_visits"]


@attrs.frozen
class LastVisit:
    """The last gauging at a site that gave a discharge: that filed for it, and its record."""

    site: str
    gauging: str
    day: str
    discharge_m3s: float
    record: Gauging


def last_visits(connection: Connection) -> dict[str, LastVisit]:
    """Return the last finished gauging with a discharge at each site, by the id of the site."""
    ranked = (
        select(
            gaugings.c.id,
            func.row_number()
            .over(
                partition_by=gaugings.c.site,
                order_by=(
                    gaugings.c.day.desc(),
                    gaugings.c.started.desc().nulls_last(),
                    gaugings.c.id,
                ),
            )
            .label("place"),
        )
        .where(
            gaugings.c.site.is_not(None),
            gaugings.c.discharge_m3s.is_not(None),
            gaugings.c.record.is_not(None),
            gaugings.c.over == 1,
            gaugings.c.state != "sent back",
        )
        .subquery()
    )
    columns = ("id", "site", "day", "discharge_m3s", "record")
    rows = connection.execute(
        select(*(gaugings.c[name] for name in columns))
        .join(ranked, ranked.c.id == gaugings.c.id)
        .where(ranked.c.place == 1)
    ).mappings()
    return {row["site"]: _visit(row) for row in rows}


def _visit(row: RowMapping) -> LastVisit:
    record = record_in(row)
    assert record is not None  # the query asked for rows that have one
    return LastVisit(row["site"], row["id"], row["day"], row["discharge_m3s"], record)
