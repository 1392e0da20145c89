"""The table that goes in: one row a gauging, its stations as lists (docs/bulk.md)."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pyarrow as pa
import pyarrow.parquet as pq

from bankside.gauging.faults import Fault, InputRefused

__all__ = ["BY_STATION", "READ", "READ_BESIDES", "SCHEMA", "STATIONS", "is_table", "require_layout"]

STATIONS = ("tape_m", "depth_m", "velocity_ms")
"""What every station must have."""

READ = ("points", "meter_percent", "exposure_percent")
READ_BESIDES = ("at_surface", "own_rating")
"""How its velocity was read; what stands besides counts where the first three are said."""

BY_STATION = (
    *(*STATIONS, "measured", *READ, *READ_BESIDES),
    *("fastest_ms", "slowest_ms", "edge", "vertical", "assumed"),
)
"""All columns of one value a station."""

_NUMBERS = pa.list_(pa.float64())

SCHEMA = pa.schema(
    [
        pa.field("gauging", pa.string(), nullable=False),
        *(pa.field(name, _NUMBERS, nullable=False) for name in STATIONS),
        pa.field("measured", pa.list_(pa.bool_())),
        *(pa.field(name, _NUMBERS) for name in (*READ, *READ_BESIDES)),
        pa.field("fastest_ms", _NUMBERS),
        pa.field("slowest_ms", _NUMBERS),
        pa.field("edge", pa.list_(pa.bool_())),
        pa.field("vertical", pa.list_(pa.int32())),
        pa.field("assumed", pa.list_(pa.bool_())),
        pa.field("channel_stations", pa.list_(pa.int32())),
        pa.field("filed_m3s", pa.float64()),
        pa.field("filed_rounding_m3s", pa.float64()),
    ]
)
"""Every column that is read; those that may be null may be left out."""

_REQUIRED = tuple(field.name for field in SCHEMA if not field.nullable)
_FEW = 8
"""So many columns that a file has are named at the most."""


def is_table(file: Path) -> bool:
    """Return whether a file is Parquet with every column that such a table must have."""
    try:
        names = pq.read_schema(file).names
    except (pa.ArrowException, OSError):
        return False
    return set(_REQUIRED) <= set(names)


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
