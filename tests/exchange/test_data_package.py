"""A Data Package keeps the standard's rules, and a damaged one is met with the right sentence."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings

from bankside.exchange.data import SurveyData
from bankside.exchange.data_package import data_package, read_data_package
from bankside.exchange.forms import FORMAT
from bankside.exchange.members import read_members, write_folder, write_zip
from bankside.gauging.faults import InputRefused

from .building import BASIN, SURVEY, demo_gaugings, with_visits
from .strategies import survey_data
from .table_standard import faults_of_package

Files = dict[str, bytes]


@settings(max_examples=40)
@given(survey_data())
def test_any_package_keeps_the_rules_of_the_standard(data: SurveyData) -> None:
    """Types, bounds, keys and references hold for whatever a record can hold."""
    assert faults_of_package(data_package(data)) == []


@pytest.mark.parametrize("gaugings", [BASIN.gaugings, demo_gaugings()], ids=["basin", "demo"])
def test_what_is_worked_out_keeps_them_too(gaugings: Any) -> None:
    """The tables of results name gaugings, verticals and sites that are there."""
    files = data_package(with_visits(SurveyData(SURVEY, gaugings)))
    package = json.loads(files["datapackage.json"])

    assert faults_of_package(files) == []
    marked = {r["name"] for r in package["resources"] if r.get("workedOut")}
    assert marked == {"results", "result_panels", "result_notes", "findings"}


def test_every_table_of_the_basin_is_there() -> None:
    """The test's own basin leaves no table empty, so that each one is held to the rules."""
    assert {name.removesuffix(".csv") for name in data_package(BASIN) if name.endswith("csv")} == {
        *("surveys", "streams", "stream_points", "sites", "balances"),
        *("gaugings", "crew", "stage", "meter_ratings", "meter_checks", "channels", "verticals"),
        *("readings", "filed_panels", "corrections", "answers"),
        *("results", "result_panels", "result_notes", "findings"),
    }


def test_units_stand_beside_their_columns() -> None:
    """A unit that all gaugings share is told as a code of UCUM; else where it stands is told."""
    mixed = _fields(BASIN, "verticals")
    (first, _) = BASIN.gaugings
    alone = _fields(SurveyData(SURVEY, (first,)), "verticals")

    assert "unit" not in mixed["depth"]
    assert mixed["depth"]["unitColumn"].startswith("gaugings.units_depth")
    assert (alone["depth"]["unit"], mixed["angle"]["unit"]) == ("[ft_i]", "deg")
    panels = _fields(SurveyData(SURVEY, (first,)), "filed_panels")
    assert (panels["area"]["unit"], panels["discharge"]["unit"]) == ("[ft_i]2", "[ft_i]3/s")


def _fields(data: SurveyData, table: str) -> dict[str, dict[str, Any]]:
    package = json.loads(data_package(data)["datapackage.json"])
    (resource,) = [r for r in package["resources"] if r["name"] == table]
    return {field["name"]: field for field in resource["schema"]["fields"]}


def test_no_cell_is_a_formula() -> None:
    """No text of a record can run in a spreadsheet; numbers stay numbers."""
    files = data_package(BASIN)
    assert b"'=HYPERLINK" not in files["sites.csv"]  # it stands in a list, which begins with [
    assert b"\"'-7 \xc2\xb0C at dawn" in files["gaugings.csv"]
    assert b",-12," in files["verticals.csv"]


def test_equal_surveys_are_equal_bytes(tmp_path: Path) -> None:
    """No clock and no chance goes into a package or its archive."""
    for name in ("a.zip", "b.zip"):
        write_zip(data_package(BASIN), tmp_path / name)

    assert (tmp_path / "a.zip").read_bytes() == (tmp_path / "b.zip").read_bytes()


def test_a_package_that_was_edited_is_told(tmp_path: Path) -> None:
    """A table that was changed or is unknown is no fault, and is never passed over."""
    files = data_package(BASIN)
    package = json.loads(files["datapackage.json"])
    package["resources"].append({"name": "weather", "path": "weather.csv"})
    files["datapackage.json"] = json.dumps(package).encode()
    files["crew.csv"] = files["crew.csv"].replace(b"June", b"Juni")
    write_folder(files, tmp_path)

    found = read_data_package(tmp_path)

    assert [member.name for member in found.data.gaugings[0].crew] == ["Mora, A.", "Quill, Juni"]
    assert set(found.notes) == {
        "crew.csv was changed since the package was written.",
        "The table weather is none that is known, and was not read.",
    }


def _swap(name: str, old: str, new: str) -> Callable[[Files], None]:
    def change(files: Files) -> None:
        assert old.encode() in files[name], name
        files[name] = files[name].replace(old.encode(), new.encode(), 1)

    return change


def _without(name: str) -> Callable[[Files], None]:
    def change(files: Files) -> None:
        del files[name]

    return change


READINGS = "af-2026-07-14,0,2,1,0.9,0.8,40,,\n"
BROKEN = [
    ("no descriptor", _without("datapackage.json"), ["found no datapackage.json"]),
    ("no table", _without("readings.csv"), ["readings.csv", "found no such file"]),
    ("no JSON", _swap("datapackage.json", "{", "["), ["datapackage.json", "must be JSON"]),
    ("a newer format", _swap("datapackage.json", FORMAT, "bankside.tables/2"), ["is newer than"]),
    ("no resources", _swap("datapackage.json", '"resources"', '"tables"'), ["list of resources"]),
    ("not UTF-8", lambda f: f.update({"crew.csv": b"gauging,\xff"}), ["crew.csv", "no UTF-8"]),
    ("an empty file", lambda f: f.update({"crew.csv": b""}), ["crew.csv, row 1", "empty file"]),
    ("a head", _swap("readings.csv", "fraction", "fration"), ['"fration"', 'mean "fraction"?']),
    ("a head twice", _swap("crew.csv", "name,role", "name,name"), ['column "name" twice']),
    ("a key's head", _swap("crew.csv", "member,name,role", "name,role"), ['no column "member"']),
    ("a word for a number", _swap("readings.csv", "41.5", "4l.5"),
     ["readings.csv, row 3, column seconds", 'found "4l.5"', "a number with a decimal point"]),
    ("a decimal comma", _swap("readings.csv", "41.5", '"41,5"'), ['found "41,5"']),
    ("NaN", _swap("readings.csv", "41.5", "NaN"), ['found "NaN"', "a number"]),
    ("a number too large", _swap("readings.csv", "41.5", "1e999"), ['found "1e999"']),
    ("a negative depth", _swap("verticals.csv", ",4,1.25,", ",4,-1.25,"),
     ["verticals.csv, row 3, column depth", "depth must be a number of at least 0 (got -1.25)"]),
    ("a flag", _swap("gaugings.csv", ",true,cup", ",yes,cup"), ["column meter", "true or false"]),
    ("a list", _swap("balances.csv", "[", "("), ["balances.csv", "column above", "a JSON list"]),
    ("a moment", _swap("stage.csv", "T10:04:00-07:00", " 10:04"), ["stage.csv, row 2, column at"]),
    ("a unit", _swap("gaugings.csv", ",ft,ft/s", ",yd,ft/s"), ["column units_length", '"yd"']),
    ("cells missing", _swap("crew.csv", ",rod", ""), ["crew.csv, row 2", "3 cells under 4 heads"]),
    ("a quote that stays open", _swap("crew.csv", '"Mora, A."', '"Mora, A.'), ["no CSV"]),
    ("an owner that is not there", _swap("crew.csv", "af-2026", "af-2025"),
     ["crew.csv, row 2, column gauging", '"af-2025-07-14", which is in no row of the table gaug']),
    ("no owner", _swap("crew.csv", "af-2026-07-14", ""), ["crew.csv, row 2", "found nothing"]),
    ("a row lost", _swap("readings.csv", "af-2026-07-14,0,2,0,1.1,0.2,41.5,,\n", ""),
     ["readings.csv, row 3, column reading", "found 1 and no row with 0"]),
    ("a row twice", _swap("readings.csv", READINGS, READINGS * 2),
     ["readings.csv, row 5, column reading", "found 1 again, as in row 4"]),
    ("no survey", lambda f: f.update({"surveys.csv": f["surveys.csv"].split(b"\n")[0] + b"\n"}),
     ["streams.csv", "none in the table surveys"]),
    ("a meter denied", _swap("gaugings.csv", ",true,cup", ",false,cup"),
     ["gaugings.csv, row 2, column meter", "a value in meter_kind; true would be right"]),
    ("a contradiction", _swap("gaugings.csv", "10:52:30-07:00", "09:52:30-07:00"),
     ["gaugings.csv, row 2, column ended", "ended must not be before started"]),
    ("a site twice", _swap("sites.csv", "larkspur-2", "larkspur-1"), ["sites.csv", "again"]),
]  # fmt: skip


@pytest.mark.parametrize(
    ("change", "says"), [pytest.param(change, says, id=name) for name, change, says in BROKEN]
)
def test_a_damaged_package_is_refused_with_its_place(
    change: Callable[[Files], None], says: list[str], tmp_path: Path
) -> None:
    """One sentence says the package, the file, row and column, what was found, what is right."""
    files = data_package(BASIN)
    change(files)
    write_zip(files, tmp_path / "basin.zip")

    with pytest.raises(InputRefused) as refused:
        read_data_package(tmp_path / "basin.zip")

    sentences = [str(fault) for fault in refused.value.faults]
    assert all(sentence.startswith("basin.zip") for sentence in sentences)
    assert [s for s in sentences if all(part in s for part in says)], sentences


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "not a zip file"),
        (b"PK\x03\x04 and no more", "not a zip file"),
    ],
)
def test_a_damaged_archive_is_refused(content: bytes, says: str, tmp_path: Path) -> None:
    """What is no archive, or is cut off, is one sentence."""
    (tmp_path / "basin.zip").write_bytes(content)

    with pytest.raises(InputRefused, match=says):
        read_data_package(tmp_path / "basin.zip")


def test_an_archive_that_was_changed_underway_is_refused(tmp_path: Path) -> None:
    """The checksum of a member is held against what is unpacked."""
    path = tmp_path / "basin.zip"
    write_zip(data_package(BASIN), path)
    content = bytearray(path.read_bytes())
    content[200] ^= 0xFF
    path.write_bytes(content)

    with pytest.raises(InputRefused, match="can be read whole"):
        read_data_package(path)


def test_an_archive_larger_than_any_survey_is_not_unpacked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A small archive that claims to hold very much costs no memory."""
    monkeypatch.setattr("bankside.exchange.members.MAX_BYTES", 1000)
    path = tmp_path / "basin.zip"
    write_zip({"readings.csv": b"0" * 2000}, path)

    with pytest.raises(InputRefused, match="found more than"):
        read_members(path, (".csv",))
