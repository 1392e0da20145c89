"""The table that goes in: one row a gauging, its stations as lists (docs/bulk.md)."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import attrs
import numpy as np
import pyarrow as pa
import pyarrow.compute as pc

from bankside.bulk.columns import Columns, Flags, Floats, Read, Whole
from bankside.gauging.faults import Fault, InputRefused

__all__ = ["SCHEMA", "Given", "Refused", "given", "require_layout"]

_NUMBERS = pa.list_(pa.float64())
_STATIONS = ("tape_m", "depth_m", "velocity_ms")
_READ = ("points", "meter_percent", "exposure_percent")
_READ_BESIDES = ("at_surface", "own_rating")

SCHEMA = pa.schema(
    [
        pa.field("gauging", pa.string(), nullable=False),
        *(pa.field(name, _NUMBERS, nullable=False) for name in _STATIONS),
        pa.field("measured", pa.list_(pa.bool_())),
        *(pa.field(name, _NUMBERS) for name in (*_READ, *_READ_BESIDES)),
        pa.field("fastest_ms", _NUMBERS),
        pa.field("slowest_ms", _NUMBERS),
        pa.field("edge", pa.list_(pa.bool_())),
        pa.field("vertical", pa.list_(pa.int32())),
        pa.field("channel_stations", pa.list_(pa.int32())),
        pa.field("filed_m3s", pa.float64()),
        pa.field("filed_rounding_m3s", pa.float64()),
    ]
)
"""Every column that is read; those that may be null may be left out."""

_REQUIRED = tuple(field.name for field in SCHEMA if not field.nullable)
_NAMELESS = "gauging must be an id by which it is known (found none)"

_FEW = 8
"""So many columns that a file has are named at the most."""

_BY_STATION = (
    *(*_STATIONS, "measured", *_READ, *_READ_BESIDES),
    *("fastest_ms", "slowest_ms", "edge", "vertical"),
)


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
    whether it is marked as an edge of water, `vertical` is its place among those called; NaN where
    nothing is said.
    """

    rows: Whole
    ids: pa.Array
    columns: Columns
    fastest_ms: Floats | None
    slowest_ms: Floats | None
    edge: Floats | None
    vertical: Floats | None
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
            filed_m3s=None if self.filed_m3s is None else self.filed_m3s[kept],
            filed_rounding_m3s=None
            if self.filed_rounding_m3s is None
            else self.filed_rounding_m3s[kept],
        )


def require_layout(schema: pa.Schema, file: Path) -> None:
    """Refuse a file whose columns are not those of the layout, with every reason."""
    missing = [name for name in _REQUIRED if schema.get_field_index(name) < 0]
    faults = [_missing(missing, schema.names)] if missing else []
    for wanted in SCHEMA:
        index = schema.get_field_index(wanted.name)
        if index >= 0 and not _fits(schema.field(index).type, wanted):
            faults.append(
                f'column "{wanted.name}" must hold {_words(wanted.type)} for each gauging '
                f"(found {_words(schema.field(index).type)})"
            )
    if faults:
        raise InputRefused(Fault(fault, file=str(file)) for fault in faults)


def _missing(names: Sequence[str], found: Sequence[str]) -> str:
    by_words: dict[str, list[str]] = {}
    for name in names:
        by_words.setdefault(_words(SCHEMA.field(name).type), []).append(f'"{name}"')
    wanted = " and ".join(
        f"{words} in a column {', a column '.join(some)}" for words, some in by_words.items()
    )
    there = ", ".join(found[:_FEW]) or "no column"
    more = f" and {len(found) - _FEW} more" if len(found) > _FEW else ""
    return f"must have for each gauging {wanted} (found {there}{more})"


def _words(kind: pa.DataType) -> str:
    """Return what values of a type are, with the name that Arrow has for it."""
    if _is_list(kind):
        return f"a list of {_name(kind.value_type)[1]} (list<{kind.value_type}>)"
    return f"{_name(kind)[0]} ({kind})"


def _name(kind: pa.DataType) -> tuple[str, str]:
    """Return what one value, and several values, of a type are."""
    types = pa.types
    for is_so, names in (
        (types.is_floating, ("a number", "numbers")),
        (types.is_integer, ("a whole number", "whole numbers")),
        (types.is_boolean, ("true or false", "true or false")),
        (_is_text, ("a text", "texts")),
        (types.is_null, ("nothing", "nothing")),
    ):
        if is_so(kind):
            return names
    return "something else", "other things"


def _is_list(kind: pa.DataType) -> bool:
    return bool(pa.types.is_list(kind) or pa.types.is_large_list(kind))


def _is_text(kind: pa.DataType) -> bool:
    if pa.types.is_dictionary(kind):
        kind = kind.value_type
    return bool(pa.types.is_string(kind) or pa.types.is_large_string(kind))


def _fits(found: pa.DataType, wanted: pa.Field) -> bool:
    """Return whether a column can be read as what is wanted: whole numbers as floats too.

    A column that may be left out may as well hold nothing at all.
    """
    if pa.types.is_null(found):
        return bool(wanted.nullable)
    kind = wanted.type
    if pa.types.is_list(kind):
        return _is_list(found) and _fits(found.value_type, kind.value_field)
    if pa.types.is_floating(kind):
        return bool(pa.types.is_floating(found) or pa.types.is_integer(found))
    if pa.types.is_string(kind):
        return _is_text(found)
    if pa.types.is_integer(kind):
        return bool(pa.types.is_integer(found))
    return bool(found == kind)


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
        name: _lengths(_array(table, name)) for name in _BY_STATION if name in table.column_names
    }
    wanted = lengths["tape_m"]
    uneven = {name: (found != wanted) & (found >= 0) for name, found in lengths.items()}
    missing = {name: found < 0 for name, found in lengths.items() if name in _STATIONS}
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
    flat = {name: _flat(table, name, lengths) for name in _BY_STATION}
    measured, read = flat["measured"], [flat[name] for name in _READ]
    # What says nothing was read inside the water, by a meter of a group rating.
    besides = [
        np.zeros(stations) if values is None else np.nan_to_num(values)
        for values in (flat[name] for name in _READ_BESIDES)
    ]
    columns = Columns(
        starts=starts,
        channels=np.concatenate([[0], np.cumsum(parts)]).astype(np.int64),
        counts=counts,
        **{name: _there(flat[name]) for name in _STATIONS},
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
