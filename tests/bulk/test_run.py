"""A run over a table: what goes in, what is left out, and what an interruption costs."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any

import pyarrow as pa
import pyarrow.parquet as pq
import pytest

from bankside.bulk.layout import SCHEMA
from bankside.bulk.rows import inputs_of
from bankside.bulk.run import Done, Run, begin, parts_left, run_here, work_part
from bankside.bulk.simulated import simulate
from bankside.gauging.faults import InputRefused

SOUND = {
    "gauging": "sound",
    "tape_m": [0.0, 1.0, 2.0],
    "depth_m": [0.0, 0.5, 0.0],
    "velocity_ms": [0.0, 0.25, 0.0],
}

READ = {"meter_percent": [2.5] * 3, "exposure_percent": [8.0] * 3}


def _file(path: Path, rows: Iterable[dict[str, Any]]) -> Path:
    pq.write_table(pa.Table.from_pylist(list(rows), SCHEMA), path)
    return path


def _run(table: Path, out: Path, **more: Any) -> Run:
    return Run("compute", inputs_of(table), out, **more)


def _carried_out(run: Run) -> list[Done]:
    begin(run)
    return list(run_here(run))


def _bytes(folder: Path) -> dict[str, bytes]:
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*.parquet"))
    }


@pytest.mark.parametrize(
    ("changed", "why"),
    [
        ({"tape_m": [0.0, 1.0]}, "depth_m must have as many stations as tape_m has, 2 (got 3)"),
        ({"depth_m": [0.0, None, 0.0]}, "must be finite numbers (got 1, nan, 0.25)"),
        ({"velocity_ms": [0.0, float("inf"), 0.0]}, "must be finite numbers (got 1, 0.5, inf)"),
        ({"depth_m": [0.0, -0.5, 0.0]}, "depth_m must not be below 0 (got -0.5 at tape_m 1)"),
        (
            {"tape_m": [0.0, 1.0, 1.0]},
            "tape_m must increase from station to station (got 1 after 1)",
        ),
        ({"measured": [False, False, False]}, "(got none from tape_m 1 on)"),
        ({"points": [1.0, 0.0, 1.0], **READ}, "points must be 1 or more"),
        ({"points": [1.0, None, 1.0], **READ}, "(got nan, 2.5, 8 at tape_m 1)"),
        ({"points": [1.0, 1.0]}, "points must have as many stations as tape_m has, 3 (got 2)"),
        ({"channel_stations": [2]}, "channel_stations must add up to as many stations"),
        ({"channel_stations": [2, 1]}, "each channel must have at least two stations"),
        ({"depth_m": [1e200] * 3, "velocity_ms": [1e200] * 3}, "must be small enough"),
    ],
)
def test_a_bad_gauging_is_named_and_left_out(
    tmp_path: Path, changed: dict[str, Any], why: str
) -> None:
    """File, row, gauging, what was found and what would be right; the others are worked out."""
    table = _file(tmp_path / "in.parquet", [SOUND, {**SOUND, "gauging": "bad", **changed}, SOUND])

    (done,) = _carried_out(_run(table, tmp_path / "out"))

    assert done.worked_out == 2
    (sentence,) = done.refused
    assert sentence.startswith("in.parquet, row 2, gauging bad: ")
    assert why in sentence
    assert pq.read_table(tmp_path / "out" / "refused").to_pylist() == [
        {"file": "in.parquet", "row": 2, "gauging": "bad", "why": sentence.split(": ", 1)[1]}
    ]
    discharges = pq.read_table(tmp_path / "out" / "gaugings")["discharge_m3s"].to_pylist()
    assert discharges == [0.125, 0.125]


def test_what_the_kernel_refuses_stops_nothing(tmp_path: Path) -> None:
    """A discharge that can be told, whose squares cannot: named with the kernel's words."""
    huge = {
        **SOUND,
        "gauging": "huge",
        "depth_m": [0.0, 1e150, 0.0],
        "velocity_ms": [0.0, 1e9, 0.0],
    }
    table = _file(tmp_path / "in.parquet", [SOUND, huge, SOUND])

    (done,) = _carried_out(_run(table, tmp_path / "out"))

    assert done.worked_out == 2
    assert done.refused[0].startswith("in.parquet, row 2, gauging huge: ")


def test_what_cannot_be_told_is_absent(tmp_path: Path) -> None:
    """Still water has a discharge of 0 and no percents; nothing in a table is NaN."""
    still = {**SOUND, "velocity_ms": [0.0, 0.0, 0.0]}
    table = _file(tmp_path / "in.parquet", [still])

    _carried_out(_run(table, tmp_path / "out"))

    (row,) = pq.read_table(tmp_path / "out" / "gaugings").to_pylist()
    assert row["discharge_m3s"] == 0.0
    assert row["iso_748_percent"] is None
    assert row["interpolated_variance_percent"] is None
    panels = pq.read_table(tmp_path / "out" / "panels").to_pylist()
    assert [panel["share"] for panel in panels] == [None, None, None]


def test_a_table_of_other_columns_is_refused_with_all_that_is_wrong(tmp_path: Path) -> None:
    """Each missing or odd column is named, with what it must hold."""
    table = tmp_path / "in.parquet"
    pq.write_table(pa.table({"gauging": ["a"], "tape_m": [1.0], "velocity_ms": [[0.1]]}), table)

    with pytest.raises(InputRefused) as refused:
        inputs_of(table)

    said = [str(fault) for fault in refused.value.faults]
    assert len(said) == 2
    assert 'column "tape_m" must be a list of double a gauging (got double)' in said[0]
    assert 'must have a column "depth_m"' in said[1]


def test_a_file_that_is_none_and_an_empty_folder_are_refused(tmp_path: Path) -> None:
    """One sentence each."""
    (tmp_path / "text.parquet").write_text("tape,depth", encoding="utf-8")

    with pytest.raises(InputRefused, match="must be a Parquet file"):
        inputs_of(tmp_path / "text.parquet")
    (tmp_path / "empty").mkdir()
    with pytest.raises(InputRefused, match="must hold at least one"):
        inputs_of(tmp_path / "empty")


def test_a_file_that_is_damaged_within_is_named(tmp_path: Path) -> None:
    """Its footer is whole and a page is not: the run ends with the file's name, not half done."""
    table = tmp_path / "in.parquet"
    simulate(500, table)
    content = bytearray(table.read_bytes())
    content[200:2000] = bytes(1800)
    table.write_bytes(content)
    run = _run(table, tmp_path / "out")
    begin(run)

    with pytest.raises(InputRefused, match=r"in\.parquet: must be readable to its end"):
        list(run_here(run))

    assert parts_left(run) == [0]


def test_an_interrupted_run_is_taken_up_and_gives_the_same_bytes(tmp_path: Path) -> None:
    """After the first part the run ends; another does the rest, and no part twice."""
    table = tmp_path / "in.parquet"
    simulate(700, table)
    whole = _run(table, tmp_path / "whole", part=300)
    _carried_out(whole)
    cut = _run(table, tmp_path / "cut", part=300)
    begin(cut)
    next(run_here(cut))
    (tmp_path / "cut" / "gaugings" / ".part-000001.parquet.99").write_bytes(b"half")
    first = cut.file("gaugings", 0).stat().st_mtime_ns

    begin(cut)
    assert parts_left(cut) == [1, 2]
    assert sum(one.worked_out for one in run_here(cut)) == 400

    assert cut.file("gaugings", 0).stat().st_mtime_ns == first
    assert _bytes(tmp_path / "cut") | _bytes(tmp_path / "whole") == _bytes(tmp_path / "cut")
    assert len(_bytes(tmp_path / "whole")) == 6


def test_neither_files_nor_row_groups_nor_the_order_of_parts_change_a_byte(tmp_path: Path) -> None:
    """One file, or three with row groups of 7, parts from the last to the first."""
    one = tmp_path / "one.parquet"
    simulate(500, one)
    content = pq.read_table(one)
    folder = tmp_path / "several"
    folder.mkdir()
    for number, (start, count) in enumerate(((0, 123), (123, 0), (123, 377))):
        pq.write_table(content.slice(start, count), folder / f"{number}.parquet", row_group_size=7)

    _carried_out(_run(one, tmp_path / "a", part=200))
    backwards = _run(folder, tmp_path / "b", part=200)
    for part in reversed(range(backwards.parts)):
        work_part(backwards, part)

    assert _bytes(tmp_path / "a") == _bytes(tmp_path / "b")


def test_a_folder_of_another_run_is_not_mixed_into(tmp_path: Path) -> None:
    """The sentence says what is different; a folder of other things is refused as well."""
    table = _file(tmp_path / "in.parquet", [SOUND])
    _carried_out(_run(table, tmp_path / "out"))

    with pytest.raises(InputRefused, match="its panels are others"):
        begin(_run(table, tmp_path / "out", panels=False))
    _file(table, [SOUND, SOUND])
    with pytest.raises(InputRefused, match="its inputs are others"):
        begin(_run(table, tmp_path / "out"))
    with pytest.raises(InputRefused, match="it holds other things"):
        begin(_run(table, tmp_path))


def test_files_may_have_other_columns(tmp_path: Path) -> None:
    """What only one of them says is taken as not said in the other."""
    folder = tmp_path / "in"
    folder.mkdir()
    required = ["gauging", "tape_m", "depth_m", "velocity_ms"]
    content = pa.Table.from_pylist([SOUND], SCHEMA)
    pq.write_table(content.select(required), folder / "a.parquet")
    filed = pa.Table.from_pylist([{**SOUND, "filed_m3s": 0.125}], SCHEMA)
    pq.write_table(filed.select([*required, "filed_m3s"]), folder / "b.parquet")

    _carried_out(_run(folder, tmp_path / "out"))

    rows = pq.read_table(tmp_path / "out" / "gaugings").to_pylist()
    assert [row["filed_difference_m3s"] for row in rows] == [None, 0.0]


def test_no_gaugings_make_empty_tables(tmp_path: Path) -> None:
    """A table without rows is worked out like any other."""
    table = _file(tmp_path / "in.parquet", [])

    (done,) = _carried_out(_run(table, tmp_path / "out"))

    assert done == Done(0, ())
    assert pq.read_table(tmp_path / "out" / "gaugings").num_rows == 0


def test_made_up_gaugings_are_the_same_in_any_number(tmp_path: Path) -> None:
    """The first hundred of a thousand are those of a hundred; another seed gives others."""
    for name, count, seed in (("few", 100, 3), ("many", 1000, 3), ("others", 100, 4)):
        simulate(count, tmp_path / name, seed)
    few, many, others = (pq.read_table(tmp_path / name) for name in ("few", "many", "others"))

    assert few.equals(many.slice(0, 100))
    assert not few.equals(others)
    (done,) = _carried_out(_run(tmp_path / "many", tmp_path / "out"))
    assert done == Done(1000, ())
