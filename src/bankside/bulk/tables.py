"""The tables that come out of a part: one row a gauging, one a panel, one a finding."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

import numpy as np
import pyarrow as pa

from bankside.bulk.assumed_readings import assumed_readings
from bankside.bulk.columns import Floats
from bankside.bulk.engine import KernelRefused, faults_of, panels_of
from bankside.bulk.faults import faults_beside
from bankside.bulk.figures import BETWEEN_COUNTS, figures_of
from bankside.bulk.filed import explained
from bankside.bulk.findings import findings_table, look
from bankside.bulk.given import Given, Refused, given

if TYPE_CHECKING:
    from bankside.bulk.run import Run

__all__ = ["tables_of"]

_TOO_LARGE = "readings must be small enough to be multiplied and added"


def tables_of(
    run: Run, table: pa.Table, first_row: int
) -> tuple[dict[str, pa.Table], list[Refused]]:
    """Return the tables of a part by name, and the rows that were left out."""
    found, refused = given(table, first_row)
    why = faults_beside(found) | faults_of(found.columns)
    found, unsound = _without(found, why)
    refused += unsound
    found, figures, odd = _worked_out(run, found)
    refused += odd
    return _made(run, found, figures), sorted(refused, key=lambda one: one.row)


def _worked_out(run: Run, found: Given) -> tuple[Given, Mapping[str, Floats], list[Refused]]:
    """Return the figures, of those gaugings that have them, and what the kernel refused."""
    uncertainty = run.uncertainty if run.kind == "compute" else "none"
    try:
        figures = figures_of(found.columns, run.assumed, uncertainty)
    except KernelRefused as error:
        why = error.why
    else:
        whole = sum(
            figures[name] for name in ("amount_m3s", "area_m2", "width_m", "wetted_perimeter_m")
        )
        why = {int(k): _TOO_LARGE for k in np.flatnonzero(~np.isfinite(whole))}
        if not why:
            return found, figures, []
    found, odd = _without(found, why)
    found, figures, more = _worked_out(run, found)
    return found, figures, [*odd, *more]


def _without(found: Given, why: Mapping[int, str]) -> tuple[Given, list[Refused]]:
    """Return the rows but for those that are refused by their numbers, and these."""
    if not why:
        return found, []
    kept = np.ones(len(found.columns), np.bool_)
    kept[list(why)] = False
    odd = [Refused(int(found.rows[k]), str(found.ids[k]), said) for k, said in why.items()]
    return found.only(kept), odd


def _made(run: Run, found: Given, figures: Mapping[str, Floats]) -> dict[str, pa.Table]:
    if run.kind == "check":
        seen = look(found, figures, run.limits)
        counts = pa.array((seen.places > 0).sum(axis=0), pa.int32())
        checked = pa.table({"gauging": found.ids, "findings": counts})
        return {"findings": findings_table(found, seen), "checked": checked}
    made = {"gaugings": _gaugings(found, figures)}
    if run.panels:
        made["panels"] = _panels(found, figures)
    return made


def _gaugings(found: Given, figures: Mapping[str, Floats]) -> pa.Table:
    columns = {
        "gauging": found.ids,
        "stations": pa.array(np.diff(found.columns.starts), pa.int32()),
        "channels": pa.array(np.diff(found.columns.channels), pa.int32()),
        "assumed_readings": pa.array(assumed_readings(found), pa.int32()),
    }
    columns |= {
        name: _or_absent(values) for name, values in figures.items() if name != "amount_m3s"
    }
    columns |= {name: columns[name].cast(pa.int32()) for name in BETWEEN_COUNTS if name in columns}
    if found.filed_m3s is not None:
        columns |= explained(
            found.columns,
            found.vertical,
            found.filed_m3s,
            found.filed_rounding_m3s,
            figures["discharge_m3s"],
            figures["amount_m3s"],
        )
    return pa.table(columns)


def _or_absent(values: Floats) -> pa.Array:
    """Return figures as a column in which what cannot be told is absent."""
    return pa.array(values, from_pandas=True)


def _panels(found: Given, figures: Mapping[str, Floats]) -> pa.Table:
    columns = found.columns
    made = panels_of(columns, figures["discharge_m3s"], figures["amount_m3s"])
    of_gauging = np.repeat(np.arange(len(columns), dtype=np.int32), np.diff(columns.starts))
    content = {
        "gauging": pa.DictionaryArray.from_arrays(pa.array(of_gauging), found.ids),
        "channel": pa.array(columns.channel_of, pa.int32()),
        "tape_m": columns.tape_m,
        "width_m": made.width_m,
        "depth_m": columns.depth_m,
        "velocity_ms": columns.velocity_ms,
        "area_m2": made.area_m2,
        "discharge_m3s": made.discharge_m3s,
        "share": _or_absent(made.share),
    }
    if found.vertical is not None:
        content["vertical"] = _or_absent(found.vertical).cast(pa.int32())
    return pa.table(content)
