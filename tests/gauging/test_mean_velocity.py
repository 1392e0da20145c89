import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.gauging.faults import InputRefused
from bankside.gauging.mean_velocity import mean_velocity
from bankside.gauging.records import PointReading, RatingPart, Vertical


def _of(*points: tuple[float | None, float]) -> tuple[float, str]:
    readings = tuple(PointReading(value, fraction) for fraction, value in points)
    mean = mean_velocity(Vertical(1, 1, readings), (), 1.0)
    return mean.value_ms, mean.velocity_from


@pytest.mark.parametrize(
    ("points", "expected", "method"),
    [
        ([(None, 0.7)], 0.7, "measured"),
        ([(0.6, 0.7)], 0.7, "one point 0.6"),
        ([(0.5, 0.7)], 0.95 * 0.7, "one point 0.5"),
        ([(0.2, 0.7)], 0.87 * 0.7, "one point 0.2"),
        ([(0.0, 0.7)], 0.85 * 0.7, "surface"),
        ([(0.8, 0.4), (0.2, 0.6)], 0.5, "two points"),
        ([(0.2, 0.6), (0.6, 0.5), (0.8, 0.2)], (0.6 + 2 * 0.5 + 0.2) / 4, "three points"),
        (
            [(0, 1), (0.2, 0.9), (0.6, 0.7), (0.8, 0.5), (1, 0.1)],
            (1 + 3 * 0.9 + 3 * 0.7 + 2 * 0.5 + 0.1) / 10,
            "five points",
        ),
        (
            [(0, 1), (0.2, 0.9), (0.4, 0.8), (0.6, 0.7), (0.8, 0.5), (1, 0.1)],
            (1 + 2 * (0.9 + 0.8 + 0.7 + 0.5) + 0.1) / 10,
            "six points",
        ),
        # 0.3 × 0.8 above, (0.8 + 0.6)/2 × 0.4 between, 0.6 × 0.3 × 6/7 below.
        ([(0.3, 0.8), (0.7, 0.6)], 0.24 + 0.28 + 0.18 * 6 / 7, "integration"),
    ],
)
def test_the_fractions_choose_the_method(
    points: list[tuple[float | None, float]], expected: float, method: str
) -> None:
    """Each set of points has its method, worked out here by hand, in any order of the points."""
    for order in (points, points[::-1]):
        value, name = _of(*order)

        assert value == pytest.approx(expected, rel=1e-14)
        assert name == method


def test_fractions_from_heights_above_the_bed_find_their_method() -> None:
    """1 - 0.8 is not 0.2 to the last digit and still is the point at 0.2 of the depth."""
    assert _of((1 - 0.8, 0.6), (1 - 0.2, 0.4)) == (0.5, "two points")


@pytest.mark.parametrize("fraction", [0.37, 0.4, 0.8, 1.0])
def test_another_single_point_gives_no_mean(fraction: float) -> None:
    """A point from which nobody knows the mean is refused by its fraction."""
    with pytest.raises(InputRefused, match=rf"\(got {fraction:g}\)"):
        _of((fraction, 0.4))


def test_a_mean_and_points_do_not_mix() -> None:
    """A mean of the vertical beside points of it would be counted twice."""
    with pytest.raises(InputRefused, match="got both"):
        _of((None, 0.4), (0.6, 0.4))


def test_repeated_readings_count_as_their_mean() -> None:
    """Two readings at 0.2 weigh as much as one at 0.8, and the note gives number and spread."""
    readings = (PointReading(0.6, 0.2), PointReading(0.8, 0.2, 40), PointReading(0.3, 0.8))
    mean = mean_velocity(Vertical(1, 1, readings), (), 1.0)

    assert mean.value_ms == pytest.approx((0.7 + 0.3) / 2, rel=1e-15)
    assert mean.velocity_from == "two points"
    assert mean.assumptions == (
        "The velocity at 0.2 of the depth was read 2 times at {at}, from 0.6 to 0.8 {velocity}: "
        "the mean, 0.7 {velocity}, is used.",
    )


@pytest.mark.parametrize(
    ("seconds", "expected", "weighted"),
    [
        ((40, 40, 40), 0.5, False),
        ((20, 20, 80), (0.4 * 20 + 0.5 * 20 + 0.6 * 80) / 120, True),
        ((20, None, 80), 0.5, False),
    ],
)
def test_repeats_are_weighted_by_their_times(
    seconds: tuple[float | None, ...], expected: float, weighted: bool
) -> None:
    """Where each says how long it took, the mean is that over the whole time."""
    readings = zip((0.4, 0.5, 0.6), seconds, strict=True)
    vertical = Vertical(1, 1, tuple(PointReading(v, None, t) for v, t in readings))
    mean = mean_velocity(vertical, (), 1.0)

    assert mean.value_ms == pytest.approx(expected, rel=1e-15)
    [note] = mean.assumptions
    assert "The velocity of the vertical was read 3 times" in note
    assert ("weighted by time" in note) is weighted


def test_counts_in_two_goes_are_counts_in_one() -> None:
    """Under a straight rating, the weighted mean is the velocity of all counts in all the time."""
    goes = (PointReading(None, 0.6, 20, 10), PointReading(None, 0.6, 60, 50))
    once = (PointReading(None, 0.6, 80, 60),)
    rating = (RatingPart(0.7, 0.01),)

    assert mean_velocity(Vertical(1, 1, goes), rating, 1.0).value_ms == pytest.approx(
        mean_velocity(Vertical(1, 1, once), rating, 1.0).value_ms, rel=1e-15
    )


@pytest.mark.parametrize("fractions", [(0.8, 0.9), (0.61, 0.8), (0.7, 1.0)])
def test_points_that_leave_out_the_upper_water_give_no_mean(fractions: tuple[float, ...]) -> None:
    """Nothing read at 0.6 or above says too little; the refusal names what would be right."""
    with pytest.raises(InputRefused, match="would be right") as caught:
        _of(*((at, 0.4) for at in fractions))
    assert ", ".join(f"{at:g}" for at in fractions) in str(caught.value)


@pytest.mark.parametrize(
    ("fractions", "parts"),
    [
        (
            (0.3, 0.7),
            "of its points: constant from 0.3 of the depth up to the surface, and falling from "
            "0.7 to 0 at the bed by a power law.",
        ),
        ((0.0, 0.9), "of its points: falling from 0.9 to 0 at the bed by a power law."),
        ((0.4, 1.0), "of its points: constant from 0.4 of the depth up to the surface."),
        ((0.0, 0.3, 1.0), "The mean velocity at {at} is the integral of its points."),
        ((0.6, 0.8), "Nothing was read in the upper half, so it is probably several percent"),
    ],
)
def test_an_integral_says_what_it_takes_for_granted(
    fractions: tuple[float, ...], parts: str
) -> None:
    """Above the topmost point, below the lowest, and when too little was read above."""
    vertical = Vertical(1, 1, tuple(PointReading(0.4, at) for at in fractions))
    [note] = mean_velocity(vertical, (), 1.0).assumptions

    assert parts in note
    assert ("upper half" in note) == (fractions[0] >= 0.5)


def test_an_angle_takes_the_cosine() -> None:
    """Only what crosses the section at right angles counts; a coefficient is that cosine."""
    reading = (PointReading(0.5),)

    by_angle = mean_velocity(Vertical(1, 1, reading, angle=-30), (), 1.0)
    by_coefficient = mean_velocity(Vertical(1, 1, reading, angle_coefficient=0.8), (), 1.0)
    assert by_angle.value_ms == pytest.approx(0.5 * math.sqrt(3) / 2, rel=1e-15)
    assert by_coefficient.value_ms == 0.4


RATING = (RatingPart(0.7, 0.01),)
TWO_PARTS = (RatingPart(0.7, 0.01, up_to=1.0), RatingPart(0.68, 0.03, up_to=3.0))


@pytest.mark.parametrize(
    ("rating", "counts", "expected"),
    [
        (RATING, 20, 0.7 * 0.5 + 0.01),
        (RATING, 0, 0.0),
        (TWO_PARTS, 20, 0.7 * 0.5 + 0.01),
        (TWO_PARTS, 40, 0.7 * 1.0 + 0.01),
        (TWO_PARTS, 60, 0.68 * 1.5 + 0.03),
        (TWO_PARTS, 160, 0.68 * 4.0 + 0.03),
    ],
)
def test_counts_go_through_the_rating(
    rating: tuple[RatingPart, ...], counts: float, expected: float
) -> None:
    """Revolutions in 40 s become a velocity; a rotor that stands still says 0."""
    vertical = Vertical(1, 1, (PointReading(fraction=0.6, seconds=40, counts=counts),))

    assert mean_velocity(vertical, rating, 1.0).value_ms == pytest.approx(expected, rel=1e-15)


def test_a_called_value_stands_before_its_counts() -> None:
    """Where the meter showed a velocity, the counts beside it are not used."""
    vertical = Vertical(1, 1, (PointReading(0.3, 0.6, 40, 20),))

    assert mean_velocity(vertical, RATING, 1.0).value_ms == 0.3


@pytest.mark.parametrize(
    ("called", "noted"),
    [(0.36, False), (0.343, False), (0.341, True), (0.38, True), (-0.37, False)],
)
def test_a_called_value_that_its_counts_deny_is_noted(called: float, noted: bool) -> None:
    """More than 5 % from 0.36 by the rating, in either direction: both figures are said."""
    vertical = Vertical(1, 1, (PointReading(called, 0.6, 40, 20),))
    mean = mean_velocity(vertical, RATING, 1.0)

    assert mean.value_ms == called
    sentence = (
        f"The velocity called at {{at}}, {called:.4g} {{velocity}}, is used, though its counts "
        "give 0.36 {velocity} by the rating."
    )
    assert mean.assumptions == ((sentence,) if noted else ())


def test_counts_without_a_rating_give_no_velocity() -> None:
    """A vertical that is not part of a gauging may have counts that nothing turns into one."""
    with pytest.raises(InputRefused, match="counts and a rating"):
        mean_velocity(Vertical(1, 1, (PointReading(None, 0.6, 40, 20),)), (), 1.0)


def test_a_rating_holds_up_to_its_end() -> None:
    """At the last number of revolutions that the rating reaches, nothing is extended."""
    vertical = Vertical(1, 1, (PointReading(None, 0.6, 40, 120),))

    assert mean_velocity(vertical, TWO_PARTS, 1.0).assumptions == ()


@pytest.mark.parametrize(
    ("vertical", "says"),
    [
        (Vertical(1, 1, (PointReading(0.5, 0.0),)), "0.85 of the surface velocity"),
        (Vertical(1, 1, (PointReading(0.5, 0.5),)), "0.95 of the velocity at half the depth"),
        (Vertical(1, 1, (PointReading(0.5, 0.2),)), "0.87 of the velocity at 0.2 of the depth"),
        (Vertical(1, 1, (PointReading(0.5, 0.1), PointReading(0.4, 0.9))), "integral"),
        (Vertical(1, 1, (PointReading(None, 0.6, 40, 0),)), "did not turn"),
        (Vertical(1, 1, (PointReading(None, 0.6, 40, 400),)), "faster"),
    ],
)
def test_an_assumption_is_said(vertical: Vertical, says: str) -> None:
    """Coefficients, a still rotor and the end of a rating are put in a sentence."""
    [sentence] = mean_velocity(vertical, (RatingPart(0.7, 0.01, up_to=5),), 1.0).assumptions

    assert says in sentence
    assert "{at}" in sentence


@given(
    st.sampled_from([(None,), (0.6,), (0.0,), (0.2, 0.8), (0.2, 0.6, 0.8), (0.1, 0.45, 0.9)]),
    st.floats(-3, 3),
)
def test_units_scale_the_velocity(fractions: tuple[float | None, ...], value: float) -> None:
    """A velocity called in feet is that in metres times 0.3048, with its sign, by any method."""
    vertical = Vertical(1, 1, tuple(PointReading(value, at) for at in fractions))
    metres = mean_velocity(vertical, (), 1.0).value_ms

    assert mean_velocity(vertical, (), 0.3048).value_ms == pytest.approx(0.3048 * metres, rel=1e-14)
    assert metres * value >= 0
