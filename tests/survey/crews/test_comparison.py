"""Crews at one section: who belongs together, what is left out, and what is said of the level."""

import datetime
from typing import Any

import pytest

from bankside.gauging.faults import InputRefused
from bankside.gauging.records import CrewMember, Gauging, Meter
from bankside.survey.crews.comparison import compare_crews, crew_day
from bankside.survey.crews.grouping import group_name
from bankside.survey.visits import Visit

from ..building import at, gauging, visit


def made(m3s: float | None, hour: int, *crew: str, **members: Any) -> Visit:
    """A gauging that a crew began at this hour."""
    names = {"crew": crew, "started": at(hour), "ended": at(hour, 40), **members}
    return visit(m3s, None, id_=f"g{hour}", **names)


DAY = (
    *(made(1.00, 8, "Ann"), made(1.02, 9, "Ann"), made(1.10, 10, "Ben")),
    *(made(1.12, 11, "Ben"), made(1.05, 12, "Cora"), made(1.05, 13, "cora")),
)


def test_crews_are_told_by_their_people() -> None:
    """Names that differ by case alone are one; values stand by crew in the order of time."""
    found = compare_crews(crew_day(DAY, "the ford"), "crew")

    assert found is not None
    assert [group.name for group in found.precision.groups] == ["Ann", "Ben", "Cora"]
    assert [round(group.mean, 6) for group in found.precision.groups] == [1.01, 1.11, 1.05]
    # s_r² = (0.0002 + 0.0002 + 0) / 3, by hand.
    assert found.precision.repeatability == pytest.approx((0.0004 / 3) ** 0.5)
    # As docs/method.md works it out.
    assert found.precision.reproducibility == pytest.approx(0.0510, abs=5e-5)


def test_the_same_gaugings_compare_by_meter() -> None:
    """One serial number is one meter, whoever holds it."""
    day = [made(m, h, serial=s) for m, h, s in ((1.0, 8, "A1"), (1.1, 9, "A1"), (2.0, 10, "B2"))]
    found = compare_crews(crew_day(day, "the ford"), "meter")

    assert found is not None
    assert [len(group.values) for group in found.precision.groups] == [2, 1]


def test_a_width_is_compared_as_well() -> None:
    """Where widths differ they say why discharges do: all of these are 21 m wide."""
    found = compare_crews(crew_day(DAY, "the ford"), "crew", "width")

    assert found is not None
    assert found.precision.mean == pytest.approx(21.0)
    assert found.precision.reproducibility == 0.0


@pytest.mark.parametrize(
    ("crew", "name"),
    [
        ((CrewMember("Ann", "meter"), CrewMember("Ben", "recorder")), "Ann"),
        ((CrewMember("Ann", "rod and meter"), CrewMember("Ben", "notes")), "Ann"),
        ((CrewMember("Ann"),), "Ann"),
        ((CrewMember("Ann"), CrewMember("Ben")), None),
        ((CrewMember("Ann", "meter"), CrewMember("Ben", "rod")), None),
        ((), None),
    ],
)
def test_who_read_is_not_guessed(crew: tuple[CrewMember, ...], name: str | None) -> None:
    """A role says it, or there is one person alone."""
    one = gauging(1.0)
    found = group_name(Gauging(units=one.units, channels=one.channels, crew=crew), "person")

    assert (found and found[1]) == name


def test_a_meter_of_which_nothing_is_known_is_no_group() -> None:
    """A record that names a meter and says nothing of it tells no meter."""
    one = gauging(1.0)
    bare = Gauging(units=one.units, channels=one.channels, meter=Meter())

    assert group_name(bare, "meter") is None


def test_what_does_not_say_its_crew_is_named() -> None:
    """It is left out of the comparison, and a sentence says which one."""
    found = compare_crews(crew_day((*DAY, made(9.0, 15)), "the ford"), "crew")

    assert found is not None
    assert found.precision.count == 6
    assert len(found.left_out) == 1
    assert "15:00 is left out, as it does not say its crew" in found.left_out[0]


def test_no_group_at_all_is_no_comparison() -> None:
    """Where nobody wrote down a meter there is nothing to compare by it."""
    assert compare_crews(crew_day(DAY, "the ford"), "meter") is None


def test_a_level_that_moved_is_said() -> None:
    """Then it was not one flow."""
    rising = [made(1.0, 8, "Ann", stage=0.2), made(1.3, 10, "Ben", stage=0.5)]
    steady = [made(1.0, 8, "Ann", stage=0.2), made(1.3, 10, "Ben", stage=0.2)]

    assert "The level moved" in crew_day(rising, "the ford").remarks[0]
    assert crew_day(steady, "the ford").remarks == ()
    assert "nobody can tell" in crew_day(DAY, "the ford").remarks[0]


def test_two_days_are_no_comparison() -> None:
    """Nobody can tell crews from days."""
    other = visit(1.0, None, id_="x", day=datetime.date(2026, 7, 15), crew=("Ann",))
    with pytest.raises(InputRefused, match=r"several days \(2026-07-14, 2026-07-15\)"):
        crew_day((*DAY, other), "the ford")


def test_one_gauging_is_no_comparison() -> None:
    """What has no discharge does not count."""
    with pytest.raises(InputRefused, match="found 1 finished gauging with a discharge at the for"):
        crew_day((made(1.0, 8, "Ann"), made(None, 9, "Ben")), "the ford")


def test_an_unfinished_gauging_is_left_out_by_name() -> None:
    """What is still to be read says nothing yet."""
    found = crew_day((*DAY[:2], made(None, 10, "Ben")), "the ford")

    assert len(found.visits) == 2
    assert found.remarks[0].startswith("Left out: the gauging of 2026-07-14 10:00 by Ben")
