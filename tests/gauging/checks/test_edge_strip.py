"""The water between an edge and the vertical beside it."""

from bankside.gauging.records import Channel, Gauging, Vertical

from .sections import FEET, at_tapes, even, found, gauging

NAME = "Too big a jump from the bank"
INNER = [float(i) for i in range(2, 27)]


def test_a_first_panel_at_the_limit_is_silent_and_above_it_is_explained() -> None:
    """With 23 panels of 1 and one of d beside the edge, its share is d / (23 + d)."""
    at_limit = gauging(*even(v1={"velocity": 23 * 0.05 / 0.95}))
    above = gauging(*even(v1={"velocity": 23 * 0.052 / 0.948}))

    assert found(NAME, at_limit) == []
    (finding,) = found(NAME, above)
    assert (finding.severity, finding.tapes) == ("explain", (0.0, 1.0))
    assert "5.2 % of the discharge, above 5 %" in finding.found
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
