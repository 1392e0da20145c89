"""The budget of the model between verticals: parts by hand, and what is said beside them."""

import math

import attrs
import pytest

from bankside.gauging.between_section import BetweenSection
from bankside.gauging.compute import compute
from bankside.gauging.records import Channel, Gauging, PointReading, Units, Vertical
from bankside.gauging.uncertainty import Assumed
from bankside.gauging.uncertainty_between import section_as_read
from bankside.gauging.uncertainty_flow import flow_of
from bankside.kernel.vertical import velocity_from_surface

from .worked import CALIBRATED, SI, between_banks, budgets, even, percents, read


def _at_surface(tape: float, velocity: float, seconds: float | None = 60.0) -> Vertical:
    """A vertical 0.5 m deep whose mean velocity is this, from the surface alone."""
    surface = velocity / velocity_from_surface(1.0)
    return Vertical(tape, 0.5, (PointReading(surface, 0.0, seconds),))


def _surfaces(seconds: float | None = 60.0) -> Channel:
    verticals = [_at_surface(float(i), 0.6, seconds) for i in range(1, 11)]
    return between_banks(*verticals, right=11.0)


def _parts(channel: Channel, **changes: object) -> dict[str, float]:
    gauging = attrs.evolve(Gauging(SI, (channel,)), **changes)
    return percents(budgets(gauging)["between-verticals"])


def _remarks(*channels: Channel, units: Units = SI) -> str:
    return " ".join(budgets(Gauging(units, channels))["between-verticals"].remarks)


def _section(*channels: Channel) -> BetweenSection:
    gauging = Gauging(SI, channels)
    section = section_as_read(gauging, flow_of(gauging, compute(gauging)), Assumed())
    assert section is not None
    return section


def test_a_rating_errs_the_same_way_at_all_verticals() -> None:
    """At 0.5 m/s the group table has 1.5 %, and no number of verticals makes it less."""
    for count in (4, 16):
        assert _parts(even(count, velocity=0.5))["meter"] == pytest.approx(1.5)
    assert _parts(even(8, velocity=0.5), meter=CALIBRATED)["meter"] == pytest.approx(0.5)


def test_a_rating_errs_by_the_velocity_of_each_vertical() -> None:
    """By hand: 5 % at 0.1 m/s and 1.5 % at 0.5 m/s, a sixth and five sixths of the flow."""
    slow = [read(float(i), 0.5, 0.1) for i in range(1, 7)]
    fast = [read(float(i), 0.5, 0.5) for i in range(7, 13)]
    found = _parts(between_banks(*slow, *fast, right=13.0))

    assert found["meter"] == pytest.approx(5.0 / 6.0 + 1.5 * 5.0 / 6.0)


def test_a_coefficient_is_common_to_all_surfaces() -> None:
    """Surfaces alone have 4 % of the coefficient, points at 0.6 the 1.5 % of the profile."""
    assert _parts(_surfaces())["systematic"] == pytest.approx(4.0)
    assert _parts(even(10))["systematic"] == pytest.approx(1.5)

    halves = [_at_surface(float(i), 0.6) for i in range(1, 6)]
    halves += [read(float(i), 0.5, 0.6) for i in range(6, 11)]
    found = _parts(between_banks(*halves, right=11.0))
    assert found["systematic"] == pytest.approx(math.hypot(2.0, 0.75))


def test_a_surface_tells_less_of_its_vertical() -> None:
    """The same velocities have 2.4 times the profile of points at 0.6."""
    surface, inside = _parts(_surfaces()), _parts(even(10))

    assert surface["vertical profile"] == pytest.approx(2.4 * inside["vertical profile"])
    assert surface["between verticals"] == pytest.approx(inside["between verticals"], rel=0.01)


def test_a_surface_without_a_time_is_a_float() -> None:
    """By hand: 15 % each over ten equal panels, and 6 mm of 0.5 m."""
    depth = 100.0 * 0.006 / 0.5
    found = _parts(_surfaces(None))["readings"]

    assert found == pytest.approx(math.hypot(15.0, depth) / math.sqrt(10.0))
    assert found > 2.0 * _parts(_surfaces())["readings"]


def test_what_is_said_of_surfaces() -> None:
    """Beside the interval stands what a surface counts for, and only where one was read."""
    assert "Where the surface alone was read" in _remarks(_surfaces())
    assert "surface alone" not in _remarks(even(10))


def test_an_unread_velocity_in_the_middle_is_no_reading() -> None:
    """The model says that the water there is between verticals, not that it counts as read."""
    whole = even(10)
    sounded = attrs.evolve(whole.verticals[5], velocity=())
    found = Channel((*whole.verticals[:5], sounded, *whole.verticals[6:]))
    said = _remarks(found)

    assert "No velocity was read at tape 5 m: the water there counts as any other" in said
    assert "is in no part" not in said
    assert _parts(found)["between verticals"] > _parts(whole)["between verticals"]


def test_an_unread_velocity_at_a_wall_counts_by_a_part_of_it() -> None:
    """An edge with depth and no velocity is named, with what it counts as uncertain by."""
    whole = even(10)
    wall = attrs.evolve(whole.verticals[0], depth=0.4)
    said = _remarks(Channel((wall, *whole.verticals[1:])))

    assert "The velocity at the edge of water at tape 0 m was not read" in said
    assert "uncertain by 20 %" in said and "counts as any other" not in said


@pytest.mark.parametrize(
    ("channel", "words"),
    [
        (even(10, depth=0.05), "deepest vertical 0.050 m, those 0.12 to 1.2 m"),
        (even(10, velocity=0.03), "mean velocity 0.030 m/s, those 0.050 to 1.0 m/s"),
        (even(24), "width 25 m, those 1.5 to 20 m"),
    ],
)
def test_a_stream_unlike_all_that_it_was_judged_on(channel: Channel, words: str) -> None:
    """What lies outside the simulated streams is told with both figures."""
    said = _remarks(channel)

    assert words in said and said.count("those") == 1


def test_a_stream_like_those_that_it_was_judged_on() -> None:
    """Ten verticals a metre apart, half a metre deep at 0.6 m/s: nothing is said."""
    assert "unlike all" not in _remarks(even(10))


def test_ranges_are_told_in_the_units_called() -> None:
    """70 ft of water are 21 m; the streams were 4.9 to 66 ft wide."""
    verticals = [read(7.0 * i, 2.0, 1.5) for i in range(1, 10)]
    said = _remarks(between_banks(*verticals, right=70.0), units=Units("ft", "ft/s"))

    assert "width 70 ft, those 4.9 to 66 ft" in said


def _running_back(back: float) -> Channel:
    """Ten verticals, of which the last five run back so fast."""
    on = [read(float(i), 0.5, 0.6) for i in range(1, 6)]
    return between_banks(*on, *(read(float(i), 0.5, -back) for i in range(6, 11)), right=11.0)


def test_more_than_the_discharge_is_told_as_an_amount() -> None:
    """Where nearly all runs back again, the amount is told, in the unit of the tape's system."""
    budget = budgets(Gauging(SI, (_running_back(0.57),)))["between-verticals"]
    said = " ".join(budget.remarks)

    # 5 m by 0.5 m by 0.03 m/s is left over: 0.075 m³/s.
    amount = float(said.partition("The interval, ± ")[2].partition(" m³/s")[0])
    assert budget.exceeds_discharge
    assert amount == pytest.approx(0.075 * budget.expanded_percent / 100.0, rel=0.05)
    assert not budgets(Gauging(SI, (_running_back(0.1),)))["between-verticals"].exceeds_discharge


def test_a_channel_that_cancels_out_has_no_section_of_its_own() -> None:
    """As much back as on: no percent of nothing; a channel beside it keeps its own."""
    section = _section(_running_back(0.6), even(10, left=20.0))
    other = section.of_channel(1)

    assert section.of_channel(0) is None
    assert section.of_channel(2) is None
    assert other is not None and other.total == pytest.approx(3.0)
