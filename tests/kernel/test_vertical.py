import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.kernel.vertical import (
    normal_velocity,
    velocity_by_integration,
    velocity_five_point,
    velocity_from_surface,
    velocity_half_depth,
    velocity_one_point,
    velocity_six_point,
    velocity_three_point,
    velocity_two_point,
    velocity_two_tenths,
)

speeds = st.floats(-1.0, 3.0)


@st.composite
def profiles(draw: st.DrawFn) -> tuple[list[float], list[float]]:
    """Fractions of the depth from the surface down, and the velocity at each."""
    hundredths = draw(st.sets(st.integers(0, 100), min_size=1, max_size=10))
    fraction = [n / 100 for n in sorted(hundredths)]
    count = len(fraction)
    return fraction, draw(st.lists(st.floats(0.05, 3.0), min_size=count, max_size=count))


@given(st.integers(-40, 200).map(lambda n: n / 64))
def test_one_velocity_from_surface_to_bed_is_its_own_mean(v: float) -> None:
    """The weights of every point formula add up to one."""
    assert velocity_one_point(v) == v
    assert velocity_two_point(v, v) == v
    assert velocity_three_point(v, v, v) == v
    assert velocity_five_point(v, v, v, v, v) == v
    assert velocity_six_point(v, v, v, v, v, v) == v


@given(speeds, speeds, speeds)
def test_three_points_are_the_mean_of_two_and_one(v02: float, v06: float, v08: float) -> None:
    """The point at 0.6 weighs as much as the two others together."""
    expected = (velocity_two_point(v02, v08) + velocity_one_point(v06)) / 2

    assert velocity_three_point(v02, v06, v08) == pytest.approx(expected, abs=1e-14)


def test_what_each_point_weighs() -> None:
    """Weights of the formulas with many points, one point at a time."""
    five = [velocity_five_point(*(float(i == j) for j in range(5))) for i in range(5)]
    six = [velocity_six_point(*(float(i == j) for j in range(6))) for i in range(6)]

    assert five == [0.1, 0.3, 0.3, 0.2, 0.1]
    assert six == [0.1, 0.2, 0.2, 0.2, 0.2, 0.1]


def test_coefficients_may_be_one_s_own() -> None:
    """A coefficient found at the site takes the place of the usual one."""
    assert velocity_half_depth(1.0) == 0.95
    assert velocity_two_tenths(1.0) == 0.87
    assert velocity_from_surface(1.0) == 0.85
    assert velocity_half_depth(1.0, 0.94) == 0.94
    assert velocity_two_tenths(1.0, 0.88) == 0.88
    assert velocity_from_surface(1.0, 0.90) == 0.90


def test_a_profile_integrated_by_hand() -> None:
    """Constant to 0.2, straight to 0.8, and a power law with exponent 4 below: 4/5 of the rest."""
    mean = velocity_by_integration([0.2, 0.8], [1.0, 0.5], 4.0)

    assert mean == pytest.approx(0.2 * 1.0 + 0.6 * 0.75 + 0.2 * 0.5 * 0.8)


def test_a_point_on_the_bed_closes_the_profile() -> None:
    """With points at the surface and on the bed only straight lines are left, whatever m is."""
    for exponent in (2.0, 6.0, 10.0):
        assert velocity_by_integration([0.0, 0.5, 1.0], [1.0, 0.8, 0.0], exponent) == 0.65


@given(profiles(), st.floats(2.0, 12.0))
def test_a_mean_lies_below_the_fastest_point(
    profile: tuple[list[float], list[float]], exponent: float
) -> None:
    """The profile is nowhere faster than its fastest point and nowhere runs back by itself."""
    mean = velocity_by_integration(*profile, exponent)

    assert 0.0 < mean <= max(profile[1]) * (1.0 + 1e-12)


@given(profiles(), st.data())
def test_a_point_on_the_line_changes_no_integral(
    profile: tuple[list[float], list[float]], data: st.DataObject
) -> None:
    """A point half way between two neighbours, with their mean velocity, adds nothing."""
    fraction, velocity = profile
    if len(fraction) < 2:
        return
    i = data.draw(st.integers(0, len(fraction) - 2))
    more = [*fraction[: i + 1], (fraction[i] + fraction[i + 1]) / 2, *fraction[i + 1 :]]
    with_it = [*velocity[: i + 1], (velocity[i] + velocity[i + 1]) / 2, *velocity[i + 1 :]]

    assert velocity_by_integration(more, with_it) == pytest.approx(
        velocity_by_integration(fraction, velocity), rel=1e-12
    )


@given(profiles())
def test_a_profile_scales_with_its_velocities(profile: tuple[list[float], list[float]]) -> None:
    """Twice the velocities, or velocities turned round, do the same to the mean."""
    fraction, velocity = profile
    mean = velocity_by_integration(fraction, velocity)

    assert velocity_by_integration(fraction, [2.0 * v for v in velocity]) == 2.0 * mean
    assert velocity_by_integration(fraction, [-v for v in velocity]) == -mean


@pytest.mark.parametrize(
    ("fraction", "velocity", "exponent"),
    [
        ([], [], 6.0),
        ([0.2, 0.8], [1.0], 6.0),
        ([0.8, 0.2], [1.0, 0.5], 6.0),
        ([0.2, 0.2], [1.0, 0.5], 6.0),
        ([-0.1, 0.2], [1.0, 0.5], 6.0),
        ([0.2, 1.1], [1.0, 0.5], 6.0),
        ([0.2, 0.8], [1.0, 0.5], 0.0),
    ],
)
def test_impossible_profiles_are_refused(
    fraction: list[float], velocity: list[float], exponent: float
) -> None:
    """No points, lengths that do not pair, fractions out of order or out of the water."""
    with pytest.raises(ValueError, match=r"at least one point|from 0 to 1|increase from"):
        velocity_by_integration(fraction, velocity, exponent)


@given(speeds, st.floats(0.0, 80.0))
def test_the_angle_counts_alike_to_either_side(velocity: float, angle: float) -> None:
    """Only what crosses the section counts, and a current from left or right counts alike."""
    normal = normal_velocity(velocity, angle)

    assert normal == normal_velocity(velocity, -angle)
    assert abs(normal) <= abs(velocity)
    assert normal_velocity(velocity, 0.0) == velocity
    assert normal_velocity(velocity, 90.0) == normal_velocity(velocity, -90.0) == 0.0
    assert normal == pytest.approx(velocity * math.cos(angle * math.pi / 180), abs=1e-14)


def test_one_point_and_its_coefficient() -> None:
    """By hand, of 2 m/s: 0.95, 0.87 and 0.85 of it."""
    assert velocity_half_depth(2.0) == pytest.approx(1.9)
    assert velocity_two_tenths(2.0) == pytest.approx(1.74)
    assert velocity_from_surface(2.0) == pytest.approx(1.7)
    assert velocity_from_surface(2.0, 0.9) == pytest.approx(1.8)


def test_below_the_lowest_point_a_power_law_runs_to_the_bed() -> None:
    """1 m/s at 0.3 of the depth: 0.3 above it, 6/7 of 0.7 below; 3/4 with an exponent of 3."""
    assert velocity_by_integration([0.3], [1.0]) == pytest.approx(0.3 + 0.6)
    assert velocity_by_integration([0.3], [1.0], 3.0) == pytest.approx(0.3 + 0.525)
