"""Files in open formats that are damaged, edited by hand, or of another kind than their name."""

import io
import zipfile
from pathlib import Path

import pytest

from bankside.exchange.data import SurveyData
from bankside.exchange.data_package import data_package
from bankside.exchange.geopackage import geopackage
from bankside.exchange.members import write_zip
from bankside.exchange.parquet import parquet_files
from bankside.exchange.waterml import waterml
from bankside.gauging.records import Channel, Gauging, PointReading, Site, Units, Vertical

from .cases import Case, Write, check, parametrized

GAUGING = Gauging(
    Units("m", "m/s"),
    (
        Channel(
            (
                Vertical(0.0, 0.0, edge="left"),
                Vertical(1.0, 0.3, (PointReading(0.2, 0.6),)),
                Vertical(2.0, 0.5, (PointReading(0.4, 0.6),)),
                Vertical(3.0, 0.0, edge="right"),
            )
        ),
    ),
    site=Site("above the footbridge", "Alder Fork"),
)
SURVEY = SurveyData(None, (GAUGING,))
PACKAGE = data_package(SURVEY)
PARQUET = parquet_files(SURVEY)
GEOPACKAGE = geopackage(SURVEY)
DOCUMENT = waterml(SURVEY).decode()


def _zip(**changes: bytes | None) -> Write:
    """A package with other files, by their names without the ending; None leaves one out."""
    files = {
        name: content
        for name, content in ({**PACKAGE, **{f"{k}.csv": v for k, v in changes.items()}}).items()
        if content is not None
    }
    return lambda path: write_zip(files, path)


def _table(name: str, old: str, new: str) -> Write:
    text = PACKAGE[f"{name}.csv"].decode()
    assert old in text
    return _zip(**{name: text.replace(old, new).encode()})


def _locked() -> bytes:
    """An archive whose members say that they need a password."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("datapackage.json", PACKAGE["datapackage.json"])
    content = bytearray(out.getvalue())
    content[6] |= 1
    content[content.index(b"PK\x01\x02") + 8] |= 1
    return bytes(content)


PACKAGES = [
    Case("a letter for a figure", _table("readings", "0.2", "O.2"),
         ("readings.csv, row 2, column value", 'found "O.2"; a number'), file="flow.zip"),
    Case("a row lost", _table("verticals", "gauging-1,0,1,", "gauging-1,0,9,"),
         ("verticals.csv", "found 2 and no row with 1: one is missing"), file="flow.zip"),
    Case("a table lost", _zip(readings=None),
         ("readings.csv", "found no such file", "has the table readings"), file="flow.zip"),
    Case("no gaugings", _zip(gaugings=PACKAGE["gaugings.csv"].split(b"\n")[0] + b"\n"),
         ("channels.csv, row 2", "in no row of the table gaugings"), file="flow.zip"),
    Case("a password", _locked(), ("can be read whole", "password"), file="flow.zip"),
    Case("a folder without a package", Path.mkdir, ("found a folder",), file="flow"),
    Case("one table alone", PARQUET["readings.parquet"],
         ("found one Parquet file; the folder or ZIP archive",), file="readings.parquet"),
    Case("a damaged table", lambda path: write_zip({**PARQUET, "readings.parquet": b"PAR1"}, path),
         ("readings.parquet", "no Parquet file that can be read"), file="flow.zip"),
]  # fmt: skip

OTHERS = [
    Case("a cut GeoPackage", GEOPACKAGE[:9000], ("GeoPackage that can be read",), file="flow.gpkg"),
    Case("a result that is a bare number",
         DOCUMENT[: DOCUMENT.index("<om:result>")] + "<om:result>0.2</om:result>"
         + DOCUMENT[DOCUMENT.index("</om:result>") + len("</om:result>"):],
         ("om:result (line ", 'found "0.2"; wmlrgs:Gauging'), file="flow.xml"),
    Case("WaterML cut off", DOCUMENT[:-40], ("no XML that is whole",), file="flow.xml"),
    Case("WaterML that pulls in a file",
         DOCUMENT.replace("<wmlrgs:Coll", '<!DOCTYPE a SYSTEM "b"><wmlrgs:Coll', 1),
         ("found a document type, which may pull in other files",), file="flow.xml"),
    Case("a route", '<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"/>',
         ("found GPX, which holds points and no readings; as --positions",), file="flow.gpx"),
    Case("points", '{"type": "FeatureCollection", "features": []}',
         ("found GeoJSON, which holds places and no readings; as --positions",), file="f.geojson"),
]  # fmt: skip


@parametrized(PACKAGES)
def test_a_damaged_package_is_refused(
    case: Case, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Archives and folders of tables are named with the table in them that is wrong."""
    check(case, tmp_path, capsys)


@parametrized(OTHERS)
def test_a_damaged_file_of_an_open_format_is_refused(
    case: Case, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Databases and XML are refused in one sentence, and nothing else is opened."""
    check(case, tmp_path, capsys)
