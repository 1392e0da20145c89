"""What a sheet tells of the conditions: quality, gauge, proofs of the meter, what was moved."""

from datetime import UTC, date, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import attrs
import pytest

from bankside.gauging.records import (
    Answer,
    Channel,
    Correction,
    CrewMember,
    Gauging,
    Meter,
    MeterCheck,
    PointReading,
    Position,
    Site,
    StageReading,
    Units,
    Vertical,
)
from bankside.sheets.read import read_sheets
from bankside.sheets.write import left_out, to_csv, write_xlsx

from .building import SECTION, gauging_of, lines_of, metric, read, read_one, refusals, text_sheet
from .odd_records import LEFT, PLAIN, RIGHT

AN_HOUR_EAST = timezone(timedelta(hours=1))


def _told(folder: Path, above: str, **answers: Any) -> Gauging:
    return gauging_of(read_one(text_sheet(folder, metric(above=above)), **answers))


@pytest.mark.parametrize("key", ["Quality", "Rated", "Measurement rating", "# quality", "Rating"])
def test_the_quality_word(tmp_path: Path, key: str) -> None:
    """How good the crew holds the measurement to be, under the words that people use for it."""
    gauging = _told(tmp_path, f"{key}: Fair\n")
    assert (gauging.quality, gauging.meter, gauging.remarks) == ("fair", None, None)


def test_a_quality_word_beside_a_rating_of_the_meter(tmp_path: Path) -> None:
    """The rating of the meter and that of the measurement stand under the same word."""
    gauging = _told(tmp_path, "Rating: V = 0.51 N + 0.03\nRating: good\n")
    assert gauging.quality == "good"
    assert gauging.meter is not None
    assert [(part.slope, part.intercept) for part in gauging.meter.rating] == [(0.51, 0.03)]


@pytest.mark.parametrize("words", ["none", "No gauge", "no staff gage"])
def test_a_site_without_a_gauge(tmp_path: Path, words: str) -> None:
    """Where the stage belongs it may say that there is none to read."""
    gauging = _told(tmp_path, f"Stage: {words}\n")
    assert gauging.no_gauge and gauging.stage == () and gauging.remarks is None


def test_a_stage_where_there_is_no_gauge_is_refused(tmp_path: Path) -> None:
    """A level and the word that there is no gauge contradict each other, on the first such row."""
    reading = read(text_sheet(tmp_path, metric(above="Stage start: 0.52\nStage end: none\n")))
    (fault,) = refusals(reading)
    assert "row 1" in fault and "0.52" in fault and "no gauge" in fault


def test_a_stage_with_its_time(tmp_path: Path) -> None:
    """A moment behind the level is when it was read; other words are kept."""
    above = "Stage: 0.52 m at 2026-07-14T10:05:00+01:00\nStage: 0.53 at 10:40\n"
    gauging = _told(tmp_path, above)
    moment = datetime(2026, 7, 14, 10, 5, tzinfo=AN_HOUR_EAST)
    assert gauging.stage == (StageReading(0.52, moment), StageReading(0.53))
    assert gauging.remarks == "stage: 0.53 at 10:40"


def test_the_proofs_of_the_meter(tmp_path: Path) -> None:
    """Spins are seconds and zeros velocities, before and after."""
    gauging = _told(
        tmp_path,
        "Meter: propeller\nSpin before: 62 s\nSpin after (s): 58\n"
        "Zero before: 0.01\nZero after (m/s): -0.02\n",
    )
    assert gauging.meter == Meter(
        "propeller",
        checks=(
            MeterCheck("spin", "before", seconds=62),
            MeterCheck("zero", "before", value=0.01),
            MeterCheck("spin", "after", seconds=58),
            MeterCheck("zero", "after", value=-0.02),
        ),
    )


def test_the_papers_of_the_meter(tmp_path: Path) -> None:
    """Rotor, limits and calibration are the meter's, whatever else is told of it."""
    gauging = _told(
        tmp_path,
        "Rotor size: Small\nLeast velocity (m/s): 0.03\nLeast depth: 0.09 m\n"
        "Calibration date: 14 March 2026\nCalibration due: 2027-03-14\n",
    )
    assert gauging.meter == Meter(
        rotor="small",
        slowest=0.03,
        shallowest=0.09,
        calibrated=date(2026, 3, 14),
        calibration_due=date(2027, 3, 14),
    )


def test_a_limit_of_nothing_is_a_limit(tmp_path: Path) -> None:
    """A meter of which nothing is told but that it measures from 0 on is a meter."""
    assert _told(tmp_path, "Least velocity: 0\n").meter == Meter(slowest=0.0)


def test_what_was_cleared_and_whether_all_the_water_is_there(tmp_path: Path) -> None:
    """The bed, what was moved there, and the crew's look for other channels."""
    gauging = _told(
        tmp_path,
        "Cleared: 2026-07-14T09:50:00Z\nMoved: two stones, weed\nWhole flow: Yes\n",
    )
    assert gauging.cleared == datetime(2026, 7, 14, 9, 50, tzinfo=UTC)
    assert (gauging.moved, gauging.whole_flow) == ("two stones, weed", True)


@pytest.mark.parametrize(
    ("line", "remark", "right"),
    [
        ("Quality: so-so", "quality: so-so", "excellent, good, fair or poor"),
        ("Rotor: medium", "rotor: medium", "small or large"),
        ("Whole flow: nearly", "whole flow: nearly", "yes or no"),
        ("Spin before: ok", "spin before: ok", "seconds such as 62"),
        ("Spin before: 1.5 min", "spin before: 1.5 min", "seconds such as 62"),
        ("Zero after: 0.05 ft/s", "zero after: 0.05 ft/s", "a velocity in m/s"),
        ("Calibrated: last spring", "calibrated: last spring", "2026-07-14"),
        ("Calibrated: 03/04/2026", "calibrated: 03/04/2026", "--date-order"),
    ],
)
def test_what_is_not_understood_is_kept_and_told(
    tmp_path: Path, line: str, remark: str, right: str
) -> None:
    """No discharge hangs on these lines: one sentence with the row says what would be right."""
    item = read_one(text_sheet(tmp_path, metric(above=f"Crew: A. Mora\n{line}\n")))
    assert gauging_of(item).remarks == remark
    (note,) = item.notes
    assert "row 2" in note and f'"{remark.partition(": ")[2]}"' in note and right in note


@pytest.mark.parametrize(
    ("lines", "row", "words"),
    [
        ("Spin after: -3\n", 1, ("spin after", "-3")),
        ("Least depth: -0.1\n", 1, ("least depth", "-0.1", "0 or more")),
        ("Calibrated: 2026-03-14\nCalibration due: 2025-03-14\n", 2, ("2026-03-14", "2025-03-14")),
    ],
)
def test_a_figure_that_cannot_be_is_refused(
    tmp_path: Path, lines: str, row: int, words: tuple[str, ...]
) -> None:
    """One sentence with the row, what was found and what would be right."""
    (fault,) = refusals(read(text_sheet(tmp_path, metric(above=lines))))
    assert f"row {row}:" in fault
    assert all(word in fault for word in words), fault


def test_two_words_for_one_thing_are_both_kept(tmp_path: Path) -> None:
    """The first word counts, and the second is not lost."""
    gauging = _told(tmp_path, "Quality: good\nQuality: fair\n")
    assert (gauging.quality, gauging.remarks) == ("good", "quality: fair")


def test_the_date_order_holds_for_the_calibration(tmp_path: Path) -> None:
    """An answer about dates settles those of the meter as well."""
    meter = _told(tmp_path, "Calibrated: 03/04/2026\n", date_order="day-first").meter
    assert meter is not None and meter.calibrated == date(2026, 4, 3)


def test_a_word_about_accuracy_is_not_lost(tmp_path: Path) -> None:
    """An accuracy that is no figure is kept as a remark, with a position and without one."""
    place = "Latitude: 45.6\nLongitude: -1.23\n"
    assert _told(tmp_path, f"{place}Accuracy: good\n").remarks == "accuracy: good"
    assert _told(tmp_path, "Accuracy: 4\n").remarks == "accuracy: 4"


HEADS = "tape (m),depth (m),velocity (m/s),fraction,Rod setting"


def test_a_column_of_rod_settings(tmp_path: Path) -> None:
    """A setting belongs to the reading of its row; beside no reading it is a remark."""
    rows = "0,0,,,0.1\n1,0.5,0.2,0.6,0.5\n2,0.9,0.4,0.2,1.8\n,,0.3,0.8,0.45\n3,0,,,\n"
    gauging = gauging_of(read_one(text_sheet(tmp_path, f"{HEADS}\n{rows}")))
    edge, one, two, _ = gauging.channels[0].verticals
    assert one.velocity == (PointReading(0.2, 0.6, rod_setting=0.5),)
    assert [reading.rod_setting for reading in two.velocity] == [1.8, 0.45]
    assert edge.remark == "rod setting: 0.1"


@pytest.mark.parametrize(
    ("heads", "cell", "row", "words"),
    [
        (HEADS, "high", 3, ("column E", '"high"', "rod setting such as 1.2")),
        (HEADS, "-0.5", 3, ("column E", "rod_setting", "-0.5")),
        (f"{HEADS} (ft)", "1.6", 1, ("column E", "ft beside depths in m")),
    ],
)
def test_a_broken_rod_setting_is_refused(
    tmp_path: Path, heads: str, cell: str, row: int, words: tuple[str, ...]
) -> None:
    """One sentence with row and column, what was found and what would be right."""
    rows = f"0,0,,,\n1,0.5,0.2,0.6,{cell}\n2,0,,,\n"
    (fault,) = refusals(read(text_sheet(tmp_path, f"{heads}\n{rows}")))
    assert f"row {row}," in fault
    assert all(word in fault for word in words), fault


def test_a_moment_in_the_column_of_times(tmp_path: Path) -> None:
    """With its day and its offset a time is a moment; a time of day alone is a remark."""
    times = ["", "2026-07-14T10:05:00+01:00", "10:08", "", "", ""]
    rows = lines_of((*station, at) for station, at in zip(SECTION, times, strict=True))
    text = f"tape (m),depth (m),velocity (m/s),Time\n{rows}"
    verticals = gauging_of(read_one(text_sheet(tmp_path, text))).channels[0].verticals
    assert verticals[1].at == datetime(2026, 7, 14, 10, 5, tzinfo=AN_HOUR_EAST)
    assert (verticals[2].at, verticals[2].remark) == (None, "read at 10:08")


FULL = attrs.evolve(
    PLAIN,
    id="AF-2026-07-14",
    site=Site("above the weir", "Alder Fork", Position(-1.23, 45.6, 4.0, "AF-01")),
    units=Units("m", "m/s", "cm"),
    channels=(
        Channel(
            (
                LEFT,
                Vertical(
                    1.0,
                    40.0,
                    (PointReading(0.3, 0.6, 40.0, rod_setting=41.5),),
                    at=datetime(2026, 7, 14, 10, 9, 30, tzinfo=UTC),
                ),
                Vertical(
                    2.0,
                    90.0,
                    (PointReading(0.5, 0.2, rod_setting=180.0), PointReading(0.3, 0.8)),
                    at=datetime(2026, 7, 14, 11, 12, tzinfo=AN_HOUR_EAST),
                ),
                RIGHT,
            )
        ),
    ),
    started=datetime(2026, 7, 14, 10, 5, tzinfo=UTC),
    ended=datetime(2026, 7, 14, 10, 52, tzinfo=UTC),
    meter=Meter(
        "propeller",
        "P-7",
        rotor="large",
        slowest=0.03,
        shallowest=9.5,
        calibrated=date(2026, 3, 14),
        calibration_due=date(2027, 3, 14),
        checks=(
            MeterCheck("spin", "before", seconds=121.5, at=datetime(2026, 7, 14, 9, tzinfo=UTC)),
            MeterCheck("zero", "before", value=-0.004),
            MeterCheck("spin", "after", seconds=118.0),
        ),
    ),
    crew=(CrewMember("C. Vane"), CrewMember("A. Mora", "rod"), CrewMember("B. Lind", "leader")),
    stage=(
        StageReading(0.52, datetime(2026, 7, 14, 10, 4, tzinfo=UTC)),
        StageReading(0.53, datetime(2026, 7, 14, 11, 53, tzinfo=AN_HOUR_EAST)),
    ),
    whole_flow=False,
    cleared=datetime(2026, 7, 14, 9, 30, tzinfo=UTC),
    moved="two stones; weed",
    quality="fair",
    rule_set="common-practice",
    remarks="clear water",
)


@pytest.mark.parametrize("form", ["csv", "xlsx"])
@pytest.mark.parametrize(
    "record",
    [FULL, attrs.evolve(PLAIN, no_gauge=True, whole_flow=True)],
    ids=["everything told", "no gauge"],
)
def test_the_conditions_come_back(tmp_path: Path, form: str, record: Gauging) -> None:
    """What is told around a single gauging survives a table, to the last second."""
    path = tmp_path / f"back.{form}"
    if form == "csv":
        path.write_text(to_csv([record]), encoding="utf-8")
    else:
        write_xlsx([record], path)
    (item,) = read_sheets(path).gaugings
    assert gauging_of(item) == record
    assert item.notes == ()
    assert left_out([record]) == ()


def test_what_only_json_holds_of_a_single_gauging() -> None:
    """Answers, corrections, what a crew member did and ids of others have no place in a table."""
    record = attrs.evolve(
        PLAIN,
        site=Site("above the weir", "Alder Fork", id="s7"),
        repeats="g-12",
        crew=(CrewMember("A. Mora", "spotter"),),
        corrections=(Correction("the depth at tape 1.1", "0.5", "0.3"),),
        answers=(Answer("Header gaps", "Not written down: the crew.", "note", "lost"),),
    )
    assert left_out([record]) == (
        "corrections",
        "answers to findings",
        "site of the survey",
        "gauging that is repeated",
        "what the crew did",
    )


def test_what_a_table_of_several_has_no_room_for() -> None:
    """Each of the lines above a table is named where several gaugings have none."""
    assert left_out([FULL, PLAIN]) == (
        "id",
        "position",
        "start and end",
        "meter",
        "crew",
        "stage",
        "whole flow",
        "what was cleared",
        "quality",
        "rule set",
        "remarks",
    )
