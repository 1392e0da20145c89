"""The rows of a table as columns for the kernel, and those that have no place there."""

from __future__ import annotations

import attrs
import numpy as np
import pyarrow as pa
import pyarrow.compute as pc

from bankside.bulk.columns import Columns, Flags, Floats, Read, Whole
from bankside.bulk.layout import BY_STATION, READ, READ_BESIDES, STATIONS

__all__ = ["Given", "Refused", "given"]

_NAMELESS = "gauging must be an id by which it is known (found none)"


@attrs.frozen
class Refused:
    """A row that is left out: its number in the input from 0, the gauging if named, and why."""

    row: int
    gauging: str | None
    why: str


@attrs.frozen(eq=False)
class Given:
    """The sound rows of a table: their numbers in the input, ids, columns, and what was filed.

    `fastest_ms` and `slowest_ms` are those of the points read at a station, `edge` (0 or 1) says
    whether it is marked as an edge of water, `vertical` is its place among those called, `assumed`
    (0 or 1) says whether points and percents stand for what is not written; NaN where nothing is
    said.
    """

    rows: Whole
    ids: pa.Array
    columns: Columns
    fastest_ms: Floats | None
    slowest_ms: Floats | None
    edge: Floats | None
    vertical: Floats | None
    assumed: Floats | None
    filed_m3s: Floats | None
    filed_rounding_m3s: Floats | None

    def only(self, kept: Flags) -> Given:
        """Return those of the rows that are kept."""
        stations = np.repeat(kept, np.diff(self.columns.starts))

        def of_stations(values: Floats | None) -> Floats | None:
            return None if values is None else values[stations]

        return Given(
            rows=self.rows[kept],
            ids=self.ids.filter(pa.array(kept)),
            columns=self.columns.only(kept),
            fastest_ms=of_stations(self.fastest_ms),
            slowest_ms=of_stations(self.slowest_ms),
            edge=of_stations(self.edge),
            vertical=of_stations(self.vertical),
            assumed=of_stations(self.assumed),
            filed_m3s=None if self.filed_m3s is None else self.filed_m3s[kept],
            filed_rounding_m3s=None
            if self.filed_rounding_m3s is None
            else self.filed_rounding_m3s[kept],
        )


def given(table: pa.Table, first_row: int) -> tuple[Given, list[Refused]]:
    """Return the rows of a table whose lists go together, and those whose do not.

    Its columns are of the types of `SCHEMA`, of which it may lack some. `first_row` is the number
    of the first row in the input.
    """
    table = table.combine_chunks()
    why = _why_not(table)
    kept = np.array([one is None for one in why]) if any(why) else None
    rows = np.arange(first_row, first_row + len(table), dtype=np.int64)
    ids = _array(table, "gauging")
    refused = [
        Refused(first_row + k, ids[k].as_py() or None, one)
        for k, one in enumerate(why)
        if one is not None
    ]
    if kept is not None:
        table, rows = table.filter(pa.array(kept)), rows[kept]
    return _given(table, rows), refused


def _why_not(table: pa.Table) -> list[str | None]:
    """Return for each row why its lists do not go together, None where they do."""
    lengths = {
        name: _lengths(_array(table, name)) for name in BY_STATION if name in table.column_names
    }
    wanted = lengths["tape_m"]
    uneven = {name: (found != wanted) & (found >= 0) for name, found in lengths.items()}
    missing = {name: found < 0 for name, found in lengths.items() if name in STATIONS}
    if "channel_stations" in table.column_names:
        column = _array(table, "channel_stations")
        counted = pc.fill_null(_sums(column), -1).to_numpy(zero_copy_only=False)
        uneven["channel_stations"] = (counted != wanted) & (counted >= 0)
        lengths["channel_stations"] = counted
    nameless = pc.fill_null(pc.equal(_array(table, "gauging"), ""), True)
    why: list[str | None] = [_NAMELESS if one else None for one in nameless.to_pylist()]
    for name, odd in missing.items():
        for k in np.flatnonzero(odd):
            why[k] = why[k] or f"{name} must have one value for every vertical (found no list)"
    for name, odd in uneven.items():
        for k in np.flatnonzero(odd):
            verb = "add up to" if name == "channel_stations" else "have"
            why[k] = why[k] or (
                f"{name} must {verb} as many verticals as tape_m has, {wanted[k]} "
                f"(found {lengths[name][k]})"
            )
    return why


def _sums(column: pa.ListArray) -> pa.Array:
    """Return the sum of each list."""
    totals = np.zeros(len(column), np.int64)
    flat = pc.fill_null(column.flatten(), 0).to_numpy(zero_copy_only=False)
    parents = pc.list_parent_indices(column).to_numpy(zero_copy_only=False)
    np.add.at(totals, parents, flat)
    return pa.array(totals, mask=column.is_null().to_numpy(zero_copy_only=False))


def _lengths(column: pa.ListArray) -> Whole:
    """Return the length of each list, -1 where there is none."""
    lengths = pc.fill_null(pc.list_value_length(column), -1)
    found: Whole = lengths.to_numpy(zero_copy_only=False).astype(np.int64)
    return found


def _array(table: pa.Table, name: str) -> pa.Array:
    column = table.column(name)
    if column.num_chunks == 1:
        return column.chunk(0)
    return pa.array([], column.type) if not column.num_chunks else pa.concat_arrays(column.chunks)


def _given(table: pa.Table, rows: Whole) -> Given:
    lengths = _lengths(_array(table, "tape_m"))
    starts = np.concatenate([[0], np.cumsum(lengths)]).astype(np.int64)
    stations = int(starts[-1])
    parts, counts = _channels(table, lengths)
    flat = {name: _flat(table, name, lengths) for name in BY_STATION}
    measured, read = flat["measured"], [flat[name] for name in READ]
    # What says nothing was read inside the water, by a meter of a group rating.
    besides = [
        np.zeros(stations) if values is None else np.nan_to_num(values)
        for values in (flat[name] for name in READ_BESIDES)
    ]
    columns = Columns(
        starts=starts,
        channels=np.concatenate([[0], np.cumsum(parts)]).astype(np.int64),
        counts=counts,
        **{name: _there(flat[name]) for name in STATIONS},
        # Only what says so was not read.
        measured=np.ones(stations, np.bool_) if measured is None else measured != 0.0,
        read=None if any(one is None for one in read) else Read(*map(_there, read), *besides),
    )
    return Given(
        rows=rows,
        ids=_array(table, "gauging"),
        columns=columns,
        fastest_ms=flat["fastest_ms"],
        slowest_ms=flat["slowest_ms"],
        edge=flat["edge"],
        vertical=flat["vertical"],
        assumed=flat["assumed"],
        filed_m3s=_one_each(table, "filed_m3s"),
        filed_rounding_m3s=_one_each(table, "filed_rounding_m3s"),
    )


def _there(values: Floats | None) -> Floats:
    assert values is not None  # `require_layout` has seen the column
    return values


def _channels(table: pa.Table, lengths: Whole) -> tuple[Whole, Whole]:
    """Return how many channels each gauging has, and how many stations each of these."""
    if "channel_stations" not in table.column_names:
        return np.ones(len(table), np.int64), lengths
    column = _array(table, "channel_stations")
    if column.null_count:
        parts: list[list[int]] = [
            one if one is not None else [int(n)]
            for one, n in zip(column.to_pylist(), lengths, strict=True)
        ]
        column = pa.array(parts, column.type)
    flat = pc.fill_null(column.flatten(), 0).to_numpy(zero_copy_only=False).astype(np.int64)
    return _lengths(column), flat


def _flat(table: pa.Table, name: str, lengths: Whole) -> Floats | None:
    """Return the values of all stations, NaN where nothing is said; None for no such column."""
    if name not in table.column_names:
        return None
    column = _array(table, name)
    values = column.flatten()
    if pa.types.is_boolean(values.type):
        values = values.cast(pa.uint8())
    values = values.cast(pa.float64())
    if values.null_count:
        values = pc.fill_null(values, np.nan)
    said: Floats = values.to_numpy(zero_copy_only=False)
    if not column.null_count:
        return said
    found = np.full(int(lengths.sum()), np.nan)
    found[np.repeat(_lengths(column) >= 0, lengths)] = said
    return found


def _one_each(table: pa.Table, name: str) -> Floats | None:
    if name not in table.column_names:
        return None
    found: Floats = pc.fill_null(_array(table, name), np.nan).to_numpy(zero_copy_only=False)
    return found
