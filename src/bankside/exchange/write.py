"""The one way to an open format: by its name, with what it leaves out."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Literal

import attrs

from bankside.exchange.data import SurveyData

__all__ = ["OPEN_FORMS", "OpenForm", "OpenFormKind", "Written", "written_as"]

OpenForm = Literal["datapackage", "geopackage", "parquet", "geojson", "gpx", "waterml"]


@attrs.frozen
class OpenFormKind:
    """What a format is called, how the name of its file ends, and what its files are.

    `is_text`: a terminal can show it. `in_parts`: it is several files, in a folder or an archive.
    """

    title: str
    suffix: str
    media_type: str
    is_text: bool = False
    in_parts: bool = False


OPEN_FORMS: Mapping[OpenForm, OpenFormKind] = {
    "datapackage": OpenFormKind("a Data Package", ".zip", "application/zip", in_parts=True),
    "geopackage": OpenFormKind("a GeoPackage", ".gpkg", "application/geopackage+sqlite3"),
    "parquet": OpenFormKind("Parquet files", ".zip", "application/zip", in_parts=True),
    "geojson": OpenFormKind("GeoJSON", ".geojson", "application/geo+json", is_text=True),
    "gpx": OpenFormKind("GPX", ".gpx", "application/gpx+xml", is_text=True),
    "waterml": OpenFormKind("WaterML", ".xml", "application/xml", is_text=True),
}
"""Every open format that can be written."""


@attrs.frozen
class Written:
    """The files of a format by their names, and what is not in them, in sentences.

    A format that is one file has one, under the name "".
    """

    files: Mapping[str, bytes]
    left_out: tuple[str, ...] = ()


def written_as(data: SurveyData, form: OpenForm) -> Written:
    """Return a survey in an open format; InputRefused where it has what the format cannot hold.

    The libraries of a format are loaded when it is asked for.
    """
    return _WRITERS[form](data)


def _datapackage(data: SurveyData) -> Written:
    from bankside.exchange.data_package import data_package

    return Written(data_package(data))


def _geopackage(data: SurveyData) -> Written:
    from bankside.exchange.geopackage import geopackage

    return Written({"": geopackage(data)})


def _parquet(data: SurveyData) -> Written:
    from bankside.exchange.parquet import parquet_files

    return Written(parquet_files(data))


def _geojson(data: SurveyData) -> Written:
    from bankside.exchange.geojson import geojson, geojson_left_out

    return Written({"": geojson(data).encode("utf-8")}, geojson_left_out(data))


def _gpx(data: SurveyData) -> Written:
    from bankside.exchange.gpx import gpx, gpx_left_out

    return Written({"": gpx(data)}, gpx_left_out(data))


def _waterml(data: SurveyData) -> Written:
    from bankside.exchange.waterml import waterml, waterml_left_out

    content = waterml(data)
    return Written({"": content}, waterml_left_out(data, content))


_WRITERS: Mapping[OpenForm, Callable[[SurveyData], Written]] = {
    "datapackage": _datapackage,
    "geopackage": _geopackage,
    "parquet": _parquet,
    "geojson": _geojson,
    "gpx": _gpx,
    "waterml": _waterml,
}
