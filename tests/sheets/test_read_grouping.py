"""Many gaugings in one file: stacked forms, label columns, channels, and tapes that start again."""

from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path

import pytest

from .building import (
    SECTION,
    SECTION_DISCHARGE,
    Station,
    discharge,
    gauging_of,
    lines_of,
    metric,
    mid_section,
    notes,
    read,
    read_one,
    reasons,
    refusals,
    text_sheet,
)

CLOSE = 1e-12
SIDE: tuple[Station, ...] = (
    ("0", "0", "0"),
    ("0.5", "0.10", "0.20"),
    ("1.1", "0.12", "0.25"),
    ("1.4", "0", "0"),
)
HEADS = "tape (m),depth (m),velocity (m/s)\n"


def test_the_hand_figure_of_the_side_channel() -> None:
    """0.55 m × 0.020 m²/s and 0.45 m × 0.030 m²/s make 0.0245 m³/s."""
    by_hand = Fraction("0.55") * Fraction("0.02") + Fraction("0.45") * Fraction("0.03")
    assert mid_section(SIDE) == by_hand == Fraction("0.0245")


def test_stacked_forms(tmp_path: Path) -> None:
    """Forms one under another, each with its own lines and heads, are gaugings of their own."""
    text = (
        "Stream: Alder Fork\nSite: above the weir\nDate: 2026-07-14\nCrew: A. Mora\n"
        + metric()
        + "\nStream: Alder Fork\nSite: lower ford\nDate: 2026-07-15\nCrew: B. Lind\n"
        + metric(SIDE)
        + "\nStream: Miller Brook\nSite: road\nDate: 2026-07-15\nCrew: B. Lind\n"
        + metric()
    )
    reading = read(text_sheet(tmp_path, text))
    assert refusals(reading) == []
    assert reading.counts() == {"used": 16, "remark": 17, "refused": 0}
    assert [item.label for item in reading.gaugings] == [
        "Alder Fork, above the weir, 2026-07-14",
        "Alder Fork, lower ford, 2026-07-15",
        "Miller Brook, road, 2026-07-15",
    ]
    expected = [SECTION_DISCHARGE, 0.0245, SECTION_DISCHARGE]
    assert [discharge(item) for item in reading.gaugings] == pytest.approx(expected, rel=CLOSE)
    crews = [[member.name for member in gauging_of(i).crew] for i in reading.gaugings]
    assert crews == [["A. Mora"], ["B. Lind"], ["B. Lind"]]


def test_stacked_forms_whose_first_line_is_no_key(tmp_path: Path) -> None:
    """A title line over every form stays with its own form."""
    text = (
        "Flow form 1\nSite: above the weir\n" + metric() + "\nFlow form 2\nSite: lower ford\n"
    ) + metric(SIDE)
    first, second = read(text_sheet(tmp_path, text)).gaugings
    assert gauging_of(first).remarks == "Flow form 1"
    assert gauging_of(second).remarks == "Flow form 2"


def test_stacked_forms_in_key_cells(tmp_path: Path) -> None:
    """Stacked forms of key cells and value cells part in the same way."""
    text = (
        "Site,above the weir,\nDate,2026-07-14,\n"
        + metric()
        + ",,\nSite,lower ford,\nDate,2026-07-14,\n"
        + metric(SIDE)
    )
    reading = read(text_sheet(tmp_path, text))
    assert [discharge(item) for item in reading.gaugings] == pytest.approx(
        [SECTION_DISCHARGE, 0.0245], rel=CLOSE
    )


def test_stacked_forms_with_totals_below(tmp_path: Path) -> None:
    """The total under each form stays with the form above it."""
    heads = "tape (m),depth (m),velocity (m/s),Q (m3/s)\n"
    text = (
        "Site: weir,,,\n"
        + heads
        + lines_of((*s, "") for s in SECTION)
        + "Total,,,0.264\n,,,\nSite: ford,,,\n"
        + heads
        + lines_of((*s, "") for s in SIDE)
        + "Total,,,0.0245\n"
    )
    reading = read(text_sheet(tmp_path, text))
    totals = [gauging_of(item).filed for item in reading.gaugings]
    assert [filed and filed.discharge for filed in totals] == [0.264, 0.0245]


def test_a_second_form_of_the_same_site_and_day_is_not_put_into_the_first(tmp_path: Path) -> None:
    """A repeat on the same day must not merge with the first gauging without a word."""
    form = "Site: above the weir\nDate: 2026-07-14\n" + metric()
    reading = read(text_sheet(tmp_path, form + "\n" + form))
    computed = [discharge(i) for i in reading.gaugings if i.gauging is not None]
    asked = refusals(reading)
    if asked:
        assert any("--tape-restart gaugings" in fault for fault in asked)
    else:
        assert computed == pytest.approx([SECTION_DISCHARGE, SECTION_DISCHARGE], rel=CLOSE)


def test_a_repeat_under_a_title_of_its_own_is_not_added(tmp_path: Path) -> None:
    """Heads again below a title that is no key may be a repeat: asked about, never added."""
    text = metric() + "\nRepeat measurement\n" + metric()
    reading = read(text_sheet(tmp_path, text))
    computed = [discharge(i) for i in reading.gaugings if i.gauging is not None]
    assert computed == [] or computed == pytest.approx([SECTION_DISCHARGE] * 2, rel=CLOSE)
    assert len(computed) == 2 or any("--tape-restart gaugings" in f for f in refusals(reading))


def test_hundreds_of_gaugings_by_site_and_date(tmp_path: Path) -> None:
    """300 gaugings of 40 sites, told apart by site and date, each with its own discharge."""
    rows = []
    expected = []
    for number in range(300):
        site, day = f"AF-{number % 40:02}", date(2026, 6, 1) + timedelta(days=number // 40)
        factor = Fraction(50 + number, 100)
        section = [(x, d, f"{float(Fraction(v) * factor):.6f}") for x, d, v in SECTION]
        rows += [(site, day.isoformat(), *station) for station in section]
        expected.append((f"{site}, {day.isoformat()}", float(mid_section(section))))
    path = text_sheet(tmp_path, "site,date,tape (m),depth (m),velocity (m/s)\n" + lines_of(rows))
    reading = read(path)
    assert reading.counts() == {"used": 1800, "remark": 1, "refused": 0}
    assert [item.label for item in reading.gaugings] == [label for label, _ in expected]
    assert [discharge(item) for item in reading.gaugings] == pytest.approx(
        [total for _, total in expected], rel=CLOSE
    )


def test_rows_of_two_gaugings_mixed(tmp_path: Path) -> None:
    """Rows of several gaugings may stand mixed; each keeps its own order."""
    mixed = []
    for number in range(len(SECTION)):
        mixed.append(("AF-01", *SECTION[number]))
        if number < len(SIDE):
            mixed.append(("AF-02", *SIDE[number]))
    path = text_sheet(tmp_path, "site,tape (m),depth (m),velocity (m/s)\n" + lines_of(mixed))
    reading = read(path)
    assert {item.label: discharge(item) for item in reading.gaugings} == pytest.approx(
        {"AF-01": SECTION_DISCHARGE, "AF-02": 0.0245}, rel=CLOSE
    )


def test_blank_site_cells_take_the_name_above(tmp_path: Path) -> None:
    """A site and a date written once a block hold until others are written."""
    rows = [("AF-01" if n == 0 else "", "2026-07-14" if n == 0 else "", *s)
            for n, s in enumerate(SECTION)]
    rows += [("AF-02" if n == 0 else "", "2026-07-15" if n == 0 else "", *s)
             for n, s in enumerate(SIDE)]
    path = text_sheet(tmp_path, "site,date,tape (m),depth (m),velocity (m/s)\n" + lines_of(rows))
    reading = read(path)
    assert [item.label for item in reading.gaugings] == ["AF-01, 2026-07-14", "AF-02, 2026-07-15"]
    assert [discharge(item) for item in reading.gaugings] == pytest.approx(
        [SECTION_DISCHARGE, 0.0245], rel=CLOSE
    )


def test_a_site_without_a_date_does_not_take_the_date_of_another_site(tmp_path: Path) -> None:
    """A date written for one site says nothing about the next site."""
    rows = [("AF-01", "2026-07-14", *s) for s in SECTION] + [("AF-02", "", *s) for s in SIDE]
    path = text_sheet(tmp_path, "site,date,tape (m),depth (m),velocity (m/s)\n" + lines_of(rows))
    second = read(path).gaugings[1]
    assert gauging_of(second).site.name == "AF-02"
    assert gauging_of(second).date is None


def test_rows_before_the_first_site_are_a_gauging_of_their_own(tmp_path: Path) -> None:
    """Rows above the first name are not given the name that comes after them."""
    rows = [("", *s) for s in SIDE] + [("AF-01", *s) for s in SECTION]
    path = text_sheet(tmp_path, "site,tape (m),depth (m),velocity (m/s)\n" + lines_of(rows))
    names = [gauging_of(item).site.name for item in read(path).gaugings]
    assert names == [None, "AF-01"]


def test_site_numbers_in_figures(tmp_path: Path) -> None:
    """A site called 7 is called 7, whether the cell holds a figure or a text."""
    rows = [("7", *s) for s in SECTION]
    path = text_sheet(tmp_path, "Site No.,tape (m),depth (m),velocity (m/s)\n" + lines_of(rows))
    assert gauging_of(read_one(path)).site.name == "7"


def test_a_station_column_of_names_and_a_distance_column(tmp_path: Path) -> None:
    """A column "Station" of names is the site where another column is the distance."""
    rows = [("AF-01", *s) for s in SECTION]
    path = text_sheet(tmp_path, "Station,Distance (m),Depth (m),Vel (m/s)\n" + lines_of(rows))
    item = read_one(path)
    assert gauging_of(item).site.name == "AF-01"
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


# Channels


def test_a_column_of_channels(tmp_path: Path) -> None:
    """Channels are worked out each by itself, and their discharges are added."""
    rows = [("main", *s) for s in SECTION] + [("side", *s) for s in SIDE]
    path = text_sheet(tmp_path, "Channel,tape (m),depth (m),velocity (m/s)\n" + lines_of(rows))
    item = read_one(path)
    assert [channel.name for channel in gauging_of(item).channels] == ["main", "side"]
    assert discharge(item) == pytest.approx(0.2643 + 0.0245, rel=CLOSE)


def test_channels_side_by_side_on_one_tape(tmp_path: Path) -> None:
    """Channels by column on one tape are not joined over the gravel bar between them."""
    further = [(f"{float(x) + 6:.1f}", d, v) for x, d, v in SIDE]
    wet_ends = [*SECTION[:-1], ("3.5", "0.1", "0.05")]
    rows = [("1", *s) for s in wet_ends] + [("2", *s) for s in further]
    path = text_sheet(tmp_path, "Channel No,tape (m),depth (m),velocity (m/s)\n" + lines_of(rows))
    expected = mid_section(wet_ends) + mid_section(further)
    assert discharge(read_one(path)) == pytest.approx(float(expected), rel=CLOSE)


def _shifted(stations: tuple[Station, ...], by: int) -> list[Station]:
    """The same stations hung further along the tape."""
    return [(f"{float(x) + by:.1f}", d, v) for x, d, v in stations]


def test_a_tape_that_starts_again_between_edges_of_water(tmp_path: Path) -> None:
    """Edges of water on stretches of one tape that do not overlap are two channels, and told."""
    path = text_sheet(tmp_path, metric([*_shifted(SECTION, 4), *SIDE]))
    item = read_one(path)
    assert len(gauging_of(item).channels) == 2
    assert discharge(item) == pytest.approx(0.2643 + 0.0245, rel=1e-9)
    told = notes(item)
    assert "row 8" in told and "2 channels" in told and "edges of water on rows 7 and 8" in told


def test_a_second_run_over_the_same_stretch_of_tape_is_asked_about(tmp_path: Path) -> None:
    """A repeat of the gauging looks like a second channel: never added without an answer."""
    path = text_sheet(tmp_path, metric([*SECTION, *SECTION]))
    (fault,) = refusals(read(path))
    assert "row 8" in fault and "--tape-restart gaugings" in fault
    apart = read(path, tape_restart="gaugings").gaugings
    assert [discharge(item) for item in apart] == pytest.approx([SECTION_DISCHARGE] * 2, rel=CLOSE)


def test_one_total_on_the_last_row_is_evidence_of_channels(tmp_path: Path) -> None:
    """Where one filed total stands below two runs of the tape, they are parts of one gauging."""
    rows = [(*s, "") for s in (*SECTION, *SIDE)]
    rows[-1] = (*SIDE[-1], "0.2888")
    path = text_sheet(tmp_path, HEADS.strip() + ",Total Q (m3/s)\n" + lines_of(rows))
    item = read_one(path)
    assert len(gauging_of(item).channels) == 2
    assert discharge(item) == pytest.approx(0.2643 + 0.0245, rel=CLOSE)


def test_one_total_row_is_evidence_of_channels(tmp_path: Path) -> None:
    """A total row below two runs says the same as a total on the last row."""
    rows = [(*s, "") for s in (*SECTION, *SIDE)]
    text = HEADS.strip() + ",Q (m3/s)\n" + lines_of(rows) + "Total,,,0.2888\n"
    item = read_one(text_sheet(tmp_path, text))
    assert discharge(item) == pytest.approx(0.2643 + 0.0245, rel=CLOSE)


def test_a_width_left_out_is_evidence_of_a_channels_end(tmp_path: Path) -> None:
    """Where every row but a channel's last has a width to the next, the tape starts anew there."""
    main = [("3", "0.1", "0.1", "1"), ("4", "0.3", "0.2", "1"), ("5", "0.2", "0.1", "")]
    side = [("0", "0.1", "0.3", "0.5"), ("0.5", "0.2", "0.2", "0.5"), ("1", "0.1", "0.1", "")]
    path = text_sheet(tmp_path, HEADS.strip() + ",width (m)\n" + lines_of([*main, *side]))
    item = read_one(path)
    expected = mid_section([r[:3] for r in main]) + mid_section([r[:3] for r in side])
    assert discharge(item) == pytest.approx(float(expected), rel=CLOSE)
    assert "the width is left out on row 4" in notes(item)


def test_a_tape_that_starts_again_without_evidence_is_asked_about(tmp_path: Path) -> None:
    """Without edges of water nothing tells channels from gaugings; the three answers do."""
    main = [("0", "0.1", "0.1"), ("1", "0.3", "0.2"), ("2", "0.2", "0.1")]
    side = [("0.2", "0.1", "0.3"), ("0.5", "0.2", "0.2"), ("1.2", "0.1", "0.1")]
    path = text_sheet(tmp_path, metric([*main, *side]))
    reading = read(path)
    (fault,) = refusals(reading)
    assert "row 5" in fault
    for answer in ("channels", "gaugings", "sort"):
        assert f"--tape-restart {answer}" in fault
    assert reading.counts() == {"used": 0, "remark": 1, "refused": 6}

    both = read_one(path, tape_restart="channels")
    expected = mid_section(main) + mid_section(side)
    assert discharge(both) == pytest.approx(float(expected), rel=CLOSE)
    assert "--tape-restart channels" in notes(both)

    apart = read(path, tape_restart="gaugings").gaugings
    assert [discharge(item) for item in apart] == pytest.approx(
        [float(mid_section(main)), float(mid_section(side))], rel=CLOSE
    )
    assert len({item.label for item in apart}) == 2

    one = read_one(path, tape_restart="sort")
    assert discharge(one) == pytest.approx(float(mid_section([*main, *side])), rel=CLOSE)


def test_a_misread_tape_position_is_not_taken_for_a_channel(tmp_path: Path) -> None:
    """1.6 written as 16 turns the tape back once, with no edge of water: a question."""
    rows = [*SECTION[:2], ("16", "0.45", "0.38"), *SECTION[3:]]
    reading = read(text_sheet(tmp_path, metric(rows)))
    (fault,) = refusals(reading)
    assert "row 5" in fault and "tape 2.4 after 16" in fault


def test_two_channels_both_read_from_the_far_bank(tmp_path: Path) -> None:
    """A tape that runs down in both channels starts again where it jumps up."""
    path = text_sheet(tmp_path, metric([*SECTION[::-1], *_shifted(SIDE, 5)[::-1]]))
    item = read_one(path)
    assert len(gauging_of(item).channels) == 2
    assert discharge(item) == pytest.approx(0.2643 + 0.0245, rel=1e-9)


def test_a_site_where_nothing_was_measured(tmp_path: Path) -> None:
    """A dry site among others is told with its reason, and does not keep them from being read."""
    rows = [("AF-01", *s) for s in SECTION] + [("AF-02", "", "", ""), ("AF-03", "0", "0", "0")]
    path = text_sheet(tmp_path, "site,tape (m),depth (m),velocity (m/s)\n" + lines_of(rows))
    reading = read(path)
    dry = [item for item in reading.gaugings if item.gauging is None]
    assert [item.label for item in dry] == ["AF-02", "AF-03"]
    assert all("nothing was measured" in (item.reason or "") for item in dry)
    assert reading.counts() == {"used": 6, "remark": 3, "refused": 0}
    assert "nothing was measured" in reasons(reading)[9]
