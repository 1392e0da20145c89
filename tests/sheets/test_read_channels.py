"""Channels of one gauging, and tapes that start again."""

from pathlib import Path

import pytest

from .building import (
    SECTION,
    SECTION_DISCHARGE,
    SIDE,
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
HEADS = "tape (m),depth (m),velocity (m/s)\n"


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
    assert reading.counts == {"used": 0, "remark": 1, "refused": 6}

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
    assert reading.counts == {"used": 6, "remark": 3, "refused": 0}
    assert "nothing was measured" in reasons(reading)[9]


ISLAND = (
    "tape (m),depth (m),velocity (m/s),bank\n"
    "0,0,,LEW\n1,0.4,0.5,\n2,0.5,0.6,\n3,0.4,0.4,REW\n"
    "8,0.3,0.3,LEW\n9,0.4,0.5,\n10,0,,REW\n"
)


def test_edges_of_water_side_by_side_part_two_channels(tmp_path: Path) -> None:
    """An island whose two steep edges are named carries no water between them."""
    item = read_one(text_sheet(tmp_path, ISLAND))
    left = 1 * 0.4 * 0.5 + 1 * 0.5 * 0.6 + 0.5 * 0.4 * 0.4
    right = 0.5 * 0.3 * 0.3 + 1 * 0.4 * 0.5
    assert discharge(item) == pytest.approx(left + right, rel=CLOSE)
    assert "side by side on rows 5 and 6" in notes(item)


@pytest.mark.parametrize("head", ["bank", "remark"])
@pytest.mark.parametrize(
    ("closing", "opening"),
    [
        ("REW - island", "LEW - far side of island"),
        ("left channel REW", "steep LEW of right channel"),
        ("REW steep (island)", "LEW; right channel"),
    ],
)
def test_edges_are_found_among_other_words(
    tmp_path: Path, head: str, closing: str, opening: str
) -> None:
    """The trade's letters part two channels whatever the recorder wrote around them."""
    plain = discharge(read_one(text_sheet(tmp_path, ISLAND)))
    text = ISLAND.replace(",bank", f",{head}")
    text = text.replace("0.4,REW", f"0.4,{closing}").replace("0.3,LEW", f"0.3,{opening}")
    item = read_one(text_sheet(tmp_path, text))
    assert discharge(item) == plain
    assert "side by side on rows 5 and 6" in notes(item)


def test_a_rill_between_two_islands_is_a_channel(tmp_path: Path) -> None:
    """Four edges in a row are two islands: the edge that opens a channel does not close it."""
    text = (
        "tape (m),depth (m),velocity (m/s),bank\n"
        "0,0,,LEW\n1,0.4,0.4,\n2,0,,REW\n4,0.3,0.2,LEW\n4.4,0.3,0.2,REW\n"
        "6,0,,LEW\n7,0.5,0.6,\n8,0,,REW\n"
    )
    item = read_one(text_sheet(tmp_path, text))
    assert [len(c.verticals) for c in gauging_of(item).channels] == [3, 2, 3]
    assert discharge(item) == pytest.approx(0.4 * 0.4 + 0.4 * 0.3 * 0.2 + 0.5 * 0.6, rel=CLOSE)


def test_a_lone_edge_inside_the_section_is_asked_about(tmp_path: Path) -> None:
    """An edge of water with water on both sides is never passed over."""
    text = ISLAND.replace("8,0.3,0.3,LEW", "8,0.3,0.3,")
    faults = refusals(read(text_sheet(tmp_path, text)))
    assert len(faults) == 1 and "row 5" in faults[0] and "right edge of water" in faults[0]


def test_two_gaugings_with_named_edges_are_not_an_island(tmp_path: Path) -> None:
    """A tape that starts again at the same place may be a repeat, and is asked about."""
    form = "0,0,,LEW\n1,0.4,0.5,\n2,0.5,0.6,\n3,0,,REW\n"
    text = "tape (m),depth (m),velocity (m/s),bank\n" + form + form
    assert any("--tape-restart" in fault for fault in refusals(read(text_sheet(tmp_path, text))))


def test_runs_that_are_gaugings_keep_their_own_totals(tmp_path: Path) -> None:
    """Two gaugings one under another, as an answer says, have a total each and no false note."""
    text = HEADS.strip() + ",Q (m3/s)\n"
    for station in SECTION:
        text += ",".join(station) + ",\n"
    text += "Total,,,0.2643\n"
    for station in SECTION:
        text += ",".join(station) + ",\n"
    text += "Total,,,0.27\n"
    first, second = read(text_sheet(tmp_path, text), tape_restart="gaugings").gaugings
    totals = [gauging_of(item).filed for item in (first, second)]
    assert [filed and filed.discharge for filed in totals] == [0.2643, 0.27]
    assert "channels" not in notes(first) + notes(second)


def test_tables_under_a_line_of_their_own_are_gaugings(tmp_path: Path) -> None:
    """A line right above the heads names the site where nothing else does."""
    text = f"Plover Brook\n{metric()}\nHeron Creek\n{metric(SIDE)}"
    first, second = read(text_sheet(tmp_path, text)).gaugings
    assert [gauging_of(i).site.name for i in (first, second)] == ["Plover Brook", "Heron Creek"]
    assert discharge(second) == pytest.approx(0.0245, rel=CLOSE)


def test_the_first_bank_as_an_answer_names_both_edges(tmp_path: Path) -> None:
    """Where a sheet does not say on which bank it begins, an answer does."""
    item = read_one(text_sheet(tmp_path, metric()), first_bank="right")
    ends = gauging_of(item).channels[0].verticals
    assert (ends[0].edge, ends[-1].edge) == ("right", "left")


def test_a_row_of_sums_is_no_vertical(tmp_path: Path) -> None:
    """A spreadsheet's sums under the columns are told by their arithmetic, without a word."""
    rows = [
        ("0", "0", "", "0"),
        ("1", "0.4", "0.5", "0.2"),
        ("2", "0.5", "0.6", "0.3"),
        ("3", "0.3", "0.4", "0.12"),
        ("4", "0", "", "0"),
        ("10", "1.2", "1.5", "0.62"),
    ]
    text = HEADS.strip() + ",Q (m3/s)\n" + lines_of(rows)
    item = read_one(text_sheet(tmp_path, text))
    assert discharge(item) == pytest.approx(0.62, rel=CLOSE)
    filed = gauging_of(item).filed
    assert filed is not None and filed.discharge == 0.62
