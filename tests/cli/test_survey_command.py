"""`bankside survey report`: what it reads, what it writes, and what it refuses."""

import csv
import io
from pathlib import Path

import openpyxl
import pytest

from bankside.cli import main

from ..report.documents import Page, pdf_text

SURVEY = """{
  "format": "bankside.survey/1",
  "id": "two-sites",
  "name": "Two sites",
  "streams": [{"name": "Alder Fork"}],
  "sites": [
    {"id": "AF-1", "stream": "Alder Fork", "name": "above", "along_km": 2},
    {"id": "AF-2", "stream": "Alder Fork", "name": "below", "along_km": 1}
  ]
}
"""
HEAD = "# stream: Alder Fork\n# site: {}\n# date: 2026-07-14\ntape (m),depth (m),velocity (m/s)\n"
ROWS = "0.4,0,\n0.8,0.22,0.31\n1.2,0.34,0.47\n1.6,0.27,0.29\n2.1,0,\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A survey with a sheet for each of its sites, and a file that is none."""
    (tmp_path / "survey.json").write_text(SURVEY, encoding="utf-8")
    for name in ("above", "below"):
        (tmp_path / f"{name}.csv").write_text(HEAD.format(name) + ROWS, encoding="utf-8")
    (tmp_path / "read.me").write_text("no sheet", encoding="utf-8")
    return tmp_path


def report(folder: Path, *arguments: str | Path) -> int:
    """Run the command on the folder."""
    given = ["survey", "report", folder, "--survey", folder / "survey.json", *arguments]
    return main([str(argument) for argument in given])


def read(path: Path) -> list[dict[str, str]]:
    """The rows of a CSV file."""
    return list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8"))))


def test_a_folder_becomes_a_pdf(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Everything in the folder is read, what is no sheet is named, and the file is named."""
    output = folder / "out.pdf"
    assert report(folder, "-o", output) == 0

    printed = capsys.readouterr()
    assert printed.out == f"{output}\n"
    assert "only sheets, records and journals are read; one other file passed over (.me)." in (
        printed.err
    )
    text = pdf_text(output.read_bytes(), folder)
    assert "Two sites" in text and "Alder Fork, above" in text and "2 of 2 planned" in text


def test_it_is_named_by_the_survey(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without a name the file gets the survey's id, and a page ends in .html."""
    monkeypatch.chdir(folder)
    assert report(folder, "--html") == 0

    page = Page((folder / "two-sites.html").read_text(encoding="utf-8"))
    assert "Two sites" in page.text


def test_tables_go_along(folder: Path) -> None:
    """Each table as CSV with its columns explained, and all of them in one workbook."""
    tables = folder / "made" / "tables"
    assert report(folder, "-o", folder / "out.pdf", "--tables", tables) == 0

    rows = read(tables / "gaugings.csv")
    assert [row["site"] for row in rows] == ["AF-1", "AF-2"]
    # By hand: widths 0.4, 0.4 and 0.45 m; 0.2 + 0.2 m of them reach half-way to the banks.
    panels = 0.4 * 0.22 * 0.31 + 0.4 * 0.34 * 0.47 + 0.45 * 0.27 * 0.29
    assert float(rows[0]["discharge_m3s"]) == pytest.approx(panels)
    book = openpyxl.load_workbook(tables / "survey.xlsx")
    names = sorted(path.stem for path in tables.glob("*.csv"))
    assert sorted(book.sheetnames) == names
    assert [cell.value for cell in book["gaugings"][1]] == list(rows[0])
    explained = read(tables / "columns.csv")
    assert {row["column"] for row in explained if row["table"] == "gaugings"} == set(rows[0])
    assert all(row["holds"] for row in explained)


def test_a_text_is_no_formula_in_the_tables(folder: Path) -> None:
    """What begins like a formula stays a text, in CSV and in the workbook."""
    named = SURVEY.replace('"name": "below"', '"name": "=1+1", "also": ["below"]')
    (folder / "survey.json").write_text(named, encoding="utf-8")
    tables = folder / "tables"
    assert report(folder, "-o", folder / "out.pdf", "--tables", tables) == 0

    assert [row["place"] for row in read(tables / "sites.csv")] == ["above", "'=1+1"]
    cells = openpyxl.load_workbook(tables / "survey.xlsx")["sites"]
    place = next(column for column in cells.iter_cols() if column[0].value == "place")
    assert (place[2].value, place[2].data_type) == ("=1+1", "s")


def test_tables_are_not_read_again(folder: Path) -> None:
    """Written into the folder of the sheets, they are no sheets in the next run."""
    tables = folder / "tables"
    for replace in ((), ("--replace",)):
        assert report(folder, "-o", folder / "out.pdf", "--tables", tables, *replace) == 0
    assert len(read(tables / "gaugings.csv")) == 2


def test_nothing_is_written_over(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A file that is there stays, be it the report or one of its tables; --replace says so."""
    output, tables = folder / "out.pdf", folder / "tables"
    tables.mkdir()
    (tables / "sites.csv").write_text("mine", encoding="utf-8")
    assert report(folder, "-o", output, "--tables", tables) == 2

    assert "sites.csv: is there already" in capsys.readouterr().err
    assert not output.exists() and (tables / "sites.csv").read_text() == "mine"
    assert report(folder, "-o", output, "--tables", tables, "--replace") == 0
    assert report(folder, "-o", output) == 2


def test_a_refused_sheet_stops_it_or_is_named(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A wrong cell is told with its place; with --keep-going it stands under Exceptions."""
    (folder / "below.csv").write_text(
        HEAD.format("below") + ROWS.replace("0.34", "deep"), encoding="utf-8"
    )
    output = folder / "out.pdf"
    assert report(folder, "-o", output) == 2
    told = capsys.readouterr().err
    assert 'below.csv, row 7, column B "depth (m)": found "deep"' in told
    assert not output.exists()

    assert report(folder, "-o", output, "--keep-going") == 0
    text = pdf_text(output.read_bytes(), folder)
    assert "Left out, as they could not be read: 1." in text
    assert 'found "deep"' in text


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (("--survey", "above.csv"), "above.csv: found no survey"),
        (
            ("--survey", "marrow"),
            'marrow: --survey: found no such file; a file of the format "bank',
        ),
        (("-o", "report.doc"), "one that ends in .pdf, such as out.pdf, would be right"),
        (("--rules", "no-such-rules"), "no-such-rules"),
        (("--window-days", "-1"), "window-days"),
        (("--map", "depth"), "map"),
    ],
)
def test_what_is_wrong_is_one_sentence(
    folder: Path,
    arguments: tuple[str, str],
    sentence: str,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Each wrong option is told, and nothing is written."""
    monkeypatch.chdir(folder)
    given = {"--survey": "survey.json", "-o": "out.pdf", **dict([arguments])}
    options = [part for pair in given.items() for part in pair]
    assert main(["survey", "report", "above.csv", *options]) == 2

    told = capsys.readouterr().err
    assert sentence in told and "Traceback" not in told
    assert not (folder / "out.pdf").exists()


def test_an_empty_folder_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Where there is nothing to read, what would be right is said."""
    (tmp_path / "survey.json").write_text(SURVEY, encoding="utf-8")

    assert report(tmp_path, "-o", tmp_path / "out.pdf") == 2
    assert "found nothing to read" in capsys.readouterr().err


def test_way_points_give_positions(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A receiver's points, by their labels, put the sites on the map."""
    points = folder / "points.gpx"
    points.write_text(
        '<gpx version="1.1" creator="x" xmlns="http://www.topografix.com/GPX/1/1">'
        '<wpt lat="45.6" lon="-1.3"><name>AF-1</name></wpt></gpx>',
        encoding="utf-8",
    )
    output = folder / "out.html"
    assert report(folder, "--html", "-o", output, "--positions", points) == 0

    assert "no point was found" in capsys.readouterr().err
    assert "Not on the map, as no position is known: AF-2." in Page(output.read_text("utf-8")).text
