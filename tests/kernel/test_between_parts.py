"""What each part leaves open, by hand, and how the characters are numbered."""

from itertools import product

import pytest

from bankside.kernel.between_parts import (
    common_profile_variance,
    mean_unit_discharge,
    meter_variance,
    profile_deviation,
    profile_length,
    profile_share,
    reading_variance_of,
    readings_variance,
    rod_variance,
    widths_variance,
    zero_variance,
)
from bankside.kernel.between_prior import (
    SHAPE_LENGTHS,
    UNEVENNESS,
    UNEVENNESS_LENGTHS_M,
    least_variance,
    prior_weight,
    shape_length_of,
    unevenness_length_of,
    unevenness_of,
    weight_of,
    weighted_sum,
)
from bankside.kernel.totals import total_of

PANELS, DEPTH, VELOCITY = [1.0, 2.0], [0.5, 0.25], [0.4, -0.2]


def test_the_mean_unit_discharge_is_that_of_straight_lines() -> None:
    """Triangles 2 high over 4 have the mean 1, whichever way the water runs."""
    assert mean_unit_discharge([0.0, 2.0, 4.0], [0.0, 2.0, 0.0]) == 1.0
    assert mean_unit_discharge([0.0, 2.0, 4.0], [0.0, -2.0, 0.0]) == 1.0


def test_a_reading_varies_by_exposure_and_depth() -> None:
    """10 % of 0.2 m²/s at one point, 5 % at four; 6 mm times 0.4 m/s; a stand-in by 20 %."""
    by_depth = 0.0024**2
    assert reading_variance_of(0.5, 0.4, 1.0, 10.0, True) == pytest.approx(0.02**2 + by_depth)
    assert reading_variance_of(0.5, 0.4, 4.0, 10.0, True) == pytest.approx(0.01**2 + by_depth)
    assert reading_variance_of(0.5, 0.4, 1.0, 10.0, False) == pytest.approx(0.04**2)
    assert reading_variance_of(0.0, 0.4, 1.0, 10.0, True) == 0.0


def test_each_part_is_what_it_says_at_two_panels() -> None:
    """Worked by hand: 1 and 2 m wide, 0.5 and 0.25 m deep, 0.4 and -0.2 m/s."""
    assert readings_variance(PANELS, [0.01, 0.02]) == pytest.approx(0.01 + 4 * 0.02)
    assert widths_variance(PANELS, [0.2, -0.05], 1.0) == pytest.approx(0.002**2 + 0.001**2)
    head = (0.4**3 + 2 * 0.2**3) / (2 * 9.80665)
    assert rod_variance(PANELS, VELOCITY) == pytest.approx(
        (0.006 * (0.4 + 2 * 0.2)) ** 2 + (0.2 * head) ** 2
    )
    assert zero_variance(PANELS, DEPTH) == pytest.approx((0.003 * (0.5 + 2 * 0.25)) ** 2)


def test_a_rating_errs_by_the_velocity_and_the_same_way_at_both_panels() -> None:
    """1.7 % of 0.2 less 2.25 % of 0.1 m³/s by the group table, 0.7 and 1.125 % by its own."""
    flows = [0.2, -0.05]
    assert meter_variance(PANELS, flows, VELOCITY, False) == pytest.approx(0.00115**2)
    assert meter_variance(PANELS, flows, VELOCITY, True) == pytest.approx(0.000275**2)


def test_surfaces_have_a_common_profile_of_their_own() -> None:
    """1.5 % of 0.1 m³/s; with the second panel at the surface 1.5 % of 0.2 and 4 % of 0.1."""
    flows = [0.2, -0.05]
    assert common_profile_variance(PANELS, flows, [0.0, 0.0]) == pytest.approx(0.0015**2)
    assert common_profile_variance(PANELS, flows, [0.0, 1.0]) == pytest.approx(0.005**2)


def test_a_common_profile_adds_up_over_its_panels() -> None:
    """1.5 % of 0.2 and 0.3, 4 % of 0.1 and 0.4 m³/s: 0.0075 and 0.02 m³/s."""
    variance = common_profile_variance([1.0] * 4, [0.2, 0.1, 0.3, 0.4], [0.0, 1.0, 0.0, 1.0])
    assert variance == pytest.approx(0.0075**2 + 0.02**2)


def test_profiles_differ_by_roughness_and_points_and_share_eddies() -> None:
    """2 % and a tenth of the root; 7/15 of that with two points, 2.4 times it at the surface.

    Verticals nearer than 1.25 mean depths, here 1/3 m, share them.
    """
    assert profile_deviation(0.25) == pytest.approx(0.02 + 0.05)
    assert profile_share(1.0, False) == 1.0
    assert profile_share(2.0, False) == pytest.approx(7 / 15)
    assert profile_share(1.0, True) == 2.4
    assert profile_length(PANELS, DEPTH) == pytest.approx(1.25 / 3)


def test_characters_are_numbered_over_shapes_unevenness_and_its_lengths() -> None:
    """The order of a product of the three."""
    every = list(product(SHAPE_LENGTHS, UNEVENNESS, UNEVENNESS_LENGTHS_M))

    assert len(every) == 54
    assert every == [
        (shape_length_of(k), unevenness_of(k), unevenness_length_of(k)) for k in range(54)
    ]


def test_weights_are_ratios_of_likelihoods() -> None:
    """The likeliest weighs 1, one by e² less 0.135, one by a millionth nothing."""
    assert weight_of(-3.0, -3.0) == 1.0
    assert weight_of(-5.0, -3.0) == pytest.approx(0.1353352832)
    assert weight_of(-20.0, -3.0) == 0.0
    assert least_variance(0.5) == pytest.approx(1e-8)
    assert weighted_sum([0.25, 0.75], [1.0, 2.0]) == 1.75
    assert total_of([0.25, 0.75]) == 1.0


def test_what_is_likely_before_anything_is_read_is_numbered_like_the_characters() -> None:
    """Of the fitted weights the first, the next unevenness, the next shape and the last.

    The smoothest bed of all is the least likely but for two, a rough one the likeliest.
    """
    assert [prior_weight(k) for k in (0, 2, 3, 18, 53)] == [0.03, 0.024, 0.1, 0.34, 33.0]
    assert max(range(54), key=prior_weight) == 53


def test_a_mean_is_over_the_width_wherever_the_tape_begins() -> None:
    """The triangle 2 high from 1 to 5 m has the mean 1; 1.25 m² over 4 m are 0.3125 m deep."""
    assert mean_unit_discharge([1.0, 3.0, 5.0], [0.0, 2.0, 0.0]) == 1.0
    assert zero_variance([1.0, 3.0], [0.5, 0.5]) == pytest.approx(0.006**2)
    assert profile_length([1.0, 3.0], [0.5, 0.25]) == pytest.approx(1.25 * 0.3125)
