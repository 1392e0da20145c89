"""A run over a table: what goes in, what is left out, and what an interruption costs."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any

import attrs
import pyarrow as pa
import pyarrow.parquet as pq
import pytest

from bankside.bulk.gather import gather, row_of
from bankside.bulk.layout import SCHEMA
from bankside.bulk.rows import inputs_of
from bankside.bulk.run import Done, Run, begin, parts_left, run_here, work_part
from bankside.bulk.simulated import simulate
from bankside.gauging.faults import InputRefused
from bankside.gauging.records import Channel, Gauging, PointReading, Site, Units, Vertical

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
        ({"tape_m": [0.0, 1.0]}, "depth_m must have as many verticals as tape_m has, 2 (found 3)"),
        (
            {"depth_m": [0.0, None, 0.0]},
            "depth_m must be a number at every vertical, 0 where there is no water "
            "(found no value at vertical 2 of 3, tape_m 1)",
        ),
        ({"velocity_ms": [0.0, 0.2, None]}, "(found no value at vertical 3 of 3, tape_m 2)"),
        ({"velocity_ms": [0.0, float("inf"), 0.0]}, "(found inf at vertical 2 of 3, tape_m 1)"),
        (
            {"tape_m": [0.0, None, 2.0]},
            "tape_m must be a number at every vertical (found no value at vertical 2 of 3)",
        ),
        ({"depth_m": [0.0, -0.5, 0.0]}, "below 0 (found -0.5 at vertical 2 of 3, tape_m 1)"),
        (
            {"tape_m": [0.0, 1.0, 1.0]},
            "tape_m must increase from vertical to vertical (found 1 after 1)",
        ),
        ({"measured": [False, False, False]}, "(found none from vertical 2 of 3, tape_m 1 on)"),
        ({"points": [1.0, 0.0, 1.0], **READ}, "points must be 1 or more"),
        (
            {"points": [1.0, None, 1.0], **READ},
            "(found no value, 2.5, 8 at vertical 2 of 3, tape_m 1)",
        ),
        ({"points": [1.0, 1.0]}, "points must have as many verticals as tape_m has, 3 (found 2)"),
        (
            {"channel_stations": [2]},
            "channel_stations must add up to as many verticals as tape_m has, 3 (found 2)",
        ),
        ({"channel_stations": [2, 1]}, "each channel must have at least two verticals (found 1)"),
        ({"filed_m3s": float("inf")}, "filed_m3s must be a number (found inf)"),
        ({"filed_rounding_m3s": -0.1}, "filed_rounding_m3s must be a number, not below 0"),
        ({"fastest_ms": [0.0, -float("inf"), 0.0]}, "fastest_ms must be a number (found -inf at"),
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


def test_what_was_assumed_of_readings_is_counted(tmp_path: Path) -> None:
    """At verticals with water: where nothing is said of how, or that its figures stand in."""
    said = {"points": [[1.0] * 3], "meter_percent": [[2.0] * 3], "exposure_percent": [[5.0] * 3]}
    sound = {name: [SOUND[name]] for name in SOUND}
    counts: list[int] = []
    for number, more in enumerate(({}, said, said | {"assumed": [[True] * 3]})):
        table, out = tmp_path / f"{number}.parquet", tmp_path / f"out-{number}"
        pq.write_table(pa.table(sound | more), table)
        _carried_out(_run(table, out))
        counts += pq.read_table(out / "gaugings")["assumed_readings"].to_pylist()

    assert counts == [1, 0, 1]


def test_gathering_tells_what_is_not_written(tmp_path: Path) -> None:
    """Of a reading without its time, or without its point; one with both is as it was read."""
    readings = (
        PointReading(0.3, fraction=0.6, seconds=40.0),
        PointReading(0.3, fraction=0.6),
        PointReading(0.3, seconds=40.0),
    )
    verticals = [Vertical(float(i), 0.5, velocity=(one,)) for i, one in enumerate(readings, 1)]
    ends = (Vertical(0.0, 0.0), Vertical(4.0, 0.0))
    gauging = Gauging(
        units=Units("m", "m/s"),
        site=Site(stream="invented", name="here"),
        channels=(Channel((ends[0], *verticals, ends[1])),),
    )
    table = tmp_path / "in.parquet"
    gather([row_of(gauging)], table)
    _carried_out(_run(table, tmp_path / "out"))

    (row,) = pq.read_table(tmp_path / "out" / "gaugings").to_pylist()
    assert pq.read_table(table)["assumed"].to_pylist() == [[False, False, True, True, False]]
    assert row["assumed_readings"] == 2


def test_what_an_interval_rests_on_is_told(tmp_path: Path) -> None:
    """One vertical, 2 m wide and 0.5 m deep at 0.25 m/s; then 100 times as wide and 10 as deep."""
    small = {name: [SOUND[name]] for name in SOUND}
    large = {"tape_m": [[0.0, 100.0, 200.0]], "depth_m": [[0.0, 5.0, 0.0]]}
    told = []
    for number, columns in enumerate((small, small | large)):
        table, out = tmp_path / f"{number}.parquet", tmp_path / f"out-{number}"
        pq.write_table(pa.table(columns), table)
        _carried_out(_run(table, out))
        (row,) = pq.read_table(out / "gaugings").to_pylist()
        told.append((row["between_verticals"], row["between_beyond"]))

    assert told == [(1, 0), (1, 2)]


def test_a_gauging_without_an_id_is_left_out(tmp_path: Path) -> None:
    """By its row alone, also where a table with panels is written."""
    table = tmp_path / "in.parquet"
    columns = {name: [SOUND[name]] * 3 for name in SOUND} | {"gauging": ["a", None, ""]}
    pq.write_table(pa.table(columns), table)

    (done,) = _carried_out(_run(table, tmp_path / "out"))

    assert done.worked_out == 1
    wanted = "gauging must be an id by which it is known (found none)"
    assert done.refused == tuple(f"in.parquet, row {row}: {wanted}" for row in (2, 3))
    assert pq.read_table(tmp_path / "out" / "refused")["gauging"].to_pylist() == [None, None]


def test_a_table_of_other_columns_is_refused_with_all_that_is_wrong(tmp_path: Path) -> None:
    """Each missing or odd column is named, with what it must hold and what was found."""
    table = tmp_path / "in.parquet"
    columns = {"gauging": [7], "tape_m": [1.0], "velocity_ms": [["0.1"]], "edge": [[1]]}
    pq.write_table(pa.table(columns), table)

    with pytest.raises(InputRefused) as refused:
        inputs_of(table)

    numbers = "a list of numbers (list<double>)"
    assert [str(fault) for fault in refused.value.faults] == [
        f"{table}: {fault}"
        for fault in (
            f'must have for each gauging {numbers} in a column "depth_m" '
            "(found gauging, tape_m, velocity_ms, edge)",
            'column "gauging" must hold a text (string) for each gauging '
            "(found a whole number (int64))",
            f'column "tape_m" must hold {numbers} for each gauging (found a number (double))',
            f'column "velocity_ms" must hold {numbers} for each gauging '
            "(found a list of texts (list<string>))",
            'column "edge" must hold a list of true or false (list<bool>) for each gauging '
            "(found a list of whole numbers (list<int64>))",
        )
    ]


def test_columns_of_other_types_that_mean_the_same_are_taken(tmp_path: Path) -> None:
    """Whole numbers, ids that are kept once each, and a column that says nothing at all."""
    table = tmp_path / "in.parquet"
    columns = {
        **{name: [SOUND[name]] * 2 for name in SOUND},
        "gauging": pa.array(["a", "b"]).dictionary_encode(),
        "tape_m": [[0, 1, 2]] * 2,
        "measured": pa.nulls(2),
    }
    pq.write_table(pa.table(columns), table)

    _carried_out(_run(table, tmp_path / "out"))

    rows = pq.read_table(tmp_path / "out" / "gaugings").to_pylist()
    assert [(row["gauging"], row["discharge_m3s"]) for row in rows] == [("a", 0.125), ("b", 0.125)]


@pytest.mark.parametrize(
    ("name", "content", "why"),
    [
        ("sheet.csv", b"tape,depth,velocity\n0,0,0\n", "found text, such as a sheet saved as CSV"),
        ("none.parquet", b"", "found an empty file; a Parquet file that `bankside bulk gather`"),
        ("half.parquet", b"PAR1" + bytes(99), "found a damaged Parquet file"),
        ("season.db", b"SQLite format 3\0" + bytes(99), "gather --archive .*season.db -o table"),
        ("photo.jpg", b"\xff\xd8\0\1", "found no Parquet file"),
    ],
)
def test_a_file_that_is_no_table_is_refused(
    tmp_path: Path, name: str, content: bytes, why: str
) -> None:
    """What was found, and what would be right; so is a folder in which there is no table."""
    (tmp_path / name).write_bytes(content)

    with pytest.raises(InputRefused, match=rf"{name}: .*{why}"):
        inputs_of(tmp_path / name)


def test_a_folder_without_a_table_is_refused(tmp_path: Path) -> None:
    """What is in it is said; results are no table, and neither is nothing."""
    (tmp_path / "empty").mkdir()
    with pytest.raises(InputRefused, match=r"ends in \.parquet \(an empty folder\)"):
        inputs_of(tmp_path / "empty")
    for number in range(5):
        (tmp_path / "empty" / f"{number}.csv").touch()
    with pytest.raises(InputRefused, match=r"\(0\.csv, 1\.csv, 2\.csv and 2 more\)"):
        inputs_of(tmp_path / "empty")
    with pytest.raises(InputRefused, match="found nothing there"):
        inputs_of(tmp_path / "none")
    begin(_run(_file(tmp_path / "in.parquet", [SOUND]), tmp_path / "out"))
    with pytest.raises(InputRefused, match="found the results of a bulk run"):
        inputs_of(tmp_path / "out")


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
    """The sentence says what run is there, and what would be right."""
    table = _file(tmp_path / "in.parquet", [SOUND])
    out = tmp_path / "out"
    _carried_out(_run(table, out, uncertainty="none"))
    right = "must be a new folder, or that of this very run, which the same command takes up where"

    def found(run: Run) -> str:
        with pytest.raises(InputRefused) as refused:
            begin(run)
        said = str(refused.value)
        assert said.startswith(f"{run.out}: {right} it was interrupted (found ")
        return said.partition("(found ")[2][:-1]

    assert found(_run(table, out, panels=False, part=5)) == (
        "a run with --part 16384, with panels, with --uncertainty none"
    )
    check = Run("check", inputs_of(table), out, rule_set="a", limits={"bed_area": 2.0})
    assert found(check) == "a run of bankside bulk compute"
    begin(attrs.evolve(check, out=tmp_path / "check"))
    other = attrs.evolve(check, out=tmp_path / "check", limits={"bed_area": 3.0})
    assert found(other) == 'a run by other thresholds of the rule set "a"'
    assert found(attrs.evolve(other, rule_set="b")) == 'a run by the rule set "a"'
    assert found(_run(table, tmp_path)) == "check, in.parquet, out"
    assert found(_run(table, table)) == "a file"
    _file(table, [{**SOUND, "gauging": "other"}])
    assert found(_run(table, out, uncertainty="none")) == "a run of another content of in.parquet"
    _file(table, [SOUND, SOUND])
    assert found(_run(table, out, uncertainty="none")) == "a run of in.parquet with 1 gauging"
    (out / "run.json").write_text("{", encoding="utf-8")
    assert found(_run(table, out)) == "gaugings, panels, run.json"


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
