"""A gauging among others, as a desk is told of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from sqlalchemy import Connection, RowMapping

from bankside.archive.register import all_sites
from bankside.server.api.shapes import COUNT, FLAG, ID, NUMBER, TEXT, members, or_null
from bankside.survey.records import SurveySite

__all__ = ["ROW", "rows_as_told", "sites_by_id"]

_TOLD = (
    *("id", "survey", "site", "stream", "place", "label", "day", "started", "ended", "state"),
    *("crew", "meter", "calibration_due", "verticals", "discharge_m3s", "width_m", "area_m2"),
    *(
        "mean_depth_m",
        "mean_velocity_ms",
        "stage",
        "stage_unit",
        "standard_percent",
        "expanded_percent",
    ),
    *(
        "quality",
        "repeats",
        "open_stop",
        "open_fix",
        "open_explain",
        "conflicts",
        "photos",
        "entries",
    ),
    "trouble",
)
_TEXT = or_null(TEXT)
_NUMBER = or_null(NUMBER)

ROW = members(
    **dict.fromkeys(("id",), ID),
    **dict.fromkeys(("survey", "site", "stream", "place", "label"), _TEXT),
    day=TEXT,
    **dict.fromkeys(("started", "ended"), _TEXT),
    state=TEXT,
    **dict.fromkeys(("crew", "meter", "calibration_due"), _TEXT),
    verticals=COUNT,
    **dict.fromkeys(("discharge_m3s", "width_m", "area_m2", "mean_depth_m"), _NUMBER),
    **dict.fromkeys(("mean_velocity_ms", "stage"), _NUMBER),
    stage_unit=_TEXT,
    **dict.fromkeys(("standard_percent", "expanded_percent"), _NUMBER),
    **dict.fromkeys(("quality", "repeats"), _TEXT),
    **dict.fromkeys(("open_stop", "open_fix", "open_explain", "conflicts"), COUNT),
    **dict.fromkeys(("photos", "entries"), COUNT),
    trouble=_TEXT,
    **dict.fromkeys(("site_stream", "site_name"), _TEXT),
    proven=FLAG,
    over=FLAG,
    in_doubt=FLAG,
)
"""The shape of a row."""


def sites_by_id(connection: Connection) -> dict[str, SurveySite]:
    """Return every site of every survey by its id."""
    return {site.id: site for site in all_sites(connection)}


def rows_as_told(
    rows: Iterable[RowMapping], sites: Mapping[str, SurveySite]
) -> list[dict[str, Any]]:
    """Return rows of the archive as a desk is told of them; sites: by their ids."""
    return [_row(row, sites.get(row["site"] or "")) for row in rows]


def _row(row: RowMapping, site: SurveySite | None) -> dict[str, Any]:
    return {
        **{name: row[name] for name in _TOLD},
        "site_stream": None if site is None else site.stream,
        "site_name": None if site is None else site.name,
        "proven": bool(row["proven"]),
        "in_doubt": bool(row["in_doubt"]),
        "over": bool(row["over"]),
    }
