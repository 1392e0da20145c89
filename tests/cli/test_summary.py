"""Many gaugings at a glance: which is which, in the units they were called, and what is missing."""

import json
from pathlib import Path

import pytest

from bankside.cli import main

# Half widths of 1: 0.5×0.4 + 0.6×0.5 = 0.5 in the units of the sheet; a cubic foot is 0.0283168 m³.
ROWS = "0,0,0\n1,0.5,0.4\n2,0.6,0.5\n3,0,0\n"


def _sheet(folder: Path, name: str, stream: str, feet: bool = False, rows: str = ROWS) -> str:
    heads = "tape (ft),depth (ft),velocity (ft/s)" if feet else "tape (m),depth (m),velocity (m/s)"
    path = folder / name
    path.write_text(f"# stream: {stream}\n# date: 2026-07-14\n{heads}\n{rows}", encoding="utf-8")
    return str(path)


def _summary(capsys: pytest.CaptureFixture[str], *arguments: str) -> list[str]:
    assert main(["compute", *arguments]) == 0
    return capsys.readouterr().out.splitlines()


def test_every_row_names_its_file_stream_and_date(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A row of the summary can be found again among the sheets."""
    files = [_sheet(tmp_path, f"sheet{n}.csv", "Alder Fork") for n in range(4)]
    lines = _summary(capsys, *files)
    assert lines[0] == ""
    rows = [line for line in lines if "Alder Fork, 2026-07-14" in line]
    assert [row.split()[0] for row in rows] == [f"sheet{n}.csv" for n in range(4)]
    assert all(" 0.5 " in row for row in rows)


def test_a_single_file_is_not_named_on_every_row(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Where there is one file, the column would tell nothing."""
    path = tmp_path / "both.csv"
    rows = "".join(f"{site},{row}\n" for site in ("Ford", "Weir") for row in ROWS.splitlines())
    path.write_text(f"site,tape (m),depth (m),velocity (m/s)\n{rows}", encoding="utf-8")
    lines = _summary(capsys, str(path))
    head = next(i for i, line in enumerate(lines) if line.startswith("gauging "))
    assert lines[head - 2] == ""
    assert lines[head + 2].startswith("Ford ") and lines[head + 3].startswith("Weir ")


def test_gaugings_in_feet_are_shown_in_feet_and_in_cubic_metres(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Where all are in feet both discharges stand, and the width as called; else SI alone."""
    feet = [_sheet(tmp_path, f"feet{n}.csv", "Alder Fork", feet=True) for n in range(2)]
    lines = _summary(capsys, *feet)
    row = next(line for line in lines if line.startswith("feet0.csv"))
    assert row.split()[-5:] == ["0.5", "0.01416", "3", "4", "60.0"]
    lines = _summary(capsys, *feet, _sheet(tmp_path, "metres.csv", "Alder Fork"))
    row = next(line for line in lines if line.startswith("feet0.csv"))
    assert row.split()[-4:] == ["0.01416", "0.9144", "4", "60.0"]


def test_records_are_named_like_sheets(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A record of our own form carries stream and date into the summary as well."""
    sheets = [_sheet(tmp_path, f"sheet{n}.csv", "Quill Brook") for n in range(2)]
    records = tmp_path / "records.json"
    assert main(["convert", *sheets, "--to", "json", "--output", str(records)]) == 0
    capsys.readouterr()
    lines = _summary(capsys, str(records))
    assert sum(line.startswith("Quill Brook, 2026-07-14 ") for line in lines) == 2


def test_refused_gaugings_are_named_again_at_the_end(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Whoever reads the end of a long output sees what is missing from it."""
    good = _sheet(tmp_path, "good.csv", "Alder Fork")
    bad = _sheet(tmp_path, "bad.csv", "Birch Run", rows=ROWS.replace("0.6", "deep"))
    lines = _summary(capsys, good, bad, "--keep-going")
    start = lines.index("One gauging was refused and not computed:")
    told = " ".join(line.strip() for line in lines[start + 1 :])
    assert told.startswith("- Birch Run, 2026-07-14: bad.csv, row 6") and '"deep"' in told
    assert not any("refused and not computed" in line for line in _summary(capsys, good))


def test_the_json_output_tells_what_was_filed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Other programs find the figure as it stands, its unit, and what was found out about it."""
    path = tmp_path / "filed.csv"
    path.write_text(
        "tape (m),depth (m),velocity (m/s),Q\n0,0,0,0\n1,0.5,0.4,200\n2,0.6,0.5,300\n3,0,0,0\n"
        "Total,,,500\n",
        encoding="utf-8",
    )
    assert main(["compute", "--json", str(path)]) == 0
    filed = json.loads(capsys.readouterr().out)["gaugings"][0]["filed"]
    assert (filed["figure"], filed["total_on_sheet"]) == (500.0, True)
    assert (filed["unit"], filed["unit_on_sheet"]) == ("L/s", None)
    assert filed["discharge_m3s"] == pytest.approx(0.5)
    assert filed["products_m3s"] == pytest.approx(0.5)
    assert filed["rounding_m3s"] == pytest.approx(0.0005, rel=1e-5)
    assert (filed["rule"], filed["angles_left_out"]) == ("mid-section", False)
    assert filed["difference"] == pytest.approx(0.0, abs=1e-12)
