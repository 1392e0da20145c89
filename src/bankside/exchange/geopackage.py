"""A survey and its gaugings as a GeoPackage: layers for a map, and all tables, and back.

Source: OGC 12-128r18, GeoPackage. Meaning and unit of a column are in the comments of its schema
extension. Equal input gives equal bytes by one version of GDAL: no clock goes into them.
"""

from __future__ import annotations

import sqlite3
import tempfile
import warnings
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import attrs
import pyarrow as pa
import pyogrio
from pyogrio.errors import DataLayerError, DataSourceError

from bankside.exchange.arrow_tables import arrow_table, rows_of_arrow
from bankside.exchange.data import ReadData, SurveyData
from bankside.exchange.forms import FORMAT, Table, require_format
from bankside.exchange.layouts import FORMS
from bankside.exchange.members import require_size
from bankside.exchange.read_tables import from_tables
from bankside.exchange.result_tables import RESULT_FORMS
from bankside.exchange.stored_types import faults_of_cells, require_plain_tables
from bankside.exchange.table_points import GEOMETRY_TYPES, geometries, with_lines, with_points
from bankside.exchange.table_rows import Row
from bankside.exchange.tables import to_tables
from bankside.exchange.text_lists import text_of
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.records import Gauging

__all__ = ["geopackage", "read_geopackage"]

_GEOMETRY = "geom"
_CRS = "EPSG:4326"
_FORMAT_KEY = "bankside_format"
# Not a layer of anybody's data: where desktop programs keep how layers are drawn.
_STYLES = "layer_styles"
# No clock goes into the bytes; and a file that is not in its place yet need not outlive the power.
_WRITING = {
    "OGR_CURRENT_DATE": "1970-01-01T00:00:00.000Z",
    "OGR_SQLITE_SYNCHRONOUS": "OFF",
}
# Else GDAL puts a file of its own beside the one that is read.
_READING = {"GDAL_PAM_ENABLED": "NO"}

_UNREADABLE = (DataSourceError, DataLayerError, OSError, pa.ArrowException, sqlite3.Error)

_Geometries = list[bytes | None]


def geopackage(data: SurveyData) -> bytes:
    """Return a GeoPackage; InputRefused where a text has the sign NUL, which none can hold."""
    tables = to_tables(data)
    _require_no_nul(tables)
    points = [row for table in tables if table.form.name == "stream_points" for row in table.rows]
    with tempfile.TemporaryDirectory() as folder, _set(_WRITING):
        path = Path(folder) / "survey.gpkg"
        for table in tables:
            _write(path, table, geometries(table, points), data.gaugings)
        return path.read_bytes()


def read_geopackage(path: Path, name: str | None = None) -> ReadData:
    """Return what a GeoPackage holds.

    `name`, the file as people know it, goes into every fault. InputRefused with every fault, each
    with the layer, its row and column. A place that a geometry and columns say differently is a
    fault: nobody can tell which was meant.
    """
    known = name or path.name
    try:
        require_size(path.stat().st_size)
        layers, notes = _layers(path)
        rows, faults = _placed_rows(layers)
        if faults:
            raise InputRefused(faults)
        data = from_tables(rows, _in_layer)
    except InputRefused as error:
        raise InputRefused(
            attrs.evolve(f, file=known if f.file is None else f"{known}, {f.file}")
            for f in error.faults
        ) from None
    except UnicodeDecodeError:
        message = "found a text that is not UTF-8, as every text of a GeoPackage is"
        raise InputRefused([Fault(message, file=known)]) from None
    return ReadData(data, notes)


@contextmanager
def _set(options: Mapping[str, str]) -> Iterator[None]:
    """Set options of GDAL for a while, and tell nobody of what it passes over in others' files."""
    pyogrio.set_gdal_config_options(options)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            yield
    finally:
        pyogrio.set_gdal_config_options(dict.fromkeys(options))


def _require_no_nul(tables: Sequence[Table]) -> None:
    faults = [
        Fault(
            "found the sign NUL in a text, which a GeoPackage cannot hold; --to json holds it",
            file=f"table {table.form.name}",
            row=number,
            column=name,
        )
        for table in tables
        for number, row in enumerate(table.rows, 1)
        for name, value in row.items()
        if isinstance(value, str) and "\0" in value
    ]
    if faults:
        raise InputRefused(faults)


def _write(
    path: Path, table: Table, shapes: _Geometries | None, gaugings: Sequence[Gauging]
) -> None:
    made = _for_gdal(arrow_table(table, gaugings))
    where: dict[str, Any] = {}
    if shapes is not None:
        made = made.append_column(_GEOMETRY, pa.array(shapes, pa.binary()))
        where = {
            "geometry_name": _GEOMETRY,
            "geometry_type": GEOMETRY_TYPES[table.form.name],
            "crs": _CRS,
        }
    pyogrio.write_arrow(
        made,
        path,
        layer=table.form.name,
        driver="GPKG",
        layer_options={"DESCRIPTION": table.form.meaning},
        dataset_metadata={_FORMAT_KEY: FORMAT},
        **where,
    )


def _for_gdal(table: Any) -> Any:
    """Return a table whose lists are JSON texts, and whose meanings are comments of columns."""
    for place, field in enumerate(table.schema):
        told = {key.decode(): value.decode() for key, value in field.metadata.items()}
        unit = f" [{told['unit']}]" if "unit" in told else ""
        by = f" (unit: {told['unit_column']})" if "unit_column" in told else ""
        comment = {"GDAL:OGR:comment": f"{told['description']}{unit}{by}"}
        column = table.column(place)
        if pa.types.is_list(field.type):
            texts = [None if t is None else text_of(t) for t in column.to_pylist()]
            column = pa.array(texts, pa.string())
        field = pa.field(field.name, column.type, field.nullable, comment)
        table = table.set_column(place, field, column)
    return table


def _layers(path: Path) -> tuple[dict[str, tuple[Any, Any]], tuple[str, ...]]:
    """Return the known layers of a file, each with what is told of it, and what is not read."""
    with _set(_READING):
        try:
            require_plain_tables(path, FORMS)
            names = [str(name) for name in pyogrio.list_layers(path)[:, 0]]
            known = [name for name in names if name in FORMS]
            if not known:
                message = "found no layer of a known table; gaugings and sites are some of those"
                raise InputRefused([Fault(message)])
            told = pyogrio.read_info(path, layer=known[0])["dataset_metadata"] or {}
            require_format(told.get(_FORMAT_KEY))
            wrong = [_in_layer(*placed) for placed in faults_of_cells(path, known)]
            if wrong:
                raise InputRefused(wrong)
            layers = {name: pyogrio.read_arrow(path, layer=name) for name in known}
        except _UNREADABLE as error:
            reason = " ".join(str(error).split())
            message = f"found no GeoPackage that can be read ({reason})"
            raise InputRefused([Fault(message)]) from None
    others = [name for name in names if name not in {*FORMS, *RESULT_FORMS, _STYLES}]
    return layers, tuple(f"The layer {n} is none that is known, and was not read." for n in others)


def _in_layer(table: str, fault: Fault) -> Fault:
    return attrs.evolve(fault, file=f"layer {table}")


def _placed_rows(
    layers: Mapping[str, tuple[Any, Any]],
) -> tuple[dict[str, list[Row]], list[Fault]]:
    """Return the rows of all layers, with what their geometries say."""
    rows: dict[str, list[Row]] = {}
    shapes: dict[str, _Geometries] = {}
    faults: list[Fault] = []
    for name, (told, found) in layers.items():
        try:
            rows[name], shapes[name] = _rows_of_layer(name, told, found)
        except InputRefused as error:
            faults += [_in_layer(name, fault) for fault in error.faults]
    for name in {"sites", "gaugings"} & shapes.keys():
        rows[name], wrong = with_points(name, rows[name], shapes[name])
        faults += [_in_layer(name, fault) for fault in wrong]
    if "streams" in shapes:
        points = rows.get("stream_points", [])
        rows["stream_points"], wrong = with_lines(rows["streams"], shapes["streams"], points)
        faults += [_in_layer("streams", fault) for fault in wrong]
    return rows, faults


def _rows_of_layer(name: str, told: Mapping[str, Any], found: Any) -> tuple[list[Row], _Geometries]:
    geometry = told.get("geometry_name") or _GEOMETRY
    shapes: _Geometries = [None] * found.num_rows
    if geometry in found.column_names and name in GEOMETRY_TYPES:
        shapes = found.column(geometry).to_pylist()
        found = found.drop_columns([geometry])
        if any(shapes) and told.get("crs") != _CRS:
            message = f"found coordinates in {told.get('crs') or 'no known system'}"
            raise InputRefused([Fault(f"{message}; {_CRS} (longitude and latitude) is right")])
    return rows_of_arrow(found, FORMS[name]), shapes
