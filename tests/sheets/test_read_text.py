"""Text files in the encodings, separators and number marks that reach an office."""

import codecs
from pathlib import Path

import pytest

from bankside.sheets.read import read_sheets

from .building import (
    SECTION,
    SECTION_DISCHARGE,
    discharge,
    gauging_of,
    lines_of,
    metric,
    read,
    read_one,
    text_sheet,
)

CLOSE = 1e-12


def test_a_bare_table_is_read_row_by_row(tmp_path: Path) -> None:
    """Three heads and six rows give six verticals and the discharge worked out by hand."""
    reading = read(text_sheet(tmp_path, metric()))
    assert reading.counts == {"used": 6, "remark": 1, "refused": 0}
    verticals = gauging_of(reading.gaugings[0]).channels[0].verticals
    assert [v.tape for v in verticals] == [0.4, 1.0, 1.6, 2.4, 3.0, 3.5]
    assert [v.depth for v in verticals] == [0.0, 0.32, 0.45, 0.4, 0.18, 0.0]
    assert discharge(reading.gaugings[0]) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


@pytest.mark.parametrize(
    ("encoding", "mark"),
    [
        ("utf-8-sig", b""),
        ("utf-16-le", codecs.BOM_UTF16_LE),
        ("utf-16-be", codecs.BOM_UTF16_BE),
        ("utf-16-le", b""),
    ],
)
def test_files_with_a_byte_order_mark_or_two_bytes_a_sign(
    tmp_path: Path, encoding: str, mark: bytes
) -> None:
    """Spreadsheet programs save text as UTF-8 with a mark or as UTF-16; both read the same."""
    path = tmp_path / "sheet.csv"
    path.write_bytes(mark + metric().encode(encoding))
    item = read_one(path) if mark or encoding == "utf-8-sig" else read_sheets(path).gaugings[0]
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_an_office_abroad_writes_latin_letters(tmp_path: Path) -> None:
    """German and French heads in Latin-1, semicolons and decimal commas are one sheet."""
    q = [figure.replace(".", ",") for figure in ("0", "67.2", "171", "132", "21.6", "0")]
    rows = [
        (*(value.replace(".", ",") for value in station), product)
        for station, product in zip(SECTION, q, strict=True)
    ]
    text = "Abstand (m);Tiefe (m);Geschwindigkeit (m/s);Débit (l/s)\n" + lines_of(rows, ";")
    item = read_one(text_sheet(tmp_path, text, encoding="latin-1"))
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)
    filed = gauging_of(item).filed
    assert filed is not None and filed.unit == "L/s"
    assert [panel.discharge for panel in filed.panels] == [0, 67.2, 171, 132, 21.6, 0]


@pytest.mark.parametrize(
    "heads",
    [
        ("Distance (m)", "Profondeur (m)", "Vitesse (m/s)"),
        ("Distancia (m)", "Profundidad (m)", "Velocidad (m/s)"),
        ("Abstand [m]", "Wassertiefe [m]", "mittlere Geschwindigkeit [m/s]"),
    ],
)
def test_heads_in_other_languages(tmp_path: Path, heads: tuple[str, ...]) -> None:
    """The documented words of other languages stand for tape, depth and velocity."""
    item = read_one(text_sheet(tmp_path, ",".join(heads) + "\n" + lines_of(SECTION)))
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
def test_any_usual_separator(tmp_path: Path, separator: str) -> None:
    """Comma, semicolon, tab and pipe are told by the rows themselves."""
    heads = separator.join(("tape (m)", "depth (m)", "velocity (m/s)"))
    item = read_one(text_sheet(tmp_path, f"{heads}\n{lines_of(SECTION, separator)}"))
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


@pytest.mark.parametrize("separator", [";", "\t", "|"])
def test_decimal_commas(tmp_path: Path, separator: str) -> None:
    """A decimal comma is a decimal comma wherever the comma does not separate."""
    rows = [[value.replace(".", ",") for value in station] for station in SECTION]
    heads = separator.join(("tape (m)", "depth (m)", "velocity (m/s)"))
    item = read_one(text_sheet(tmp_path, f"{heads}\n{lines_of(rows, separator)}"))
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_decimal_commas_between_quotes(tmp_path: Path) -> None:
    """Commas between fields and decimal commas inside quoted fields can be told apart."""
    rows = [[f'"{value.replace(".", ",")}"' for value in station] for station in SECTION]
    item = read_one(text_sheet(tmp_path, "tape (m),depth (m),velocity (m/s)\n" + lines_of(rows)))
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_a_line_that_names_the_separator(tmp_path: Path) -> None:
    """The first line "sep=;" of spreadsheet exports is a line above the table, no row of it."""
    text = "sep=;\n" + metric().replace(",", ";")
    reading = read(text_sheet(tmp_path, text))
    assert reading.counts == {"used": 6, "remark": 2, "refused": 0}
    assert discharge(reading.gaugings[0]) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)
    remarks = gauging_of(reading.gaugings[0]).remarks
    assert remarks is None or "sep=" not in remarks


@pytest.mark.parametrize("ending", ["\r\n", "\r"])
def test_line_ends_of_other_systems(tmp_path: Path, ending: str) -> None:
    """Files from other systems end their lines in their own way."""
    item = read_one(text_sheet(tmp_path, metric().replace("\n", ending)))
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_numbers_in_spare_and_in_full_dress(tmp_path: Path) -> None:
    """Numbers such as ".4", "1.", "+1.6" and "4e-1", blanks around them or not, are plain."""
    rows = [
        (".4", "0.", "0"),
        ("1.", " .32 ", "+.21"),
        ("+1.6", "4.5e-1", "0.38"),
        ("2.40", "0.400", "3.3E-01"),
        ("3", "0.18", "0.12"),
        ("3.5", "0.0", "-0"),
    ]
    item = read_one(text_sheet(tmp_path, metric(rows)))
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_points_and_commas_in_one_file_are_asked_about(tmp_path: Path) -> None:
    """Two decimal marks in one file are refused where the rarer stands, never guessed at."""
    text = metric().replace(",", ";").replace("2.4", "2,4")
    with pytest.raises(ValueError, match="throughout would be right"):
        read(text_sheet(tmp_path, text))


@pytest.mark.parametrize("blank", ["", "-", "--", "n/a", "NM", "–"])
def test_marks_for_not_measured_count_as_empty(tmp_path: Path, blank: str) -> None:
    """The usual marks for "not measured" leave a sounding, not a fault and not a zero."""
    rows = [list(station) for station in SECTION]
    rows[2][2] = blank
    vertical = gauging_of(read_one(text_sheet(tmp_path, metric(rows)))).channels[0].verticals[2]
    assert (vertical.depth, vertical.velocity) == (0.45, ())


def test_a_blank_line_at_the_end_and_commas_without_cells(tmp_path: Path) -> None:
    """Rows of nothing but separators, as spreadsheets leave behind, are blank rows."""
    reading = read(text_sheet(tmp_path, metric() + ",,\n,,\n\n"))
    assert reading.counts == {"used": 6, "remark": 4, "refused": 0}
    assert discharge(reading.gaugings[0]) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_a_trailing_separator_on_every_row(tmp_path: Path) -> None:
    """A separator at the end of every row opens no column."""
    text = metric().replace("\n", ",\n")
    item = read_one(text_sheet(tmp_path, text))
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)
