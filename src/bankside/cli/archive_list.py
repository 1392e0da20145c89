"""The surveys and gaugings of an archive, as tables and as JSON."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any

from rich.console import Console
from rich.text import Text
from sqlalchemy import Connection, RowMapping

from bankside.archive.giving import refused_count
from bankside.archive.listing import (
    MOST_ROWS,
    every_survey,
    found_by,
    overview,
    without_survey,
    without_survey_count,
)
from bankside.archive.register import all_sites
from bankside.archive.search import MOST_FOUND
from bankside.cli.archive_named import require_survey
from bankside.cli.output import write_utf8
from bankside.cli.render import plain_table, render_lines, render_table, safe_text
from bankside.gauging.rounding import to_figures
from bankside.note.standing import IN_DOUBT
from bankside.survey.records import SurveySite

__all__ = ["NO_SURVEY", "render_list"]

NO_SURVEY = "none"
"""What stands in the place of a survey for the gaugings that belong to none."""

_ROW_NAMES = (
    *("id", "survey", "site", "stream", "place", "day", "state", "crew", "meter", "verticals"),
    *("discharge_m3s", "standard_percent", "expanded_percent", "in_doubt", "width_m"),
    "mean_depth_m",
    "quality",
    *("open_stop", "open_fix", "open_explain", "conflicts", "photos", "trouble"),
)
# As much of an id as tells it from others in a table; commands understand it too.
_ID_LETTERS = 8
_STATE_WIDTH = 9
_OPEN = ("open_stop", "open_fix", "open_explain")


def render_list(
    console: Console, connection: Connection, survey: str | None, search: str | None, as_json: bool
) -> None:
    """Print the surveys, or the gaugings that were asked for.

    InputRefused for a survey that the archive does not have.
    """
    if survey is None and search is None:
        _render_surveys(console, connection, as_json)
        return
    if survey not in (None, NO_SURVEY):
        require_survey(connection, survey or "")
    found = _found(connection, survey, search)
    sites = {site.id: site for site in all_sites(connection)}
    rows = [_told(row, sites) for row in found]
    if as_json:
        _print_json({"gaugings": rows})
        return
    _render_rows(console, rows)
    render_lines(console, [_count(connection, len(rows), survey, search)])


def _told(row: RowMapping, sites: Mapping[str, SurveySite]) -> dict[str, Any]:
    """Return a row as it is told: what its record leaves out of stream and place has its site."""
    told = {name: row[name] for name in _ROW_NAMES} | {"in_doubt": bool(row["in_doubt"])}
    site = sites.get(row["site"])
    if site is not None:
        told["stream"] = told["stream"] or site.stream
        told["place"] = site.name if told["place"] in (None, site.id) else told["place"]
    return told


def _found(connection: Connection, survey: str | None, search: str | None) -> Sequence[RowMapping]:
    if search is None:
        return (
            without_survey(connection)
            if survey == NO_SURVEY
            else overview(connection, survey or "")
        )
    if survey is None:
        return found_by(connection, search)
    if survey == NO_SURVEY:
        return [row for row in found_by(connection, search) if row["survey"] is None]
    # The id of its survey is one of a gauging's words.
    return [row for row in found_by(connection, f"{search} {survey}") if row["survey"] == survey]


def _count(connection: Connection, count: int, survey: str | None, search: str | None) -> str:
    said = "One gauging" if count == 1 else f"{count} gaugings"
    if search is not None and count == MOST_FOUND:
        return f"{said}, the latest of those found; more words find fewer."
    if search is None and survey == NO_SURVEY and count == MOST_ROWS:
        return f"{said}, the latest of {without_survey_count(connection)}."
    return f"{said}."


def _render_surveys(console: Console, connection: Connection, as_json: bool) -> None:
    found = list(every_survey(connection))
    without, refused = without_survey_count(connection), refused_count(connection)
    if as_json:
        names = ("id", "name", "starts", "ends", "sites", "gaugings")
        surveys = [
            {**{name: getattr(one, name) for name in names}, "by_state": dict(one.by_state)}
            for one in found
        ]
        _print_json({"surveys": surveys, "without_survey": without, "refused": refused})
        return
    table = plain_table()
    for head in ("survey", "name"):
        table.add_column(head, overflow="fold")
    for head in ("from", "to"):
        table.add_column(head, no_wrap=True)
    for head in ("sites", "gaugings"):
        table.add_column(head, justify="right", no_wrap=True)
    for one in found:
        cells = (one.id, one.name, one.starts or "", one.ends or "", str(one.sites))
        table.add_row(*map(safe_text, (*cells, str(one.gaugings))))
    render_table(console, table)
    if without:
        count = "One gauging belongs" if without == 1 else f"{without} gaugings belong"
        render_lines(console, [f"{count} to no survey: --survey {NO_SURVEY} lists them."])
    if refused:
        count = "One entry" if refused == 1 else f"{refused} entries"
        said = "could not be taken in: bankside archive export --what refused writes them."
        render_lines(console, [f"{count} {said}"])


def _render_rows(console: Console, rows: Sequence[Mapping[str, Any]]) -> None:
    table = plain_table()
    for head in ("gauging", "day"):
        table.add_column(head, no_wrap=True)
    table.add_column("stream, site\nand crew", overflow="fold")
    table.add_column("state", width=_STATE_WIDTH, overflow="fold")
    for head in ("discharge\n(m³/s)", "±\n(%)", "open"):
        table.add_column(head, justify="right", no_wrap=True)
    for row in rows:
        discharge = row["discharge_m3s"]
        opened = sum(row[name] for name in _OPEN)
        place = ", ".join(part for part in (row["stream"], row["place"]) if part)
        where = [safe_text(part) for part in (place, row["crew"]) if part]
        table.add_row(
            *map(safe_text, (row["id"][:_ID_LETTERS], row["day"])),
            Text("\n").join(where),
            safe_text(row["state"]),
            "" if discharge is None else to_figures(discharge, 3),
            _within(row),
            str(opened or ""),
        )
    render_table(console, table)
    if any(row["in_doubt"] for row in rows):
        render_lines(console, [f"{IN_DOUBT}."])


def _within(row: Mapping[str, Any]) -> str:
    """Return how far a discharge may be off, in percent, as the note of the gauging tells it."""
    if row["in_doubt"]:
        return "not told"
    percent = row["expanded_percent"]
    return "" if percent is None else to_figures(percent, 2)


def _print_json(document: Mapping[str, Any]) -> None:
    write_utf8(json.dumps(document, ensure_ascii=False, indent=2, allow_nan=False) + "\n")
