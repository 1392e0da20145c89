"""Where the meter was held in the depth: just beyond each limit, and just inside it."""

import pytest

from bankside.gauging.checks.vertical_profile import CHECKS
from bankside.gauging.records import Meter, PointReading, Vertical

from .conditions_building import findings, gauging, lone, point, section

ONE, PAIR, HALF, ROD = CHECKS


def _at(depth: float, *readings: PointReading) -> Vertical:
    return Vertical(3.0, depth, readings)


@pytest.mark.parametrize(
    ("vertical", "rotor", "count"),
    [
        (_at(2.5, point(1.0)), None, 1),
        (_at(2.49, point(1.0)), None, 0),
        (_at(1.5, point(1.0)), "small", 1),
        (_at(1.49, point(1.0)), "small", 0),
        (_at(1.5, point(1.0)), "large", 0),
        (_at(2.5, point(1.0, 0.2)), None, 1),
        (_at(2.5, point(1.0, None)), None, 0),
        (_at(2.5, point(1.0, 0.0)), None, 0),
        (_at(2.5, point(1.0, 0.2), point(0.8, 0.8)), None, 0),
    ],
)
@pytest.mark.parametrize("finished", [True, False])
def test_one_reading_where_two_are_needed(
    vertical: Vertical, rotor: str | None, count: int, finished: bool
) -> None:
    """From 2.5 ft on, with a small rotor from 1.5 ft, one point is not enough."""
    record = lone(vertical, meter=Meter("propeller", rotor=rotor))
    found = findings([ONE], record, finished=finished)
    assert [(f.channel, f.tapes) for f in found] == [(0, (3.0,))] * count
    limit, words, name = (
        ("1.5", " with a small rotor", "one_point_deepest_small")
        if rotor == "small"
        else ("2.5", "", "one_point_deepest")
    )
    for finding in found:
        assert finding.found == (
            f"One velocity was read where the water is {limit} ft deep or more, from which two are "
            f"read{words}: at tape 3 ft ({limit} ft)."
        )
        assert [t.name for t in finding.thresholds] == [name]


def test_all_verticals_of_a_kind_are_told_at_once() -> None:
    """Each with its figures: two with one point too few, two with an odd pair."""
    odd = (point(0.5, 0.2), point(0.6, 0.8))
    others = {i: Vertical(float(i), 2.0 + i, (point(1.0),)) for i in (1, 2)}
    others |= {i: Vertical(float(i), 1.0, odd) for i in (3, 4)}
    record = gauging(section(4, others=others))
    (one,), (pair,) = findings([ONE], record), findings([PAIR], record)
    assert one.found.endswith(": at tape 1 ft (3 ft), tape 2 ft (4 ft).")
    assert pair.found.endswith(
        ": 0.5 ft/s over 0.6 ft/s at tape 3 ft; 0.5 ft/s over 0.6 ft/s at tape 4 ft."
    )
    assert (pair.channel, pair.tapes) == (0, (3.0, 4.0))
    assert [t.name for t in pair.thresholds] == ["pair_ratio"]
    two = gauging(section(2, others={1: others[1], 2: Vertical(2.0, 1.0, odd)}) * 2)
    (one,), (pair,) = findings([ONE], two), findings([PAIR], two)
    assert one.found.endswith(": at tape 1 ft of channel 1 (3 ft), tape 1 ft of channel 2 (3 ft).")
    assert "tape 2 ft of channel 1; 0.5 ft/s over 0.6 ft/s at tape 2 ft of channel 2" in pair.found


@pytest.mark.parametrize(
    ("upper", "lower", "count"),
    [
        (0.5, 0.6, 1),
        (0.5, 0.5, 0),
        (1.0, 0.5, 0),
        (1.01, 0.5, 1),
        (0.4, -0.1, 1),
        (0.4, 0.0, 1),
        (0.0, 0.0, 0),
        (0.0, -0.5, 1),
        (0.0, 0.5, 1),
        (-0.5, 0.0, 1),
        (-0.5, 0.5, 1),
        (-1.0, -0.6, 0),
        (-0.5, -0.6, 1),
    ],
)
@pytest.mark.parametrize("finished", [True, False])
def test_an_odd_pair(upper: float, lower: float, count: int, finished: bool) -> None:
    """The water above is faster, though not more than twice as fast, whichever way it runs."""
    pair = lone(_at(3.0, point(upper, 0.2), point(lower, 0.8)))
    assert len(findings([PAIR], pair, finished=finished)) == count


def test_a_pair_with_its_third_point() -> None:
    """Once 0.6 is read as well, the three points make the mean and nothing is left to do."""
    three = _at(3.0, point(0.5, 0.2), point(0.6, 0.6), point(0.6, 0.8))
    assert not findings([PAIR], lone(three))


@pytest.mark.parametrize(
    ("depth", "fraction", "count"),
    [(0.29, 0.6, 1), (0.3, 0.6, 0), (0.29, 0.5, 0), (0.29, None, 0), (0.0, 0.6, 0)],
)
@pytest.mark.parametrize("finished", [True, False])
def test_half_depth_is_due(
    depth: float, fraction: float | None, count: int, finished: bool
) -> None:
    """Below 0.3 ft the meter is held at half the depth, not at 0.6."""
    found = findings([HALF], lone(_at(depth, point(1.0, fraction))), finished=finished)
    assert [(f.severity, f.channel, f.tapes) for f in found] == [("note", 0, (3.0,))] * count
    assert all("less than 0.3 ft deep: at tape 3 ft (0.29 ft)." in f.found for f in found)
    assert [t.name for f in found for t in f.thresholds] == ["half_depth_below"] * count


@pytest.mark.parametrize(
    ("depth", "fraction", "setting", "instead"),
    [
        (2.0, 0.6, 2.2, None),
        (2.0, 0.6, 2.21, 2.0),
        (2.0, 0.6, 1.79, 2.0),
        (0.4, 0.6, 0.45, None),
        (0.4, 0.6, 0.46, 0.4),
        (3.0, 0.8, 1.5, None),
        (3.0, 0.8, 3.0, 1.5),
        (3.0, 0.2, 6.0, None),
        (3.0, 0.2, 3.0, 6.0),
        (3.0, None, 1.0, None),
    ],
)
@pytest.mark.parametrize("finished", [True, False])
def test_the_rod(
    depth: float, fraction: float | None, setting: float, instead: float | None, finished: bool
) -> None:
    """The scale reads the depth for 0.6, half of it for 0.8, twice of it for 0.2.

    Off by 10 % of the mark or by 0.05 ft, whichever is more, is still as it should be.
    """
    reading = point(1.0, fraction, rod_setting=setting)
    found = findings([ROD], lone(_at(depth, reading)), finished=finished)
    assert [finding.instead for finding in found] == ([] if instead is None else [instead])


def test_a_rod_set_wrongly_is_told_with_its_mark() -> None:
    """The second of two settings: at 0.8 of 3 ft it is half the depth."""
    readings = (point(1.2, 0.2), point(1.0, 0.8, rod_setting=3.0))
    (finding,) = findings([ROD], lone(_at(3.0, *readings)))
    assert finding.found == (
        "At tape 3 ft the rod was set to 3 ft for 0.8 of a depth of 3 ft; its mark is 1.5 ft, and "
        "it is off by more than 0.05 ft and 10 %."
    )
    assert finding.advice == "Set the rod to 1.5 ft and read again at tape 3 ft."
    assert (finding.channel, finding.tapes) == (0, (3.0,))
    assert [t.name for t in finding.thresholds] == ["rod_setting_share", "rod_setting"]
