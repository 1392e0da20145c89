"""Panels that carry too much, and where the verticals are to be added."""

import pytest

from bankside.gauging.checks.finding import Place
from bankside.gauging.records import Channel, Gauging

from .sections import FEET, METRIC, at_tapes, even, found, gauging, left, read, right

NAME = "One panel carries too much"
AIM = "Panels above the aim"


def _velocity(share: float, others: int = 23) -> float:
    """The velocity with which one of equal panels carries a share beside others at 1."""
    return others * share / (100 - share)


@pytest.mark.parametrize(
    ("share", "severities"),
    [(4.9, []), (5.0, []), (5.1, ["note"]), (10.0, ["note"]), (10.1, ["fix now"])],
)
def test_the_aim_and_the_limit(share: float, severities: list[str]) -> None:
    """What reads as the limit itself keeps to it."""
    made = gauging(*even(v12={"velocity": _velocity(share)}))

    assert [f.severity for name in (NAME, AIM) for f in found(name, made)] == severities
    assert found(NAME, made, finished=False) == found(AIM, made, finished=False) == []


def test_the_vertical_is_added_towards_the_faster_side() -> None:
    """Between 12 and 13 ft, where 13 ft is faster; half-way to it takes a quarter off 13 %."""
    made = gauging(*even(v12={"velocity": _velocity(13.05)}, v13={"velocity": 1.1}))

    finding = found(NAME, made)[0]

    assert finding.tapes == (12.0,)
    assert finding.found == ("The panel at tape 12 ft carries 13.0 % of the discharge, above 10 %.")
    assert finding.advice == "Add a vertical at tape 12.5 ft."
    assert [t.name for t in finding.thresholds] == ["panel_share_limit"]


def test_both_sides_where_one_does_not_suffice() -> None:
    """A quarter off 14 % leaves more than 10 %."""
    made = gauging(*even(v12={"velocity": _velocity(14)}))

    (finding,) = (f for f in found(NAME, made) if f.tapes == (12.0,))
    assert finding.advice == "Add verticals at tapes 11.5 and 12.5 ft."
    assert finding.places == (Place(0, 11.5), Place(0, 12.5))


def test_neighbours_above_the_limit_are_one_finding() -> None:
    """Half-way between two of them one vertical serves both."""
    made = gauging(*even(v12={"velocity": 3.5}, v13={"velocity": 3.5}, v20={"velocity": 3.6}))

    findings = [f for f in found(NAME, made) if f.severity == "fix now"]

    assert [f.tapes for f in findings] == [(12.0, 13.0), (20.0,)]
    assert findings[0].found.startswith("The panels at tapes 12 and 13 ft carry up to 11.1 % of ")
    assert findings[0].advice == "Add a vertical at tape 12.5 ft."


def test_no_advice_to_stand_closer_than_is_asked() -> None:
    """In 0.4 ft no vertical fits: an explanation, and a wider section, instead of a repair."""
    (finding,) = found(NAME, gauging(*even(9, 0.4)))

    assert finding.severity == "explain"
    assert "No vertical fits beside tapes 0.4, " in finding.advice


def test_above_the_aim_the_three_that_carry_most_are_helped() -> None:
    """Of four the least is left alone; two that are neighbours have one place between them."""
    velocities = {6: 1.5, 10: 1.7, 11: 1.8, 15: 1.6, 20: 1.9}
    made = gauging(*even(**{f"v{i}": {"velocity": v} for i, v in velocities.items()}))

    (finding,) = found(AIM, made)

    assert (finding.channel, finding.tapes) == (0, (6.0, 10.0, 11.0, 15.0, 20.0))
    # 1.9 of 19 × 1 + 8.5.
    assert finding.found == (
        "5 panels carry more than the 5 % aimed at and no more than 10 %, most at tape 20 ft with "
        "6.9 %."
    )
    assert finding.advice == ("Add verticals at tapes 10.5, 14.5 and 19.5 ft, if there is time.")
    assert finding.places == (Place(0, 10.5), Place(0, 14.5), Place(0, 19.5))
    assert [t.name for t in finding.thresholds] == ["panel_share_aim"]


def test_above_the_aim_where_no_vertical_fits() -> None:
    """Every 0.4 ft: it is said of the panel that carries most, and no time is asked for."""
    made = gauging(*even(24, 0.4, v12={"velocity": 1.5}))

    (finding,) = found(AIM, made)

    assert finding.found.startswith("1 panel carries more than the 5 % aimed at")
    assert finding.advice == (
        "No vertical fits beside tape 4.8 ft without coming closer than 0.3 ft to another; a "
        "wider section would have room."
    )


def test_where_the_faster_side_has_no_room_the_other_is_taken() -> None:
    """12.4 ft is faster and too close; on the way to 11 ft there is room."""
    close = even(v12={"velocity": 4.2})
    close[13:13] = [read(12.4, velocity=1.5)]

    (finding,) = (f for f in found(NAME, gauging(*close)) if f.tapes == (12.0,))

    assert finding.advice == "Add a vertical at tape 11.5 ft."


def test_the_last_panel_of_a_flume_has_one_side() -> None:
    """Water moves at its walls as well, which end the tape."""
    walls = gauging(read(0), *(read(i) for i in range(1, 20)), read(20, velocity=6.0))

    (finding,) = found(NAME, walls)

    assert (finding.tapes, finding.advice) == ((20.0,), "Add a vertical at tape 19.5 ft.")


def test_positions_are_on_marks_of_the_tape() -> None:
    """Half-way from 1.0 to 1.34 m is 1.17 m, and from there to 2 m 1.67 m: called to 0.05 m."""
    slow = {1.0: {"depth": 0.3, "velocity": 0.6}, 1.34: {"depth": 0.3, "velocity": 0.5}}
    verticals = at_tapes([0, 1.0, 1.34, 2.0], slow)

    (finding,) = found(NAME, gauging(*verticals, units=METRIC))

    assert finding.advice == "Add verticals at tapes 0.5, 1.15 and 1.65 m."


def test_shares_are_of_the_whole_gauging_and_told_by_channel() -> None:
    """A panel of 4 ft³/s in a side channel, beside 24 of 1 in the main one: 14.3 %."""
    side = Channel((left(0), read(2, velocity=2.0), right(4)))

    (finding,) = found(NAME, Gauging(FEET, (Channel(tuple(even())), side)))

    assert (finding.severity, finding.channel, finding.tapes) == ("fix now", 1, (2,))
    assert "carries 14.3 %" in finding.found
    assert {place.channel for place in finding.places} == {1}
