"""What is asked when a table cannot be read: what was found, and every option that settles it."""

from pathlib import Path

import pytest

from bankside.gauging.faults import InputRefused
from bankside.sheets.answers import Answers
from bankside.sheets.read import read_sheets

from .building import SECTION, SECTION_DISCHARGE, discharge, lines_of, read_one, text_sheet


def _asked(folder: Path, text: str, **answers: object) -> str:
    """The one fault for which a file is refused whole."""
    with pytest.raises(InputRefused) as caught:
        read_sheets(text_sheet(folder, text), Answers(**answers))  # type: ignore[arg-type]
    (fault,) = caught.value.faults
    return str(fault)


def test_the_row_most_like_heads_is_shown(tmp_path: Path) -> None:
    """Of a sheet without known heads the likeliest row is shown, and its unknown words."""
    text = "Stream: Alder Fork\nCrew,Wren\nDst (m),Depth (m),Vlcty\n" + lines_of(SECTION)
    told = _asked(tmp_path, text)
    assert told.startswith("sheet.csv, row 3: ")
    assert 'row 3 is most like one and holds "Dst (m)", "Depth (m)", "Vlcty"' in told
    assert 'of which "dst", "vlcty" are not understood' in told


def test_one_word_that_is_not_understood(tmp_path: Path) -> None:
    """Where one head of three is known, the rest is named, each word once."""
    told = _asked(tmp_path, "Dst (m),Dst,Velocity (m/s)\n" + lines_of(SECTION))
    assert 'of which "dst" is not understood' in told


def test_a_table_without_heads_asks_for_units_at_once(tmp_path: Path) -> None:
    """Columns and units are asked in one round, and the answers named there read the sheet."""
    text = lines_of(SECTION)
    told = _asked(tmp_path, text)
    for option in ("tape=m", "depth=m", "velocity=m/s"):
        assert f"--unit {option}" in told
    item = read_one(
        text_sheet(tmp_path, text),
        columns={"tape": ("A",), "depth": ("B",), "velocity": ("C",)},
        units={"tape": "m", "depth": "m", "velocity": "m/s"},
    )
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=1e-12)


def test_a_tape_taken_for_an_area_is_named(tmp_path: Path) -> None:
    """The letters A, D and V: the column taken as the area is named, with the option."""
    text = "A,D,V\n" + lines_of(SECTION)
    told = _asked(tmp_path, text)
    assert 'column A "A" was taken as the area' in told
    assert "--column tape=A would be right" in told
    for option in ("tape=m", "depth=m", "velocity=m/s"):
        assert f"--unit {option}" in told
    units = {"tape": "m", "depth": "m", "velocity": "m/s"}
    item = read_one(text_sheet(tmp_path, text), columns={"tape": ("A",)}, units=units)
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=1e-12)


def test_units_that_heads_give_are_not_asked_for(tmp_path: Path) -> None:
    """Where the heads carry units, those of columns not understood among them, none is asked."""
    told = _asked(tmp_path, "Tape (m),Depth (m),Vlcty (m/s)\n" + lines_of(SECTION))
    assert 'candidates: C "Vlcty (m/s)"' in told and "--unit" not in told


def test_a_missing_velocity_is_asked_for_before_revolutions(tmp_path: Path) -> None:
    """An empty column of revolutions beside numbers under an unknown head is not the reading."""
    rows = [(x, d, "", "40", v) for x, d, v in SECTION]
    told = _asked(tmp_path, "Tape (m),Depth (m),Rev,Time (s),Vlcty (m/s)\n" + lines_of(rows))
    assert "no column was recognised as the velocities" in told and 'E "Vlcty (m/s)"' in told
