"""What the commands of an archive print."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any

from rich.console import Console
from sqlalchemy import Connection

from bankside.archive.difference import Difference
from bankside.archive.listing import found_by, overview, survey_counts, without_site
from bankside.archive.taking import TakenFile
from bankside.cli.inputs import compute_all
from bankside.cli.output import asked_once, print_faults, write_utf8
from bankside.cli.render import plain_table, render_lines, render_points, render_table, safe_text
from bankside.cli.summary import filed_lines
from bankside.gauging.rounding import to_figures

__all__ = ["render_found", "render_list", "render_taken"]

_ROW_NAMES = (
    *("id", "survey", "site", "stream", "place", "day", "state", "crew", "meter", "verticals"),
    *("discharge_m3s", "standard_percent", "width_m", "mean_depth_m", "quality"),
    *("open_stop", "open_fix", "open_explain", "conflicts", "photos", "trouble"),
)


def render_taken(console: Console, taken: Sequence[TakenFile], seconds: float) -> None:
    """Print what became of the files, of their rows, and of the totals that stood on them."""
    rows = Counter[str]()
    for one in taken:
        rows.update(one.rows)
    gaugings = [id_ for one in taken for id_ in one.gaugings]
    added = [id_ for one in taken for id_ in one.added]
    surveys = [one.survey for one in taken if one.survey is not None]
    lines = [
        f"{len(taken)} files in {seconds:.1f} s: {len(gaugings)} gaugings, {len(added)} of them "
        f"new or with new entries; {sum(one.entries for one in taken)} new entries, "
        f"{sum(one.photos for one in taken)} photos, {len(surveys)} surveys.",
    ]
    if sum(rows.values()):
        lines.append(
            f"Rows of sheets: {rows['used']} used, {rows['remark']} kept as remark, "
            f"{rows['refused']} refused."
        )
    render_lines(console, lines)
    _, computed = compute_all([one.read for one in taken if one.read], "mid-section", "half-width")
    if any(one.filed is not None for one in computed):
        render_lines(console, ["", *filed_lines(computed)])
    render_points(console, [f"{one.file}: {note}" for one in taken for note in one.notes])
    print_faults(asked_once([fault for one in taken for fault in one.faults]))


def render_list(
    console: Console, connection: Connection, survey: str | None, search: str | None, as_json: bool
) -> None:
    """Print the surveys, or the gaugings that were asked for."""
    if survey is None and search is None:
        _render_surveys(console, connection, as_json)
        return
    if search is not None:
        found = found_by(connection, search)
        if survey is not None:
            found = tuple(row for row in found if (row["survey"] or "none") == survey)
    else:
        found = without_site(connection) if survey == "none" else overview(connection, survey or "")
    rows = [{name: row[name] for name in _ROW_NAMES} for row in found]
    if as_json:
        _print_json({"gaugings": rows})
        return
    _render_rows(console, rows)


def render_found(console: Console, place: str, gaugings: int, found: Sequence[Difference]) -> None:
    """Print what verifying found."""
    counts = Counter(one.kind for one in found)
    said = ", ".join(f"{count} {kind}" for kind, count in counts.items()) or "nothing differs"
    render_lines(console, [f"{place}: {gaugings} gaugings worked out anew: {said}."])
    render_points(console, [f"{one.kind}: {one.what}: {one.words}." for one in found])


def _render_surveys(console: Console, connection: Connection, as_json: bool) -> None:
    found = survey_counts(connection)
    lost = without_site(connection)
    if as_json:
        names = ("id", "name", "starts", "ends", "sites", "gaugings")
        surveys = [
            {**{name: getattr(one, name) for name in names}, "by_state": dict(one.by_state)}
            for one in found
        ]
        _print_json({"surveys": surveys, "without_site": len(lost)})
        return
    table = plain_table()
    for head in ("survey", "name", "from", "to", "sites", "gaugings"):
        table.add_column(head, overflow="fold")
    for one in found:
        cells = (one.id, one.name, one.starts or "", one.ends or "", str(one.sites))
        table.add_row(*map(safe_text, (*cells, str(one.gaugings))))
    render_table(console, table)
    if lost:
        count = "One gauging names" if len(lost) == 1 else f"{len(lost)} gaugings name"
        render_lines(console, [f"{count} no site of a survey: --survey none lists them."])


def _render_rows(console: Console, rows: Sequence[Mapping[str, Any]]) -> None:
    table = plain_table()
    for head in ("gauging", "day", "stream", "site", "state"):
        table.add_column(head, overflow="fold")
    for head in ("discharge\n(m³/s)", "±2u\n(%)", "verticals", "open"):
        table.add_column(head, justify="right")
    for row in rows:
        discharge, percent = row["discharge_m3s"], row["standard_percent"]
        opened = sum(row[name] for name in ("open_stop", "open_fix", "open_explain"))
        cells = (row["id"][:10], row["day"], row["stream"] or "", row["place"] or "", row["state"])
        table.add_row(
            *map(safe_text, cells),
            "" if discharge is None else to_figures(discharge, 3),
            "" if percent is None else to_figures(2 * percent, 2),
            str(row["verticals"]),
            str(opened or ""),
        )
    render_table(console, table)
    render_lines(console, [f"{len(rows)} gaugings."])


def _print_json(document: Mapping[str, Any]) -> None:
    write_utf8(json.dumps(document, ensure_ascii=False, indent=2, allow_nan=False) + "\n")
