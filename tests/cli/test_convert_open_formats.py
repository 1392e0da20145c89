"""`bankside convert` to open formats and back, and `compute` on what they hold."""

import json
import sqlite3
from pathlib import Path

import pytest

from bankside.cli import main
from bankside.gauging.wire import several_from_json
from bankside.survey.document import survey_from_json

ROOT = Path(__file__).parents[2]
SHEETS = sorted((ROOT / "demo" / "sheets").iterdir())
SURVEY = ROOT / "demo" / "survey" / "survey.json"


def _run(*arguments: object) -> int:
    return main([str(argument) for argument in arguments])


@pytest.fixture(scope="module")
def records(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The gaugings of the demo in our own JSON."""
    path = tmp_path_factory.mktemp("records") / "demo.json"
    assert _run("convert", *SHEETS, "--to", "json", "-o", path) == 0
    return path


@pytest.mark.parametrize(
    ("form", "name"),
    [
        ("datapackage", "out.zip"),
        ("datapackage", "out"),
        ("geopackage", "out.gpkg"),
        ("parquet", "out.zip"),
        ("parquet", "out"),
    ],
)
def test_records_survive_the_way_there_and_back(
    form: str, name: str, records: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The very bytes of our JSON come back, and the figures are the same."""
    there, back = tmp_path / name, tmp_path / "back.json"

    assert _run("convert", records, "--to", form, "-o", there) == 0
    assert _run("convert", there, "--to", "json", "-o", back) == 0
    assert back.read_bytes() == records.read_bytes()

    capsys.readouterr()
    discharges = []
    for path in (records, there):
        assert _run("compute", path, "--json") == 0
        gaugings = json.loads(capsys.readouterr().out)["gaugings"]
        discharges.append([gauging["discharge_m3s"] for gauging in gaugings])
    assert discharges[0] == discharges[1]


def test_a_survey_goes_along(records: Path, tmp_path: Path) -> None:
    """Sites and streams that --survey names are in the file, and stay in it from form to form."""
    first, second = tmp_path / "first.zip", tmp_path / "second.gpkg"

    assert _run("convert", records, "--survey", SURVEY, "--to", "datapackage", "-o", first) == 0
    assert _run("convert", first, "--to", "geopackage", "-o", second) == 0

    known = survey_from_json(SURVEY.read_text(encoding="utf-8"))
    with sqlite3.connect(second) as database:
        ids = [row[0] for row in database.execute("select id from sites order by number")]
        (lines,) = database.execute(
            "select count(*) from streams where geom is not null"
        ).fetchone()
    database.close()
    assert ids == [site.id for site in known.sites]
    assert lines == sum(bool(stream.line) for stream in known.streams)


def test_what_a_table_leaves_of_a_survey_is_told(
    records: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Our JSON of gaugings has no sites; who asked for both is told so."""
    assert _run("convert", records, "--survey", SURVEY, "--to", "json", "-o", tmp_path / "a") == 0
    assert "The survey " in capsys.readouterr().err


def test_a_file_that_is_no_survey_is_refused(
    records: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A record in the place of a survey is named, and nothing is written."""
    output = tmp_path / "a.zip"
    assert _run("convert", records, "--survey", records, "--to", "datapackage", "-o", output) == 2
    assert capsys.readouterr().err.startswith("demo.json: --survey: found no survey in it")
    assert not output.exists()


@pytest.mark.parametrize(
    ("form", "name", "says"),
    [
        ("geopackage", "out.zip", "one that ends in .gpkg would be right, or --to datapackage"),
        ("geopackage", "out.sqlite", "one that ends in .gpkg would be right"),
        ("datapackage", "out.gpkg", "one that ends in .zip would be right, or --to geopackage"),
        ("json", "out.gpkg", "one that ends in .json would be right, or --to geopackage"),
    ],
)
def test_a_name_of_another_form_is_refused(
    form: str,
    name: str,
    says: str,
    records: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """No format hides under the name of another one."""
    assert _run("convert", records, "--to", form, "-o", tmp_path / name) == 2
    assert says in capsys.readouterr().err
    assert not (tmp_path / name).exists()


@pytest.mark.parametrize("form", ["datapackage", "geopackage", "parquet"])
def test_a_form_that_is_no_text_needs_a_place(
    form: str, records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Nothing that a terminal cannot show goes to it."""
    assert _run("convert", records, "--to", form) == 2
    told = capsys.readouterr()
    assert (told.out, told.err.startswith(f"--to {form} needs --output ")) == ("", True)


def test_a_folder_is_replaced_when_asked(
    records: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Tables of before do not stay among those of now, and nothing else is ever taken away."""
    folder = tmp_path / "tables"
    command = ["convert", records, "--to", "datapackage", "-o", folder]
    assert _run(*command) == 0
    (folder / "answers.csv").write_text("of before\n", encoding="utf-8")
    assert _run(*command) == 2
    assert "--replace" in capsys.readouterr().err
    assert _run(*command, "--replace") == 0
    assert not (folder / "answers.csv").exists()

    (folder / "photo.jpg").write_bytes(b"somebody's own")
    assert _run(*command, "--replace") == 2
    assert 'holds "photo.jpg" besides tables' in capsys.readouterr().err
    assert (folder / "photo.jpg").exists()


def test_sheets_are_never_taken_for_tables(
    records: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A crew's folder is refused though --replace is said, whatever its sheets are called."""
    for name in ("readings.csv", "monday.csv"):
        folder = tmp_path / name.removesuffix(".csv")
        folder.mkdir()
        (folder / name).write_text("tape,depth,velocity\n", encoding="utf-8")
        command = ["convert", records, "--to", "datapackage", "-o", folder, "--replace"]
        assert _run(*command) == 2
        assert f'holds "{name}" besides tables' in capsys.readouterr().err
        assert [path.name for path in folder.iterdir()] == [name]


def test_a_package_may_be_handed_over_by_its_descriptor(records: Path, tmp_path: Path) -> None:
    """Who points at datapackage.json means the folder around it."""
    folder = tmp_path / "tables"
    assert _run("convert", records, "--to", "datapackage", "-o", folder) == 0
    back = tmp_path / "back.json"
    assert _run("convert", folder / "datapackage.json", "--to", "json", "-o", back) == 0
    there = several_from_json(records.read_text(encoding="utf-8"))
    assert several_from_json(back.read_text(encoding="utf-8")) == there


def test_one_parquet_file_is_no_survey(
    records: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A single table says that the others are missing, and where they would be."""
    folder = tmp_path / "tables"
    assert _run("convert", records, "--to", "parquet", "-o", folder) == 0
    assert _run("compute", folder / "readings.parquet") == 2
    assert "the folder or ZIP archive with all of them" in capsys.readouterr().err


@pytest.mark.parametrize("form", ["parquet", "datapackage"])
def test_names_in_capitals_are_read(form: str, records: Path, tmp_path: Path) -> None:
    """As they come back from a device that knows no small letters."""
    folder = tmp_path / "tables"
    assert _run("convert", records, "--to", form, "-o", folder) == 0
    for path in list(folder.iterdir()):
        path.rename(folder / path.name.upper())

    assert _run("convert", folder, "-o", tmp_path / "back.json") == 0
    assert (tmp_path / "back.json").read_bytes() == records.read_bytes()


NORTH = ROOT / "demo" / "survey" / "north"
POINTS = ROOT / "demo" / "survey" / "points.gpx"


def test_points_of_a_receiver_give_positions(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Sheets that note labels, and way points of these names, make gaugings with positions."""
    output = tmp_path / "placed.json"
    sheets = sorted(NORTH.glob("*.csv"))

    assert _run("convert", *sheets, "--positions", POINTS, "--to", "json", "-o", output) == 0

    gaugings = several_from_json(output.read_text(encoding="utf-8"))
    placed = {g.site.position.label for g in gaugings if g.site.position is not None}
    # The demo says of MW-01 that nobody took its position.
    assert placed == {"AF-01", "AF-02", "AF-03", "QB-01", "QB-02", "TB-01", "TB-02", "TR-02"}
    told = capsys.readouterr().err
    assert told.count("no point was found for it") == 1
    assert 'The point "SB-03" is the label of no gauging and no site' in told


@pytest.mark.parametrize(
    ("form", "begins"), [("geojson", '{\n"type"'), ("gpx", "<?xml"), ("waterml", "<?xml")]
)
def test_places_go_to_standard_output(
    form: str, begins: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Forms that are text need no file, and what they leave out is said beside them."""
    sheet = NORTH / "af-01_0722.csv"
    assert _run("convert", sheet, "--survey", SURVEY, "--to", form) == 0
    told = capsys.readouterr()
    assert told.out.startswith(begins)
    assert "no reading" in told.err or "does not hold of the gaugings" in told.err


def test_geojson_of_ours_is_a_list_of_sites(records: Path, tmp_path: Path) -> None:
    """What was written with a survey serves as one again."""
    places, package = tmp_path / "places.geojson", tmp_path / "package.zip"
    assert _run("convert", records, "--survey", SURVEY, "--to", "geojson", "-o", places) == 0
    assert _run("convert", records, "--survey", places, "--to", "datapackage", "-o", package) == 0


def test_waterml_has_the_same_discharges(
    records: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The verticals of a document are computed like those of the records it was made of."""
    document = tmp_path / "demo.xml"
    assert _run("convert", records, "--to", "waterml", "-o", document) == 0
    assert "WaterML does not hold of the gaugings: " in capsys.readouterr().err

    discharges = []
    for path in (records, document):
        assert _run("compute", path, "--json") == 0
        gaugings = json.loads(capsys.readouterr().out)["gaugings"]
        discharges.append([gauging["discharge_m3s"] for gauging in gaugings])
    assert discharges[0] == discharges[1]


def test_gpx_without_a_point_is_no_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Alder Fork has a label and no position: one sentence says so, and nothing is written."""
    sheet, out = ROOT / "demo" / "sheets" / "alder_fork.csv", tmp_path / "points.gpx"

    assert _run("convert", sheet, "--to", "gpx", "-o", out) == 2
    assert capsys.readouterr().err == (
        "found no position of any site or gauging, so that a GPX file would be empty; the points "
        "of a receiver, --positions FILE, would be right\n"
    )
    assert not out.exists()
    assert _run("convert", sheet, "--to", "gpx", "-o", out, "--positions", POINTS) == 0
    assert out.read_bytes().count(b"<wpt") == 1


@pytest.mark.parametrize("name", ["places.geojson", "points.gpx"])
def test_places_are_no_readings(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A file of points that is handed over in the place of readings is told where it belongs."""
    path = tmp_path / name
    path.write_text('{"type": "FeatureCollection", "features": []}', encoding="utf-8")
    if name.endswith("gpx"):
        path.write_bytes(POINTS.read_bytes())
    assert _run("compute", path) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert line.startswith(name) and "--positions" in line
