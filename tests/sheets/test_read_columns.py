"""Columns that no word tells: named by an answer, by letter, or asked about."""

from pathlib import Path

import pytest

from bankside.cli import main
from bankside.gauging.faults import InputRefused
from bankside.sheets.answers import Answers, load_answers, save_answers
from bankside.sheets.read import read_sheets

from .building import (
    CUBIC_FOOT,
    SECTION,
    SECTION_DISCHARGE,
    discharge,
    gauging_of,
    lines_of,
    metric,
    numbers,
    read,
    read_one,
    reasons,
    text_sheet,
    workbook,
)

CLOSE = 1e-12
UNITS = {"tape": "m", "depth": "m", "velocity": "m/s"}
LETTERS = {"tape": ("A",), "depth": ("B",), "velocity": ("C",)}


def test_a_table_without_heads_by_letters(tmp_path: Path) -> None:
    """Bare numbers are read when the columns are named by letter; no row is lost as a head."""
    path = text_sheet(tmp_path, lines_of(SECTION))
    reading = read(path, columns=LETTERS, units=UNITS)
    assert reading.counts == {"used": 6, "remark": 0, "refused": 0}
    assert discharge(reading.gaugings[0]) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_a_table_without_heads_with_a_column_of_names(tmp_path: Path) -> None:
    """A name in the first row of bare readings does not make that row a head."""
    path = text_sheet(tmp_path, lines_of(("Alder", *s) for s in SECTION))
    columns = {"site": ("A",), "tape": ("B",), "depth": ("C",), "velocity": ("D",)}
    reading = read(path, columns=columns, units=UNITS)
    assert reading.counts == {"used": 6, "remark": 0, "refused": 0}
    assert gauging_of(reading.gaugings[0]).site.name == "Alder"
    assert discharge(reading.gaugings[0]) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_a_table_without_heads_under_lines(tmp_path: Path) -> None:
    """Lines above bare numbers still tell site and date."""
    text = "# site: above the weir\n# date: 2026-07-14\n" + lines_of(SECTION)
    reading = read(text_sheet(tmp_path, text), columns=LETTERS, units=UNITS)
    gauging = gauging_of(reading.gaugings[0])
    assert gauging.site.name == "above the weir"
    assert reading.counts == {"used": 6, "remark": 2, "refused": 0}
    assert discharge(reading.gaugings[0]) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_a_bare_table_in_a_workbook_by_letters(tmp_path: Path) -> None:
    """The same in a workbook, where the columns stand in another order."""
    rows = [[v, d, x] for x, d, v in numbers()]
    columns = {"tape": ("c",), "depth": ("b",), "velocity": ("a",)}
    item = read_one(workbook(tmp_path, {"June": rows}), columns=columns, units=UNITS)
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_a_table_without_heads_is_asked_about(tmp_path: Path) -> None:
    """Without heads and without an answer, the refusal says how the columns can be named."""
    with pytest.raises(InputRefused, match=r'row 1.*"0\.4".*--column tape='):
        read(text_sheet(tmp_path, lines_of(SECTION)))


def test_unknown_heads_are_asked_about_with_the_candidates(tmp_path: Path) -> None:
    """A head in no list of words is not guessed: the columns left over are the candidates."""
    text = "tape (m),rod reading,velocity (m/s)\n" + lines_of(SECTION)
    with pytest.raises(InputRefused) as refused:
        read(text_sheet(tmp_path, text))
    (fault,) = refused.value.faults
    assert 'B "rod reading"' in str(fault) and "--column depth=" in str(fault)


@pytest.mark.parametrize("head", ["rod reading", "Rod  Reading", "B", "b"])
def test_unknown_heads_by_answer(tmp_path: Path, head: str) -> None:
    """An answer names the column by its head of two words, or by its letter."""
    text = "tape (m),rod reading,velocity (m/s)\n" + lines_of(SECTION)
    item = read_one(text_sheet(tmp_path, text), columns={"depth": (head,)}, units={"depth": "m"})
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_all_heads_unknown_by_answer(tmp_path: Path) -> None:
    """Heads of which none is known make a table when answers name them."""
    text = "mark on rope (m),rod reading (m),needle (m/s)\n" + lines_of(SECTION)
    columns = {
        "tape": ("mark on rope (m)",),
        "depth": ("rod reading (m)",),
        "velocity": ("needle (m/s)",),
    }
    reading = read(text_sheet(tmp_path, text), columns=columns)
    assert reasons(reading) == {1: "heads"}
    assert discharge(reading.gaugings[0]) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_a_point_velocity_by_answer(tmp_path: Path) -> None:
    """An answer can say at which part of the depth a column was read."""
    text = "tape (m),depth (m),upper (m/s),lower (m/s)\n0,0,,\n1,0.5,0.6,0.4\n2,0,,\n"
    item = read_one(
        text_sheet(tmp_path, text),
        columns={"velocity@0.2": ("upper (m/s)",), "velocity@0.8": ("lower (m/s)",)},
    )
    assert discharge(item) == pytest.approx(0.25, rel=CLOSE)


def test_an_answer_for_a_head_that_is_not_there(tmp_path: Path) -> None:
    """An answer that fits no head is told with the heads that are there."""
    with pytest.raises(InputRefused) as refused:
        read(text_sheet(tmp_path, metric()), columns={"depth": ("rod",)})
    told = str(refused.value)
    assert '--column depth="rod"' in told and '"depth (m)"' in told


def test_two_columns_that_could_both_be_the_depth(tmp_path: Path) -> None:
    """Two depth columns are a question naming both; the answer leaves the other unused."""
    rows = [(s[0], s[1], "9", s[2]) for s in SECTION]
    text = "tape (m),depth (m),water depth (m),velocity (m/s)\n" + lines_of(rows)
    path = text_sheet(tmp_path, text)
    with pytest.raises(InputRefused, match=r'B "depth \(m\)" and C "water depth \(m\)"'):
        read(path)
    reading = read(path, columns={"depth": ("depth (m)",)})
    assert discharge(reading.gaugings[0]) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_columns_that_are_not_used_are_named(tmp_path: Path) -> None:
    """Every column that was left aside is named in a note."""
    rows = [(*s, "7.5", "ok") for s in SECTION]
    text = "tape (m),depth (m),velocity (m/s),water temperature,battery\n" + lines_of(rows)
    reading = read(text_sheet(tmp_path, text))
    assert reading.notes == (
        'Columns not understood, kept as remarks: "water temperature", "battery".',
    )
    item = reading.gaugings[0]
    assert any("water temperature" in note and "--column" in note for note in item.notes)
    assert not any("battery" in note for note in item.notes)
    remark = gauging_of(item).channels[0].verticals[1].remark
    assert remark == "water temperature: 7.5; battery: ok"


def test_a_width_column_never_stands_in_for_the_tape(tmp_path: Path) -> None:
    """Widths without tape positions are asked about, and the question says why."""
    text = "width (m),depth (m),velocity (m/s)\n" + lines_of(SECTION)
    with pytest.raises(InputRefused, match="widths are never used to compute"):
        read(text_sheet(tmp_path, text))


def test_a_column_to_be_ignored(tmp_path: Path) -> None:
    """An answer can put a column aside that the words would have taken."""
    rows = [(s[0], s[1], "9", s[2]) for s in SECTION]
    text = "tape (m),depth (m),water depth (m),velocity (m/s)\n" + lines_of(rows)
    item = read_one(text_sheet(tmp_path, text), columns={"ignore": ("water depth (m)",)})
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_answers_kept_and_used_again(tmp_path: Path) -> None:
    """Answers kept in a file read the next sheet of the same shape without any question."""
    answers = Answers(
        columns={"tape": ("rope mark",), "depth": ("rod reading",), "velocity": ("needle",)},
        units=UNITS,
    )
    kept = tmp_path / "answers.toml"
    save_answers(answers, kept)
    for number, scale in enumerate((1, 2)):
        rows = [(x, d, f"{scale * float(v):g}") for x, d, v in SECTION]
        path = text_sheet(
            tmp_path, "rope mark,rod reading,needle\n" + lines_of(rows), name=f"{number}.csv"
        )
        reading = read_sheets(path, load_answers(kept))
        assert discharge(reading.gaugings[0]) == pytest.approx(scale * SECTION_DISCHARGE, rel=CLOSE)


def test_answers_on_the_command_line_kept_and_used_again(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """--keep-answers writes what --answers reads, and both print one and the same."""
    path = text_sheet(tmp_path, "rope mark,rod reading,needle\n" + lines_of(SECTION))
    kept = tmp_path / "answers.toml"
    asked = ["--column", "tape=rope mark", "--column", "depth=rod reading"]
    asked += ["--column", "velocity=needle", "--unit", "tape=ft", "--unit", "depth=ft"]
    asked += ["--unit", "velocity=ft/s", "--keep-answers", str(kept)]
    assert main(["compute", str(path), "--json", *asked]) == 0
    first = capsys.readouterr().out
    assert main(["compute", str(path), "--json", "--answers", str(kept)]) == 0
    assert capsys.readouterr().out == first
    found = float(first.split('"discharge_m3s": ')[1].split(",")[0])
    assert found == pytest.approx(SECTION_DISCHARGE * float(CUBIC_FOOT), rel=CLOSE)


def test_questions_reach_the_command_line_as_sentences(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A sheet with a question prints it on stderr, ends with 2 and computes nothing."""
    path = text_sheet(tmp_path, "tape,depth,velocity\n" + lines_of(SECTION))
    assert main(["compute", str(path)]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert len(told.err.splitlines()) == 3
    assert "--unit depth=" in told.err


def test_a_head_wrapped_over_two_lines_in_its_cell(tmp_path: Path) -> None:
    """A line break inside a head is a blank between its words."""
    heads = ["Distance\n(m)", "Depth\n(m)", "Velocity\n(m/s)"]
    item = read_one(workbook(tmp_path, {"June": [heads, *numbers()]}))
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_a_point_number_beside_the_tape_is_not_the_tape(tmp_path: Path) -> None:
    """A running number of the verticals is not taken for their place on the tape."""
    rows = [(str(n), *s) for n, s in enumerate(SECTION, start=1)]
    text = "Vertical No.,Distance (m),Depth (m),Velocity (m/s)\n" + lines_of(rows)
    assert discharge(read_one(text_sheet(tmp_path, text))) == pytest.approx(
        SECTION_DISCHARGE, rel=CLOSE
    )


def test_a_station_number_beside_a_distance_is_not_the_tape(tmp_path: Path) -> None:
    """The head "Station" over 1, 2, 3 beside "Distance" is a running number, or a question."""
    rows = [(str(n), *s) for n, s in enumerate(SECTION, start=1)]
    text = "Station,Distance (m),Depth (m),Velocity (m/s)\n" + lines_of(rows)
    path = text_sheet(tmp_path, text)
    try:
        item = read_one(path)
    except InputRefused as refused:
        assert "--column tape=" in str(refused)
        item = read_one(path, columns={"tape": ("B",)})
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)
