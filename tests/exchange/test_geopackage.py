"""A GeoPackage is one for other programs too, and says where geometry and columns disagree."""

import sqlite3
import struct
from collections.abc import Callable
from pathlib import Path

import attrs
import numpy as np
import pyogrio
import pytest

from bankside.exchange.data import SurveyData
from bankside.exchange.geopackage import geopackage, read_geopackage
from bankside.exchange.wkb import line_of_wkb, line_wkb, point_of_wkb, point_wkb
from bankside.gauging.faults import InputRefused

from .building import BASIN, FIRST, SURVEY


@pytest.fixture(scope="module")
def content() -> bytes:
    """The basin of the tests as a GeoPackage."""
    return geopackage(BASIN)


@pytest.fixture
def basin(content: bytes, tmp_path: Path) -> Path:
    """A file of it, to be looked at or damaged."""
    path = tmp_path / "basin.gpkg"
    path.write_bytes(content)
    return path


def _run(path: Path, *statements: str) -> None:
    """Change a file as a desktop program would, without any of our own code."""
    with sqlite3.connect(path) as database:
        # The triggers of the spatial index call functions that only GDAL brings along.
        triggers = "select name from sqlite_master where type = 'trigger' and name like 'rtree%'"
        for (name,) in database.execute(triggers).fetchall():
            database.execute(f"drop trigger {name}")
        for statement in statements:
            database.execute(statement)
    database.close()


def test_other_programs_see_points_and_lines(basin: Path) -> None:
    """GDAL by itself finds the layers, their coordinates and the figures on them."""
    kinds = {name: kind for name, kind in pyogrio.list_layers(basin)}
    assert (kinds["sites"], kinds["streams"], kinds["gaugings"]) == ("Point", "LineString", "Point")
    assert kinds["readings"] is None

    told, _, shapes, fields = pyogrio.raw.read(basin, layer="sites")
    assert told["crs"] == "EPSG:4326"
    assert shapes[0] == struct.pack("<BIdd", 1, 1, -1.2401, 45.6102)
    assert shapes[1] is None
    assert fields[list(told["fields"]).index("drainage_area_km2")][0] == 41.5
    (line, nothing) = pyogrio.raw.read(basin, layer="streams")[2]
    assert struct.unpack("<BII6d", line)[2:] == (3, -1.30, 45.60, -1.25, 45.61, -1.20, 45.615)
    assert nothing is None


def test_moments_are_dates_and_times_for_other_programs(basin: Path) -> None:
    """Beside the text with its offset stands the same moment in UTC, as a type that sorts."""
    told, _, _, fields = pyogrio.raw.read(basin, layer="gaugings")
    columns = dict(zip(told["fields"], fields, strict=True))

    assert columns["started"][0] == "2026-07-14T10:05:00-07:00"
    assert columns["started_utc"][0] == np.datetime64("2026-07-14T17:05:00")


def test_the_file_is_a_geopackage(basin: Path) -> None:
    """Its header, its list of contents and its comments are those of the standard."""
    header = basin.read_bytes()[:100]
    with sqlite3.connect(basin) as database:
        contents = dict(database.execute("select table_name, data_type from gpkg_contents"))
        comments = {
            (table, column): text
            for table, column, text in database.execute(
                "select table_name, column_name, description from gpkg_data_columns"
            )
        }
    database.close()

    assert header[68:72] == b"GPKG"
    assert (contents["sites"], contents["readings"]) == ("features", "attributes")
    assert comments["verticals", "angle"].endswith("[deg]")
    assert "gaugings.units_length" in comments["verticals", "tape"]


def test_equal_surveys_are_equal_bytes(content: bytes) -> None:
    """No clock goes into the file."""
    assert geopackage(BASIN) == content


def test_nothing_of_gdal_stays_set() -> None:
    """Whoever writes another file afterwards has a clock again."""
    geopackage(SurveyData(None, (FIRST,)))
    assert pyogrio.get_gdal_config_option("OGR_CURRENT_DATE") is None


def test_reading_leaves_nothing_behind(basin: Path) -> None:
    """No file comes to stand beside the one that is read, which stays as it is."""
    before = basin.read_bytes()
    read_geopackage(basin)

    assert [path.name for path in basin.parent.iterdir()] == ["basin.gpkg"]
    assert basin.read_bytes() == before


def test_a_point_alone_is_taken(basin: Path) -> None:
    """A site that was drawn on the map without figures gets its position from there."""
    blob = bytes.fromhex("47500001e6100000") + point_wkb((-1.21, 45.62))
    _run(basin, f"update sites set geom = x'{blob.hex()}' where id = 'larkspur-1'")

    survey = read_geopackage(basin).data.survey

    assert survey is not None
    position = survey.sites[1].position
    assert position is not None
    assert (position.lon, position.lat) == (-1.21, 45.62)


def test_a_line_alone_is_taken(basin: Path) -> None:
    """A stream that was drawn on the map gets its course from there."""
    blob = bytes.fromhex("47500001e6100000") + line_wkb([(-1.3, 45.7), (-1.29, 45.65)])
    _run(basin, f"update streams set geom = x'{blob.hex()}' where name = 'Alder Fork'")

    survey = read_geopackage(basin).data.survey

    assert survey is not None
    assert [(p.lon, p.lat) for p in survey.streams[1].line] == [(-1.3, 45.7), (-1.29, 45.65)]


def test_what_is_unknown_is_told(basin: Path) -> None:
    """A layer of somebody's own is named, how layers are drawn is not."""
    _run(
        basin,
        "create table wells (fid integer primary key, depth real)",
        "create table layer_styles (fid integer primary key, name text)",
        "insert into gpkg_contents (table_name, data_type) values ('wells', 'attributes')",
        "insert into gpkg_contents (table_name, data_type) values ('layer_styles', 'attributes')",
    )

    assert read_geopackage(basin).notes == (
        "The layer wells is none that is known, and was not read.",
    )


MOVED = point_wkb((-1.0, 45.0)).hex()
LINE = line_wkb([(-1.0, 45.0), (-1.1, 45.1)]).hex()
HEAD = "47500001e6100000"
BROKEN = [
    ("a point moved", f"update sites set geom = x'{HEAD}{MOVED}' where id = 'alder-1'",
     ["layer sites, row 1", "found a point at -1.0, 45.0, but position_lon and position_lat say"]),
    ("a line moved", f"update streams set geom = x'{HEAD}{LINE}' where name = 'Larkspur River'",
     ["layer streams, row 1", "another line for Larkspur River than in the table stream_points"]),
    ("a line for a point", f"update sites set geom = x'{HEAD}{LINE}' where id = 'alder-1'",
     ["layer sites, row 1", "a geometry of type 2; a point would be right"]),
    ("another system", "update gpkg_geometry_columns set srs_id = 0 where table_name = 'sites'",
     ["layer sites", "EPSG:4326"]),
    ("a word for a number", "update verticals set depth = 'deep' where tape = 4",
     ["layer verticals, row 2, column depth", 'found "deep", stored as text']),
    ("a place that is none", "update crew set member = 0.5 where name = 'Mora, A.'",
     ["layer crew, row 1, column member", "found 0.5, stored as real"]),
    ("a flag that is none", "update verticals set dry = 2", ["column dry", "found 2"]),
    ("a column gone", "alter table crew drop column name", ["layer crew", 'no column "name"']),
    ("a column more", "alter table crew add column age integer", ["layer crew", '"age"']),
    ("a row gone", "delete from verticals where tape = 4",
     ["layer verticals, row 2, column vertical", "found 2 and no row with 1: one is missing"]),
    ("owners gone", "delete from verticals where channel = 1", ["layer readings, row 5", "no row"]),
    ("a negative depth", "update verticals set depth = -1 where tape = 4",
     ["layer verticals, row 2, column depth", "at least 0"]),
    ("half a survey", "delete from surveys", ["layer streams", "none in the table surveys"]),
]  # fmt: skip


@pytest.mark.parametrize(
    ("statement", "says"), [pytest.param(change, says, id=name) for name, change, says in BROKEN]
)
def test_a_damaged_layer_is_refused_with_its_place(
    statement: str, says: list[str], basin: Path
) -> None:
    """One sentence says the file, the layer and the row, and what would be right."""
    _run(basin, statement)

    with pytest.raises(InputRefused) as refused:
        read_geopackage(basin)

    sentences = [str(fault) for fault in refused.value.faults]
    assert all(sentence.startswith("basin.gpkg, layer ") for sentence in sentences), sentences
    assert [s for s in sentences if all(part in s for part in says)], sentences


@pytest.mark.parametrize(
    "damage",
    [
        pytest.param(
            lambda whole: b"SQLite format 3\x00" + bytes(200), id="nothing behind the head"
        ),
        pytest.param(lambda whole: whole[: len(whole) // 3], id="cut off"),
        pytest.param(lambda whole: whole[:5000] + bytes(30000) + whole[35000:], id="a hole"),
    ],
)
def test_a_damaged_file_is_refused(
    damage: Callable[[bytes], bytes], content: bytes, tmp_path: Path
) -> None:
    """What GDAL cannot open is one sentence about the file."""
    path = tmp_path / "basin.gpkg"
    path.write_bytes(damage(content))

    with pytest.raises(InputRefused, match=r"^basin\.gpkg"):
        read_geopackage(path)


def test_a_text_that_no_geopackage_holds_is_refused() -> None:
    """The sign NUL would end a text unseen, so the file is not written."""
    gauging = attrs.evolve(FIRST, remarks="ice\0none")

    with pytest.raises(InputRefused, match=r"table gaugings, row 1, column remarks: .* --to json"):
        geopackage(SurveyData(SURVEY, (gauging,)))


def test_geometries_of_others() -> None:
    """Heights are passed over, the order of the bytes is either, an empty point is none."""
    assert point_of_wkb(struct.pack(">BI3d", 0, 1001, 1.0, 2.0, 9.0)) == (1.0, 2.0)
    assert point_of_wkb(struct.pack("<BI2d", 1, 1, float("nan"), float("nan"))) is None
    old = struct.pack("<BII6d", 1, 0x80000002, 2, 1.0, 2.0, 9.0, 3.0, 4.0, 9.0)
    assert line_of_wkb(old) == [(1.0, 2.0), (3.0, 4.0)]
    for cut in (b"", b"\x01\x01", old[:30], point_wkb((1.0, 2.0))):
        with pytest.raises(ValueError):
            line_of_wkb(cut)
    with pytest.raises(ValueError):
        point_of_wkb(point_wkb((1.0, 2.0))[:15])
