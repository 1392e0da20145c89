"""Written tables: what comes back from them is what went in, to the last bit."""

import json
from datetime import date
from pathlib import Path

import attrs
import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bankside.cli import main
from bankside.gauging.compute import compute
from bankside.gauging.records import (
    Channel,
    Filed,
    Gauging,
    Site,
    Units,
    Vertical,
)
from bankside.gauging.wire import from_json, to_json
from bankside.sheets.read import read_sheets
from bankside.sheets.write import left_out, tidy_table, to_csv, write_xlsx

from .building import (
    EDGE_ROWS,
    SECTION,
    gauging_of,
    lines_of,
    metric,
    read,
    read_one,
    text_sheet,
)
from .odd_records import LEFT, PLAIN, RECORDS, RIGHT, point


def _through_csv(gauging: Gauging, folder: Path) -> Gauging:
    path = folder / "back.csv"
    path.write_text(to_csv([gauging]), encoding="utf-8")
    return gauging_of(_only(path))


def _through_xlsx(gauging: Gauging, folder: Path) -> Gauging:
    path = folder / "back.xlsx"
    write_xlsx([gauging], path)
    return gauging_of(_only(path))


def _only(path: Path):
    reading = read_sheets(path)
    assert len(reading.gaugings) == 1, [item.label for item in reading.gaugings]
    item = reading.gaugings[0]
    assert item.faults == (), [str(fault) for fault in item.faults]
    return item


@pytest.mark.parametrize("name", RECORDS)
def test_a_record_comes_back_from_csv(tmp_path: Path, name: str) -> None:
    """What is written as CSV is read back as the same record, with the same discharge."""
    record = RECORDS[name]
    back = _through_csv(record, tmp_path)
    assert back == record
    assert compute(back).discharge_m3s == compute(record).discharge_m3s


@pytest.mark.parametrize("name", RECORDS)
def test_a_record_comes_back_from_a_workbook(tmp_path: Path, name: str) -> None:
    """What is written as XLSX is read back as the same record, with the same discharge."""
    record = RECORDS[name]
    back = _through_xlsx(record, tmp_path)
    assert back == record
    assert compute(back).discharge_m3s == compute(record).discharge_m3s


@pytest.mark.parametrize("name", RECORDS)
def test_a_record_comes_back_from_json(name: str) -> None:
    """What is written as JSON is read back as the same record."""
    assert from_json(to_json(RECORDS[name])) == RECORDS[name]


def test_repeated_readings_come_back_by_the_answer(tmp_path: Path) -> None:
    """Repeats at one tape are asked about in a foreign table, and come back when it is said."""
    repeated = Vertical(1.1, 0.3, (point(0.1), point(0.14)))
    record = attrs.evolve(PLAIN, channels=(Channel((LEFT, repeated, RIGHT)),))
    path = tmp_path / "back.csv"
    path.write_text(to_csv([record]), encoding="utf-8")
    assert gauging_of(read_one(path, same_tape="repeated")) == record


def test_several_gaugings_come_back_in_order(tmp_path: Path) -> None:
    """Gaugings of several units share one table, each with its own units in columns."""
    records = [
        PLAIN,
        attrs.evolve(PLAIN, site=Site("lower ford"), units=Units("ft", "ft/s")),
        attrs.evolve(PLAIN, date=date(2026, 7, 15), units=Units("m", "m/s", "cm")),
        attrs.evolve(PLAIN, site=Site(None, "Miller Brook"), filed=Filed(0.2, "ft3/s")),
    ]
    for write in (
        lambda path: path.write_text(to_csv(records), encoding="utf-8"),
        lambda path: write_xlsx(records, path),
    ):
        path = tmp_path / "back"
        write(path)
        back = [gauging_of(item) for item in read_sheets(path).gaugings]
        assert [b.units for b in back] == [r.units for r in records]
        assert [b.channels for b in back] == [r.channels for r in records]
        assert [(b.site, b.date) for b in back] == [(r.site, r.date) for r in records]
        assert [b.filed for b in back] == [r.filed for r in records]
        assert [compute(b).discharge_m3s for b in back] == [
            compute(r).discharge_m3s for r in records
        ]


def test_gaugings_without_names_stay_apart(tmp_path: Path) -> None:
    """Two gaugings without a name are numbered, so that they do not merge when read back."""
    bare = attrs.evolve(PLAIN, site=Site(), date=None)
    path = tmp_path / "back.csv"
    path.write_text(to_csv([bare, bare]), encoding="utf-8")
    back = read_sheets(path).gaugings
    assert [gauging_of(item).channels for item in back] == [bare.channels] * 2


def test_two_gaugings_of_one_site_and_day_stay_apart(tmp_path: Path) -> None:
    """A gauging and its repeat on the same day must not come back as one, or as a sum."""
    path = tmp_path / "back.csv"
    path.write_text(to_csv([PLAIN, PLAIN]), encoding="utf-8")
    back = read_sheets(path).gaugings
    read_back = [item.gauging for item in back if item.gauging is not None]
    if read_back:
        assert [gauging.channels for gauging in read_back] == [PLAIN.channels] * 2
    else:
        assert any("--tape-restart gaugings" in str(f) for item in back for f in item.faults)


@settings(max_examples=20)
@given(
    st.lists(
        st.tuples(st.floats(-1e6, 1e6), st.floats(0, 1e4), st.floats(-1e3, 1e3)),
        min_size=2,
        max_size=12,
        unique_by=lambda row: row[0],
    )
)
def test_any_figures_come_back_to_the_last_bit(
    tmp_path_factory: pytest.TempPathFactory, rows: list[tuple[float, float, float]]
) -> None:
    """Whatever was called, its digits survive both ways of writing."""
    folder = tmp_path_factory.mktemp("figures")
    rows.sort()
    if not any(d > 0 for _, d, _ in rows):
        return
    record = Gauging(
        Units("ft", "ft/s"),
        (Channel(tuple(Vertical(x, d, (point(v),)) for x, d, v in rows)),),
    )
    assert _through_csv(record, folder).channels == record.channels
    assert _through_xlsx(record, folder).channels == record.channels


def test_columns_that_would_be_empty_are_left_out() -> None:
    """A plain gauging makes a plain table; tape, depth and velocity are always there."""
    heads, rows = tidy_table([attrs.evolve(PLAIN, site=Site(), date=None)])
    assert heads == ["tape (m)", "depth (m)", "velocity (m/s)", "edge"]
    assert rows[1] == [1.1, 0.3, 0.1, None]


def test_numbers_are_numbers_and_texts_are_texts_in_a_workbook(tmp_path: Path) -> None:
    """No text of ours becomes a formula, a link or a number in a workbook."""
    record = attrs.evolve(PLAIN, site=Site("=HYPERLINK(1)", "0123"))
    path = tmp_path / "book.xlsx"
    write_xlsx([record], path)
    cells = [cell for row in openpyxl.load_workbook(path).active.iter_rows() for cell in row]
    by_value = {cell.value: cell.data_type for cell in cells}
    assert by_value["=HYPERLINK(1)"] == "s" and by_value["0123"] == "s"
    assert by_value[1.1] == "n"
    assert "f" not in by_value.values()


def test_what_a_table_of_several_leaves_out_is_told() -> None:
    """A table of several gaugings has no place for crews and meters; it is said which are lost."""
    full = RECORDS["everything around it"]
    assert left_out([full]) == ()
    assert left_out([full, PLAIN]) == (
        "position",
        "start and end",
        "crew",
        "stage",
        "rule set",
        "remarks",
    )
    assert left_out([PLAIN, PLAIN]) == ()


ODD_SHEETS: dict[str, str] = {
    "feet": metric().replace("(m", "(ft"),
    "edges named": "tape (m),depth (m),velocity (m/s),Edge,Remarks\n" + lines_of(EDGE_ROWS),
    "tape down": metric(SECTION[::-1]),
    "soundings": metric([*SECTION[:2], ("1.6", "0.45", ""), *SECTION[3:]]),
    "points": (
        "tape (m);depth (cm);V 0.2 (m/s);V 0.6 (m/s);V 0.8 (m/s)\n"
        "0;0;;;\n1;40;;0,30;\n2;90;0,50;;0,30\n3;100;0,52;0,44;0,28\n4;0;;;\n"
    ),
    "counts": (
        "Stream: Alder Fork\nRating: V = 0.70 N + 0.02\nUnits: m, m/s\n"
        "Tape (m),Depth (m),Revs,Time (s)\n0,0,,\n1,0.32,20,50\n2,0.45,41,50\n4,0,,\n"
    ),
    "products": "tape (m),depth (m),velocity (m/s),width (m),Q (L/s)\n"
    "0,0,0,0.5,0\n1,0.3,0.2,1,60\n2,0.4,0.1,1,40\n3,0,0,0.5,0\nTotal,,,,100\n",
    "lines around": "Site: weir\nDate: 14.07.2026\nCrew: A. Mora\nStage: 0.52\n"
    "Weather: drizzle\n" + metric() + "\nRemarks: weed\n",
    "clock times": "tape (m),depth (m),velocity (m/s),Time\n"
    + lines_of((*s, f"10:{n:02}") for n, s in enumerate(SECTION)),
    "channels": "Channel,tape (m),depth (m),velocity (m/s)\n"
    + lines_of([*(("1", *s) for s in SECTION), *(("2", *s) for s in SECTION)]),
}


@pytest.mark.parametrize("name", ODD_SHEETS)
def test_an_odd_sheet_through_every_form(tmp_path: Path, name: str) -> None:
    """Sheet to CSV to XLSX to JSON: the same record and the same bits of discharge each time."""
    first = gauging_of(read_one(text_sheet(tmp_path, ODD_SHEETS[name])))
    by_csv = _through_csv(first, tmp_path)
    by_xlsx = _through_xlsx(by_csv, tmp_path)
    by_json = from_json(to_json(by_xlsx))
    assert by_csv == first
    assert by_xlsx == first
    assert by_json == first
    discharges = {compute(g).discharge_m3s for g in (first, by_csv, by_xlsx, by_json)}
    assert len(discharges) == 1


def test_convert_on_the_command_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`convert` writes what `compute` reads, with one discharge for all forms to the last bit."""
    sheet = text_sheet(tmp_path, ODD_SHEETS["points"])
    found = []
    for form in ("csv", "xlsx", "json"):
        out = tmp_path / f"out.{form}"
        assert main(["convert", str(sheet), "--to", form, "--output", str(out)]) == 0
        capsys.readouterr()
        assert main(["compute", str(out), "--json"]) == 0
        found.append(json.loads(capsys.readouterr().out)["gaugings"][0]["discharge_m3s"])
    assert main(["compute", str(sheet), "--json"]) == 0
    found.append(json.loads(capsys.readouterr().out)["gaugings"][0]["discharge_m3s"])
    assert len(set(found)) == 1


def test_a_written_table_uses_every_row(tmp_path: Path) -> None:
    """Of a table that we wrote, no row of readings is lost when it is read."""
    path = text_sheet(tmp_path, to_csv([RECORDS["points"]]))
    reading = read(path)
    assert reading.counts == {"used": 8, "remark": 1, "refused": 0}


@pytest.mark.parametrize("name", ["=1+2", "+ford", "-weir", "@gate", "'quoted", "'=1+2", "plain"])
def test_no_text_is_a_formula_and_each_comes_back(name: str, tmp_path: Path) -> None:
    """A spreadsheet that opens the CSV shows the name, and reading it back gives the very same."""
    names = [name, "the other"]
    text = to_csv(
        [
            attrs.evolve(RECORDS["plain"], id=None, site=Site(name=one, stream="Fork"))
            for one in names
        ]
    )
    path = tmp_path / "season.csv"
    path.write_text(text, encoding="utf-8")

    read = [found.gauging for found in read_sheets(path).gaugings]

    cells = [cell for line in text.splitlines() for cell in line.split(",")]
    assert not [cell for cell in cells if cell[:1] in ("=", "+", "@") or cell[:2] == "-w"]
    assert [gauging.site.name for gauging in read if gauging] == names
