"""The water between an edge and the vertical beside it."""

from bankside.gauging.records import Channel, Gauging, PointReading, Vertical

from .sections import FEET, at_tapes, even, found, gauging, left, read, right

NAME = "Too big a jump from the bank"
INNER = [float(i) for i in range(2, 27)]


def test_a_first_panel_at_the_limit_is_silent_and_above_it_is_explained() -> None:
    """With 23 panels of 1 and one of d beside the edge, its share is d / (23 + d)."""
    at_limit = gauging(*even(v1={"velocity": 23 * 0.05 / 0.95}))
    above = gauging(*even(v1={"velocity": 23 * 0.052 / 0.948}))

    assert found(NAME, at_limit) == []
    (finding,) = found(NAME, above)
    assert (finding.severity, finding.tapes) == ("explain", (0.0, 1.0))
    assert finding.found == (
        "The water from the edge at tape 0 ft to tape 1 ft with the panel beside it carries 5.2 % "
        "of the discharge, above 5 %."
    )
    assert [threshold.name for threshold in finding.thresholds] == ["edge_strip_share"]
    assert finding.advice == "Add a vertical at tape 0.5 ft."


def test_a_gap_of_the_limit_is_silent_and_a_wider_one_is_noted() -> None:
    """The median of the other distances is 1 ft, so 1.5 ft will do and 1.6 ft will not."""
    slow = {26.0: {"velocity": 0.5}, 2.0: {"velocity": 0.5}}
    at_limit = gauging(*at_tapes([0.5, *INNER, 27.5], slow))
    above = gauging(*at_tapes([0.5, *INNER, 27.6], slow))

    assert found(NAME, at_limit) == []
    (finding,) = found(NAME, above)
    assert (finding.severity, finding.tapes) == ("note", (27.6, 26.0))
    assert finding.advice == "Add a vertical at tape 26.8 ft."
    assert finding.found == (
        "The water from the edge at tape 27.6 ft to tape 26 ft is 1.6 ft wide, more than 1.5 times "
        "the median spacing, 1 ft."
    )
    assert [threshold.name for threshold in finding.thresholds] == ["edge_gap"]


def test_share_and_gap_are_told_together() -> None:
    """2 ft to the first of 10 verticals: its panel is 1.5 of 10.5 ft³/s, 14.3 %."""
    tapes = [0.0, *(float(i) for i in range(2, 12)), 12.0]
    findings = found(NAME, gauging(*at_tapes(tapes)))

    near = next(f for f in findings if f.tapes == (0.0, 2.0))
    assert "carries 14.3 % of the discharge, above 5 % and is 2 ft wide" in near.found
    assert [t.name for t in near.thresholds] == ["edge_strip_share", "edge_gap"]


def test_the_gap_is_told_before_the_gauging_is_finished() -> None:
    """Three distances further on the spacing is known; shares are not."""
    under_way = at_tapes([0.0, 2.0, 3.0, 4.0, 5.0, 6.0])[:-1]

    assert [f.severity for f in found(NAME, gauging(*under_way), finished=False)] == ["note"]
    assert found(NAME, gauging(*under_way[:-1]), finished=False) == []


def test_the_channel_is_named_where_there_are_several() -> None:
    """Each of two channels may have a tape of its own, with the same positions."""
    side = Channel(tuple(at_tapes([0.5, *INNER, 27.6], {26.0: {"velocity": 0.5}})), name="side")
    (finding,) = found(NAME, Gauging(FEET, (Channel(tuple(even())), side)))
    assert finding.found.startswith("Channel 2, side: ") and "to tape 26 ft" in finding.found
    assert finding.advice == "Add a vertical at tape 26.8 ft."


def test_where_no_vertical_fits_it_is_a_note() -> None:
    """In 0.4 ft none stands 0.3 ft from both: the crew can do nothing there."""
    made = gauging(*even(10, 0.4))

    assert [f.severity for f in found(NAME, made)] == ["note", "note"]
    assert "No vertical fits beside tape 0.4 ft" in found(NAME, made)[0].advice


def test_a_dry_place_under_way_may_be_an_island() -> None:
    """Only the end of a finished gauging is taken for an edge without its mark."""
    made = gauging(*at_tapes([0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0])[:-1], Vertical(8.0, dry=True))

    assert found(NAME, made, finished=False) == []
    assert [f.tapes for f in found(NAME, made) if "edge at tape 8 ft" in f.found] == [(8.0, 5.0)]


def test_three_verticals_are_enough() -> None:
    """Between two edges one vertical carries all, on either side; two say nothing of a jump."""
    side = Channel((left(), right(1.0)))
    one = Channel((left(), read(1.0), right(2.0)))

    findings = found(NAME, Gauging(FEET, (side, one)))

    assert [(f.channel, f.tapes) for f in findings] == [(1, (0.0, 1.0)), (1, (2.0, 1.0))]


def test_the_panel_of_a_wall_counts_with_the_one_beside_it() -> None:
    """1 ft deep at the wall and moving as fast: 0.5 and 1 ft³/s of 20.5 are 7.3 %."""
    wall = Vertical(0.0, 1.0, (PointReading(1.0, 0.6),), edge="left", bank="steep")
    findings = found(NAME, gauging(wall, *even(20)[1:]))

    (finding,) = (f for f in findings if f.tapes == (0.0, 1.0))
    assert "carries 7.3 %" in finding.found


def test_the_last_distance_is_none_between_verticals() -> None:
    """1, 1 and 2 ft between them, 4 ft to the right edge: the median is 1 ft, not 1.5."""
    findings = found(NAME, gauging(*at_tapes([0.0, 1.6, 2.6, 3.6, 5.6, 9.6])))

    first = next(f for f in findings if f.tapes == (0.0, 1.6))
    assert "1.6 ft wide, more than 1.5 times the median spacing, 1 ft" in first.found
