"""Verticals as crews write them: soundings, edges, dry gaps, points, counts and angles."""

from fractions import Fraction
from pathlib import Path

import pytest

from bankside.gauging.compute import compute

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
    refusals,
    text_sheet,
)

CLOSE = 1e-12
HEADS = "tape (m),depth (m),velocity (m/s)\n"


def _with(position: int, depth: str | None = None, velocity: str | None = None) -> list[Station]:
    """The known section with one vertical's depth or velocity written otherwise."""
    rows = list(SECTION)
    x, d, v = rows[position]
    rows[position] = (x, d if depth is None else depth, v if velocity is None else velocity)
    return rows


# Soundings and velocities


def test_an_empty_velocity_is_a_sounding(tmp_path: Path) -> None:
    """Between measured verticals the velocity follows the tape: 0.21 + 0.12 × 0.6/1.4 at 1.6 m."""
    item = read_one(text_sheet(tmp_path, metric(_with(2, velocity=""))))
    between = Fraction("0.21") + (Fraction("0.33") - Fraction("0.21")) * Fraction(6, 14)
    expected = Fraction("0.2643") + Fraction("0.7") * Fraction("0.45") * (
        between - Fraction("0.38")
    )
    assert discharge(item) == pytest.approx(float(expected), rel=CLOSE)
    assert "No velocity was read at tape 1.6 m: it is interpolated" in notes(item)


def test_an_empty_velocity_as_zero_by_answer(tmp_path: Path) -> None:
    """With --empty-velocity zero the same cell is standing water, and that is told."""
    item = read_one(text_sheet(tmp_path, metric(_with(2, velocity=""))), empty_velocity="zero")
    assert discharge(item) == pytest.approx(0.2643 - 0.1197, rel=CLOSE)
    assert "1.6" in notes(item) and "zero" in notes(item)


def test_several_soundings_in_a_row(tmp_path: Path) -> None:
    """Soundings side by side lie on one line between the verticals that were measured."""
    rows = list(SECTION)
    rows[2], rows[3] = (rows[2][0], rows[2][1], ""), (rows[3][0], rows[3][1], "")
    at_16 = Fraction("0.21") + (Fraction("0.12") - Fraction("0.21")) * Fraction(6, 20)
    at_24 = Fraction("0.21") + (Fraction("0.12") - Fraction("0.21")) * Fraction(14, 20)
    full = [*rows[:2], ("1.6", "0.45", str(at_16)), ("2.4", "0.40", str(at_24)), *rows[4:]]
    item = read_one(text_sheet(tmp_path, metric(rows)))
    assert discharge(item) == pytest.approx(float(mid_section(full)), rel=CLOSE)
    assert "tapes 1.6 and 2.4 m" in notes(item)


def test_a_negative_velocity_is_kept(tmp_path: Path) -> None:
    """Water that runs back upstream is taken off the discharge."""
    item = read_one(text_sheet(tmp_path, metric(_with(4, velocity="-0.12"))))
    assert discharge(item) == pytest.approx(0.2643 - 2 * 0.01188, rel=CLOSE)


def test_a_typographic_minus_is_a_minus(tmp_path: Path) -> None:
    """A minus sign as word processors set it is a minus sign."""
    item = read_one(text_sheet(tmp_path, metric(_with(4, velocity="−0.12"))))
    assert discharge(item) == pytest.approx(0.2643 - 2 * 0.01188, rel=CLOSE)


def test_a_row_of_tape_alone_is_no_vertical(tmp_path: Path) -> None:
    """A position prepared on the form and never measured is kept as a remark."""
    reading = read(text_sheet(tmp_path, metric([*SECTION[:3], ("2.0", "", ""), *SECTION[3:]])))
    assert reading.counts == {"used": 6, "remark": 2, "refused": 0}
    assert discharge(reading.gaugings[0]) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_prepared_positions_at_the_foot_of_a_form_are_no_verticals(tmp_path: Path) -> None:
    """Positions printed in advance beyond the last edge of water hold nothing."""
    reading = read(text_sheet(tmp_path, metric([*SECTION, ("4.0", "", ""), ("4.5", "", "")])))
    assert refusals(reading) == []
    assert reading.counts == {"used": 6, "remark": 3, "refused": 0}
    assert discharge(reading.gaugings[0]) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_a_velocity_without_a_depth_is_refused(tmp_path: Path) -> None:
    """A velocity in no known depth makes no discharge."""
    (fault,) = refusals(read(text_sheet(tmp_path, metric(_with(2, depth="")))))
    assert "row 4" in fault and "a velocity without a depth" in fault


# Edges


def test_missing_edges_are_told(tmp_path: Path) -> None:
    """Without edges of water the outer verticals are taken as the edges, and both are named."""
    item = read_one(text_sheet(tmp_path, metric(SECTION[1:-1])))
    # By hand: half widths 0.3 and 0.3 at the ends, 0.7 and 0.7 between.
    by_hand = 0.3 * 0.0672 + 0.7 * 0.171 + 0.7 * 0.132 + 0.3 * 0.0216
    assert discharge(item) == pytest.approx(by_hand, rel=CLOSE)
    assert "first vertical, at tape 1 m" in notes(item)
    assert "last vertical, at tape 3 m" in notes(item)


def test_a_steep_edge_without_velocity(tmp_path: Path) -> None:
    """At a wall 0.3 m deep, 0.6 m from a vertical of 0.21 m/s, the velocity is 0.65 of 0.21."""
    item = read_one(text_sheet(tmp_path, metric(_with(0, depth="0.3", velocity=""))))
    # One depth away and beyond, the velocity is undisturbed (ratio 1); at the wall it is 0.65.
    extra = 0.3 * 0.3 * (0.65 * 0.21)
    assert discharge(item) == pytest.approx(0.2643 + extra, rel=1e-9)
    assert "edge with depth at tape 0.4 m" in notes(item)
    assert "smooth wall" in notes(item)


@pytest.mark.parametrize(
    ("left", "right"),
    [
        ("LEW", "REW"),
        ("left bank", "right bank"),
        ("Left edge of water", "Right edge of water"),
        ("L.", "R."),
        ("LB", "RB"),
        ("LWE", "RWE"),
    ],
)
def test_edge_labels_in_their_own_column(tmp_path: Path, left: str, right: str) -> None:
    """The usual labels name the edges of water in a column of their own."""
    labels = [left, "", "", "", "", right]
    rows = [(*s, label) for s, label in zip(SECTION, labels, strict=True)]
    item = read_one(text_sheet(tmp_path, HEADS.strip() + ",Edge\n" + lines_of(rows)))
    verticals = gauging_of(item).channels[0].verticals
    assert [v.edge for v in verticals] == ["left", None, None, None, None, "right"]
    assert (verticals[0].bank, verticals[-1].bank) == ("sloping", "sloping")
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


@pytest.mark.parametrize(("first", "last"), [("LEW", "REW"), ("REW", "LEW"), ("rew.", "(lew)")])
def test_edge_labels_among_the_remarks(tmp_path: Path, first: str, last: str) -> None:
    """An edge named among the remarks is an edge; the tape may start from either bank."""
    remarks = [first, "", "weed", "", "", last]
    rows = [(*s, remark) for s, remark in zip(SECTION, remarks, strict=True)]
    item = read_one(text_sheet(tmp_path, HEADS.strip() + ",Remarks\n" + lines_of(rows)))
    verticals = gauging_of(item).channels[0].verticals
    sides = {"lew": "left", "rew": "right"}
    assert verticals[0].edge == sides[first.strip(".()").lower()]
    assert verticals[-1].edge == sides[last.strip(".()").lower()]
    assert [v.remark for v in verticals] == [None, None, "weed", None, None, None]


def test_an_edge_without_a_side(tmp_path: Path) -> None:
    """The word edge among the remarks does not say which bank; it is kept as a remark."""
    remarks = ["edge", "", "", "", "", "water's edge"]
    rows = [(*s, remark) for s, remark in zip(SECTION, remarks, strict=True)]
    item = read_one(text_sheet(tmp_path, HEADS.strip() + ",Remarks\n" + lines_of(rows)))
    verticals = gauging_of(item).channels[0].verticals
    assert [v.edge for v in verticals] == [None] * 6
    assert verticals[0].remark == verticals[-1].remark == "edge of water"
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_a_steep_edge_with_its_label_and_factor(tmp_path: Path) -> None:
    """At "LEW steep" with a wall factor the neighbour's velocity counts times that factor."""
    rows = [(*s, "", "") for s in _with(0, depth="0.3", velocity="")]
    rows[0] = (*rows[0][:3], "LEW steep", "0.7")
    text = HEADS.strip() + ",Edge,Wall factor\n" + lines_of(rows)
    item = read_one(text_sheet(tmp_path, text))
    first = gauging_of(item).channels[0].verticals[0]
    assert (first.edge, first.bank, first.wall_factor) == ("left", "steep", 0.7)
    assert discharge(item) == pytest.approx(0.2643 + 0.3 * 0.3 * 0.7 * 0.21, rel=CLOSE)


def test_an_edge_without_a_depth_is_asked_about(tmp_path: Path) -> None:
    """An edge whose depth is blank may be sloping or unread: a question, settled by an answer."""
    rows = _with(0, depth="", velocity="")
    path = text_sheet(tmp_path, metric(rows))
    (fault,) = refusals(read(path))
    assert "row 2" in fault and "--empty-edge sloping" in fault
    assert discharge(read_one(path, empty_edge="sloping")) == pytest.approx(
        SECTION_DISCHARGE, rel=CLOSE
    )


# Dry verticals


def test_a_dry_vertical(tmp_path: Path) -> None:
    """The word dry in the depth column is a vertical without water, not a missing depth."""
    for word in ("dry", "Dry", "DRY"):
        rows = [*SECTION[:3], ("2.0", word, ""), *SECTION[3:]]
        item = read_one(text_sheet(tmp_path, metric(rows)))
        vertical = gauging_of(item).channels[0].verticals[3]
        assert (vertical.dry, vertical.depth) == (True, None)
        expected = mid_section([*SECTION[:3], ("2.0", "0", "0"), *SECTION[3:]])
        assert discharge(item) == pytest.approx(float(expected), rel=CLOSE)


def test_a_dry_gap_between_two_threads(tmp_path: Path) -> None:
    """An island is left out of the width of the water."""
    rows = [
        ("0", "0", "0"),
        ("1", "0.2", "0.3"),
        ("2", "dry", ""),
        ("5", "dry", ""),
        ("6", "0.3", "0.2"),
        ("7", "0", "0"),
    ]
    result = compute(gauging_of(read_one(text_sheet(tmp_path, metric(rows)))))
    assert result.discharge_m3s == pytest.approx(1 * 0.06 + 1 * 0.06, rel=CLOSE)
    assert result.width_m == pytest.approx(4.0, rel=CLOSE)


@pytest.mark.parametrize("head", ["bank", "remark"])
@pytest.mark.parametrize("word", ["LEW, first vertical", "LEW; weed cut", "sill wall near LEW"])
def test_words_of_a_remark_are_no_form_of_a_bank(tmp_path: Path, head: str, word: str) -> None:
    """A vertical is also a place of readings: only alone beside the edge is it a steep bank."""
    text = (
        f"tape (m),depth (m),velocity (m/s),{head}\n"
        f'0,0,,"{word}"\n1,0.4,0.5,\n2,0.5,0.6,\n3,0.4,,REW vertical wall\n'
    )
    item = read_one(text_sheet(tmp_path, text))
    verticals = gauging_of(item).channels[0].verticals
    assert (verticals[0].edge, verticals[0].bank) == ("left", "sloping")
    assert (verticals[-1].edge, verticals[-1].bank) == ("right", "steep")
    assert verticals[0].remark == word


def test_a_steep_edge_without_its_bank_is_asked_about(tmp_path: Path) -> None:
    """Which bank a wall stands on is not guessed; the answer for the first row settles both."""
    text = (
        "tape (m),depth (m),velocity (m/s),bank\n0,0.3,,edge\n1,0.4,0.5,\n2,0.5,0.6,\n3,0.4,,edge\n"
    )
    path = text_sheet(tmp_path, text)
    faults = refusals(read(path))
    assert [("row 2" in fault, "row 5" in fault) for fault in faults] == [
        (True, False),
        (False, True),
    ]
    assert all("say --first-bank left or right" in fault for fault in faults)
    verticals = gauging_of(read_one(path, first_bank="right")).channels[0].verticals
    assert (verticals[0].edge, verticals[-1].edge) == ("right", "left")
