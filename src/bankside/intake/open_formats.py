"""Files in open formats that hold readings: what they are is told by their content."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Literal

from bankside.exchange.data import ReadData
from bankside.gauging.faults import Fault, InputRefused
from bankside.intake.source import Source, SurveyFile, source_of_records

__all__ = ["DESCRIPTOR", "OpenFormat", "open_format", "read_open_format"]

OpenFormat = Literal["data package", "geopackage", "parquet", "one parquet file", "gpx", "waterml"]

DESCRIPTOR = "datapackage.json"
"""The file by which a folder is known as a Data Package."""

_PARQUET = ".parquet"
_HEAD = 4096
_GPX = re.compile(rb"<(\w+:)?gpx[\s>]")
_WATERML = b"http://www.opengis.net/waterml/part2/"
_SQLITE = b"SQLite format 3\x00"
# Where SQLite keeps the id of an application, and those that the editions of GeoPackage have.
_ID_AT = slice(68, 72)
_GEOPACKAGE_IDS = (b"GPKG", b"GP10", b"GP11")


def open_format(path: Path) -> OpenFormat | None:
    """Return which open format a file or folder is in, None where it is in none of them."""
    try:
        if path.is_dir():
            return _by_names([p.name for p in path.iterdir()])
        if not path.is_file():
            return None
        if path.name.lower() == DESCRIPTOR:
            return "data package"
        with path.open("rb") as stream:
            head = stream.read(_HEAD)
        if head.startswith(b"PK"):
            with zipfile.ZipFile(path) as archive:
                return _by_names([name.rpartition("/")[2] for name in archive.namelist()])
    except (OSError, ValueError, zipfile.BadZipFile, NotImplementedError):
        # What cannot be opened is left to the reader of sheets, which says why.
        return None
    if head.startswith(b"PAR1"):
        return "one parquet file"
    if _GPX.search(head):
        return "gpx"
    if _WATERML in head:
        return "waterml"
    is_geopackage = head.startswith(_SQLITE) and head[_ID_AT] in _GEOPACKAGE_IDS
    return "geopackage" if is_geopackage else None


def read_open_format(path: Path, kind: OpenFormat, name: str) -> Source | SurveyFile:
    """Return what is in a file of this format; InputRefused with every fault in it."""
    found = _READERS[kind](path, name)
    survey = found.data.survey
    if not found.data.gaugings and survey is not None:
        return SurveyFile(name, survey, found.notes)
    if not found.data.gaugings:
        message = "found no gauging and no survey; at least one of them would be right"
        raise InputRefused([Fault(message, file=name)])
    return source_of_records(name, found.data.gaugings, found.notes, survey)


def _by_names(names: list[str]) -> OpenFormat | None:
    small = [name.lower() for name in names]
    if DESCRIPTOR in small:
        return "data package"
    return "parquet" if any(name.endswith(_PARQUET) for name in small) else None


# The libraries of a format are loaded when a file of it is handed over.
def _data_package(path: Path, name: str) -> ReadData:
    from bankside.exchange.data_package import read_data_package

    return read_data_package(path, name)


def _geopackage(path: Path, name: str) -> ReadData:
    from bankside.exchange.geopackage import read_geopackage

    return read_geopackage(path, name)


def _parquet(path: Path, name: str) -> ReadData:
    from bankside.exchange.parquet import read_parquet_files

    return read_parquet_files(path, name)


def _one_parquet_file(path: Path, name: str) -> ReadData:
    message = "found one Parquet file; the folder or ZIP archive with all of them would be right"
    raise InputRefused([Fault(message, file=name)])


def _gpx(path: Path, name: str) -> ReadData:
    message = "found GPX, which holds points and no readings; as --positions it would be right"
    raise InputRefused([Fault(message, file=name)])


def _waterml(path: Path, name: str) -> ReadData:
    from bankside.exchange.waterml_read import read_waterml

    return read_waterml(path, name)


_READERS: Mapping[OpenFormat, Callable[[Path, str], ReadData]] = {
    "data package": _data_package,
    "geopackage": _geopackage,
    "parquet": _parquet,
    "one parquet file": _one_parquet_file,
    "gpx": _gpx,
    "waterml": _waterml,
}
