"""GeoJSON and GPX: places out, places back, and what fits nothing named."""

import json
from pathlib import Path
from typing import Any

import attrs
import pyogrio
import pytest
from hypothesis import given, settings
from lxml import etree

from bankside.exchange.data import SurveyData
from bankside.exchange.geojson import geojson, geojson_left_out
from bankside.exchange.geojson_read import read_geojson
from bankside.exchange.gpx import gpx, gpx_left_out
from bankside.exchange.gpx_read import read_gpx
from bankside.exchange.named_points import NamedPoint, matched
from bankside.gauging.faults import InputRefused
from bankside.gauging.records import Position, Site
from bankside.survey.records import Survey

from .building import BASIN, FIRST, SECOND, SURVEY
from .strategies import surveys

GPX = """<?xml version="1.0"?>
<gpx version="1.1" creator="a receiver" xmlns="http://www.topografix.com/GPX/1/1">
{}
</gpx>
"""
WAYPOINT = '<wpt lat="{}" lon="{}"><ele>812.4</ele><time>2026-07-14T16:58:00Z</time>{}</wpt>'


def _gpx(folder: Path, *points: tuple[object, object, str]) -> Path:
    body = "\n".join(
        WAYPOINT.format(lat, lon, f"<name>{name}</name>" if name else "")
        for lat, lon, name in points
    )
    path = folder / "points.gpx"
    path.write_text(GPX.format(body), encoding="utf-8")
    return path


def _plain(survey: Survey) -> Survey:
    """A survey without what GeoJSON does not hold."""
    bare = attrs.evolve(
        Survey(survey.id, survey.name),
        sites=survey.sites,
        streams=tuple(
            attrs.evolve(stream, line=tuple(Position(p.lon, p.lat) for p in stream.line))
            for stream in survey.streams
        ),
    )
    return bare


@settings(max_examples=60)
@given(surveys())
def test_sites_and_streams_come_back_from_geojson(survey: Survey) -> None:
    """Positions, labels and attributes of any survey's sites are the same afterwards."""
    found = read_geojson(geojson(SurveyData(survey)))

    assert found.survey == _plain(survey)
    assert found.notes == ()


def test_geojson_keeps_the_rules_of_its_standard() -> None:
    """Features in a collection, longitude first, no system of coordinates, null where unknown."""
    document = json.loads(geojson(BASIN))

    assert document["type"] == "FeatureCollection"
    assert "crs" not in document
    ids = [feature["id"] for feature in document["features"]]
    assert len(set(ids)) == len(ids)
    for feature in document["features"]:
        assert set(feature) == {"type", "id", "geometry", "properties"}
        assert feature["type"] == "Feature"
        geometry = feature["geometry"]
        if geometry is not None:
            points = geometry["coordinates"]
            points = [points] if geometry["type"] == "Point" else points
            assert geometry["type"] in ("Point", "LineString")
            assert all(-180 <= lon <= 180 and -90 <= lat <= 90 for lon, lat in points)
    by_id = {feature["id"]: feature for feature in document["features"]}
    assert by_id["site alder-1"]["geometry"]["coordinates"] == [-1.2401, 45.6102]
    assert by_id["site larkspur-1"]["geometry"] is None
    gauging = by_id["gauging af-2026-07-14"]
    assert gauging["geometry"]["coordinates"] == [-1.24, 45.61]
    assert gauging["properties"]["discharge_m3s"] == BASIN.visits[0].discharge_m3s


def test_other_programs_read_geojson(tmp_path: Path) -> None:
    """GDAL finds the same points and figures, by itself."""
    path = tmp_path / "basin.geojson"
    path.write_text(geojson(SurveyData(attrs.evolve(SURVEY, streams=()))), encoding="utf-8")

    told, _, shapes, fields = pyogrio.raw.read(path)

    columns = dict(zip(told["fields"], fields, strict=True))
    assert told["crs"] in ("EPSG:4326", "OGC:CRS84")
    assert list(columns["id"]) == ["alder-1", "larkspur-1", "larkspur-2"]
    assert columns["drainage_area_km2"][0] == 41.5
    assert [shape is not None for shape in shapes] == [True, False, False]


def test_gpx_has_its_elements_in_order(tmp_path: Path) -> None:
    """Every way point has the elements that the schema allows, in its order, and a place."""
    root = etree.fromstring(gpx(BASIN))
    space = "{http://www.topografix.com/GPX/1/1}"
    # wptType of gpx.xsd 1.1, as far as its names go here (from memory).
    order = [
        "ele",
        "time",
        "magvar",
        "geoidheight",
        "name",
        "cmt",
        "desc",
        "src",
        "link",
        "sym",
        "type",
    ]

    assert (root.tag, root.get("version"), root.get("creator")) == (
        f"{space}gpx",
        "1.1",
        "Bankside",
    )
    assert [point.tag for point in root] == [f"{space}wpt"] * 2
    for point in root:
        names = [element.tag.removeprefix(space) for element in point]
        assert names == sorted(names, key=order.index)
    (site, gauging) = root
    assert (site.get("lon"), site.get("lat")) == ("-1.2401", "45.6102")
    assert site.findtext(f"{space}name") == "AF-01"
    assert gauging.findtext(f"{space}time") == "2026-07-14T17:05:00Z"
    assert gauging.findtext(f"{space}desc", "").endswith("0.195 m³/s (6.89 ft³/s)")


def test_other_programs_read_gpx(tmp_path: Path) -> None:
    """GDAL finds the same way points, by itself."""
    path = tmp_path / "basin.gpx"
    path.write_bytes(gpx(BASIN))

    told, _, _, fields = pyogrio.raw.read(path, layer="waypoints")

    columns = dict(zip(told["fields"], fields, strict=True))
    assert list(columns["name"]) == ["AF-01", "above the footbridge"]
    assert list(columns["type"]) == ["site", "gauging"]


def test_small_degrees_are_decimals() -> None:
    """XML's decimal knows no powers of ten, so a place near the meridian is written out."""
    near = attrs.evolve(FIRST, site=Site("x", position=Position(1e-07, -2.5e-08)))
    (point,) = etree.fromstring(gpx(SurveyData(None, (near,))))

    assert (point.get("lon"), point.get("lat")) == ("0.0000001", "-0.000000025")


@pytest.mark.parametrize("write", [geojson, gpx])
def test_equal_surveys_are_equal_bytes(write: Any) -> None:
    """No clock goes into either."""
    assert write(BASIN) == write(BASIN)


def test_what_is_left_out_is_said() -> None:
    """Each thing that the survey has and the form has not is named, and nothing that it lacks."""
    line = "\n".join(geojson_left_out(BASIN))
    assert "no reading" in line and "basin, starts, balances, remarks" in line
    assert "organisation" not in line
    assert geojson_left_out(SurveyData(Survey("a", "b"))) == ()

    line = "\n".join(gpx_left_out(BASIN))
    assert "larkspur-1, larkspur-2 are left out" in line
    assert "no gauging without a position: 1 are left out" in line


def test_a_sign_that_no_xml_holds_is_refused() -> None:
    """A control sign in a name stops the file, with the record that has it."""
    odd = attrs.evolve(FIRST, site=attrs.evolve(FIRST.site, name="ford\x0b2"))

    with pytest.raises(InputRefused, match=r"gauging ford.* U\+000B, which no XML can hold"):
        gpx(SurveyData(None, (odd,)))


def test_points_give_positions_by_their_labels(tmp_path: Path) -> None:
    """Labels are compared without case and marks; what a point says besides is kept."""
    noted = attrs.evolve(SECOND, remarks="weed; label: LR 07")
    named = attrs.evolve(SECOND, site=Site("below the ford", "Alder Fork"))
    path = _gpx(
        tmp_path, (45.6, -1.2, "lr-07"), (45.7, -1.3, "LR-02"), (45.8, -1.4, "Below the Ford")
    )

    points, notes = read_gpx(path)
    found = matched(points, (noted, named), SURVEY)

    assert notes == ()
    first, second = (gauging.site.position for gauging in found.gaugings)
    assert first == Position(-1.2, 45.6, label="lr-07")
    assert second == Position(-1.4, 45.8, label="Below the Ford")
    assert found.gaugings[0].remarks == (
        "weed; label: LR 07; point lr-07: elevation 812.4 m, 2026-07-14T16:58:00Z"
    )
    assert found.survey is not None
    assert found.survey.sites[2].position == Position(-1.3, 45.7, label="LR-02")
    assert found.survey.sites[0] == SURVEY.sites[0]
    assert found.notes == ()


def test_what_fits_nothing_is_named(tmp_path: Path) -> None:
    """A point for nobody, a gauging without a point, and a position that stays, are each told."""
    path = _gpx(tmp_path, (45.6, -1.2, "XX-99"), (45.7, -1.3, "alder-1"), (45.7, -1.3, ""))

    points, unnamed = read_gpx(path)
    found = matched(points, (FIRST, SECOND), None)

    assert found.gaugings == (FIRST, SECOND)
    assert unnamed == ("The way point 3 (line 5) has no name, and was not used.",)
    assert set(found.notes) == {
        "Alder Fork, above the footbridge: it keeps its own position, -1.24, 45.61; the point "
        '"alder-1" is at -1.3, 45.7.',
        "Larkspur River, at the old weir, 2026-07-15: no point was found for it "
        '("at the old weir").',
        'The point "XX-99" is the label of no gauging and no site, and was not used.',
    }


def test_a_name_that_two_streams_have_fits_neither() -> None:
    """Where "the ford" is on two streams, nobody can tell which was meant."""
    one = attrs.evolve(SECOND, site=Site("the ford", "Alder Fork"))
    other = attrs.evolve(SECOND, site=Site("the ford", "Larkspur River"))
    point = NamedPoint("the ford", Position(-1.0, 45.0, label="the ford"))

    found = matched((point,), (one, other), None)

    assert found.gaugings == (one, other)
    assert len(found.notes) == 3


def test_points_out_of_geojson(tmp_path: Path) -> None:
    """A point of somebody's own map has its name in one of the usual properties."""
    document = {
        "type": "FeatureCollection",
        "features": [
            {
                "type": "Feature",
                "properties": {"title": "AF-02", "ele": 801},
                "geometry": {"type": "Point", "coordinates": [-1.2, 45.6, 801]},
            },
            {"type": "Feature", "properties": {"name": "nowhere"}, "geometry": None},
        ],
    }
    found = read_geojson(json.dumps(document))

    (point,) = found.points
    assert (point.label, point.position.lon, point.remark) == ("AF-02", -1.2, "ele 801")
    assert found.notes == ("features[1] has no name and no place, and was not used.",)


SITE = {
    "type": "Feature",
    "properties": {"kind": "site", "id": "a", "stream": "Alder Fork", "name": "ford"},
    "geometry": {"type": "Point", "coordinates": [-1.2, 45.6]},
}


def _collection(*features: Any, **members: Any) -> str:
    return json.dumps({"type": "FeatureCollection", "features": list(features), **members})


def _site(geometry: Any = SITE["geometry"], **properties: Any) -> dict[str, Any]:
    return {**SITE, "geometry": geometry, "properties": {**SITE["properties"], **properties}}  # type: ignore[dict-item]


POINT = {"type": "Point", "coordinates": [-1.2, 95]}
GEOJSON = [
    ("no JSON", "{", ["must be JSON"]),
    ("no collection", json.dumps(SITE), ["no FeatureCollection"]),
    ("no features", json.dumps({"type": "FeatureCollection"}), ["no list of features"]),
    ("no feature", _collection(SITE, 3), ["features[1]", "a Feature would be right"]),
    ("no id", _collection(SITE, _site(id=None)), ["features[1].id", "id must be given"]),
    ("a latitude", _collection(_site(POINT)), ["features[0].position.lat", "from -90 to 90"]),
    ("a line for a site", _collection(_site({"type": "LineString", "coordinates": []})),
     ["features[0].geometry", 'found a geometry of "LineString"; a Point would be right']),
    ("an unknown property", _collection(_site(colour="red")), ["features[0].colour"]),
    ("a word for a number", _collection(_site(along_km="far")), ["features[0].along_km", '"far"']),
    ("a stream that is not there",
     _collection({**SITE, "properties": {"kind": "stream", "name": "Larkspur"}, "geometry": None},
                 SITE, survey={"id": "s", "name": "S"}),
     ["features[1].stream", "stream must be one of the survey"]),
    ("a survey without a name", _collection(SITE, survey={"id": "s"}), ["survey.name"]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "says"), [pytest.param(t, s, id=n) for n, t, s in GEOJSON])
def test_damaged_geojson_is_refused_with_its_feature(text: str, says: list[str]) -> None:
    """One sentence says the file, the feature, what was found and what would be right."""
    with pytest.raises(InputRefused) as refused:
        read_geojson(text, "basin.geojson")

    (sentence,) = [str(fault) for fault in refused.value.faults]
    assert sentence.startswith("basin.geojson")
    assert all(part in sentence for part in says), sentence


DOCTYPE = '<!DOCTYPE gpx [<!ENTITY e SYSTEM "file:///etc/passwd">]>'
BOMB = '<!DOCTYPE gpx [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>'
BROKEN_GPX = [
    ("no XML", "GPX", ["no XML that is whole"]),
    ("cut off", GPX.format("<wpt>")[:-9], ["no XML that is whole"]),
    ("another XML", "<kml/>", ["no GPX"]),
    ("a file pulled in", GPX.format("&e;").replace("<gpx", f"{DOCTYPE}<gpx", 1), ["document type"]),
    ("a bomb", GPX.format("&b;").replace("<gpx", f"{BOMB}<gpx", 1), ["document type"]),
    ("no latitude", GPX.format('<wpt lon="1"><name>a</name></wpt>'),
     ["way point 1 (line 3)", "lat: found nothing; degrees such as"]),
    ("a latitude", GPX.format('<wpt lat="91" lon="1"><name>a</name></wpt>'),
     ["way point 1 (line 3)", "from -90 to 90 (got 91.0)"]),
    ("minutes", GPX.format('<wpt lat="45°36" lon="1"><name>a</name></wpt>'), ['found "45°36"']),
]  # fmt: skip


@pytest.mark.parametrize(("text", "says"), [pytest.param(t, s, id=n) for n, t, s in BROKEN_GPX])
def test_damaged_gpx_is_refused_with_its_way_point(
    text: str, says: list[str], tmp_path: Path
) -> None:
    """One sentence says the file, the way point and its line, and nothing else is opened."""
    path = tmp_path / "points.gpx"
    path.write_text(text, encoding="utf-8")

    with pytest.raises(InputRefused) as refused:
        read_gpx(path)

    (sentence,) = [str(fault) for fault in refused.value.faults]
    assert sentence.startswith("points.gpx")
    assert all(part in sentence for part in says), sentence


def test_one_label_for_two_points_is_refused(tmp_path: Path) -> None:
    """Nobody can tell which of them was meant."""
    points, _ = read_gpx(_gpx(tmp_path, (45.6, -1.2, "AF-01"), (45.7, -1.3, "af 01")))

    with pytest.raises(InputRefused, match=r'"af 01" again, as in way point 1 \(line 3\)'):
        matched(points, (), None)


def test_more_xml_than_any_receiver_writes_is_not_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file beyond the bound costs no memory."""
    monkeypatch.setattr("bankside.exchange.xml_text.MAX_BYTES", 100)

    with pytest.raises(InputRefused, match="split the file"):
        read_gpx(_gpx(tmp_path, (45.6, -1.2, "AF-01")))
