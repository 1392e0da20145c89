import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.kernel.iso_tables import (
    exposure_uncertainty,
    meter_uncertainty_group,
    meter_uncertainty_individual,
    profile_uncertainty,
    verticals_uncertainty,
)

SPEEDS = st.floats(0, 3)
SECONDS = st.floats(1, 400)
FRACTIONS = st.floats(0, 1)


@pytest.mark.parametrize(
    ("verticals", "percent"),
    [(6.0, 6.9), (12.0, 3.9), (22.0, 2.3), (33.0, 1.2), (104.0, 1.0), (4.0, 7.5), (1.0, 7.5)],
)
def test_between_the_numbers_of_verticals(verticals: float, percent: float) -> None:
    """By hand: 6 is a fifth of the way from 7.5 to 4.5; before and after the table it holds."""
    assert verticals_uncertainty(verticals) == pytest.approx(percent, rel=1e-12)


@pytest.mark.parametrize(
    ("velocity", "seconds", "fraction", "percent"),
    [
        # Half way from 0.20 to 0.30 m/s in the row of 60 s: (6 + 4) / 2.
        (0.25, 60.0, 0.6, 5.0),
        # 45 s is half way from 30 s (8) to 60 s (6) at 0.20 m/s.
        (0.20, 45.0, 0.6, 7.0),
        # Both at once: 0.25 m/s has 6.5 at 30 s and 5 at 60 s.
        (0.25, 45.0, 0.6, 5.75),
        # Half way down from 0.6 to 0.8 of the depth at 0.05 m/s: (20 + 30) / 2.
        (0.05, 60.0, 0.7, 25.0),
        # Slower, shorter and longer than the table: its nearest row.
        (0.01, 60.0, 0.2, 20.0),
        (0.05, 5.0, 0.2, 25.0),
        (0.05, 600.0, 0.2, 10.0),
        (0.05, 60.0, 0.0, 20.0),
        (0.05, 60.0, 1.0, 30.0),
    ],
)
def test_between_the_cells_for_exposure(
    velocity: float, seconds: float, fraction: float, percent: float
) -> None:
    """By hand: straight in velocity, in time and between the two tables."""
    found = exposure_uncertainty(velocity, seconds, fraction)

    assert found == pytest.approx(percent, rel=1e-9)


@pytest.mark.parametrize(
    ("uncertainty", "velocity", "percent"),
    [
        (meter_uncertainty_individual, 0.20, 1.125),
        (meter_uncertainty_group, 0.20, 2.25),
        (meter_uncertainty_group, 0.40, 1.7),
        # The last row is for faster than 0.50 m/s, so the figure steps down there.
        (meter_uncertainty_group, 0.50, 1.5),
        (meter_uncertainty_group, 0.51, 1.0),
        (meter_uncertainty_individual, 0.0, 10.0),
        (meter_uncertainty_group, 0.0, 10.0),
    ],
)
def test_between_the_rows_for_the_meter(
    uncertainty: Callable[[float], float], velocity: float, percent: float
) -> None:
    """By hand: half way from 0.15 to 0.25 m/s is half way from 1.25 to 1.0 percent."""
    assert uncertainty(velocity) == pytest.approx(percent, rel=1e-9)


@pytest.mark.parametrize(
    ("points", "percent"), [(1.0, 7.5), (2.0, 3.5), (3.0, 3.5), (4.0, 3.5), (5.0, 2.5), (6.0, 2.5)]
)
def test_three_points_are_no_better_than_two(points: float, percent: float) -> None:
    """A number of points that has no row has the figure of the row with fewer."""
    assert profile_uncertainty(points) == percent


@given(SPEEDS, SPEEDS, SECONDS, SECONDS, FRACTIONS)
def test_faster_and_longer_is_never_worse(
    one: float, other: float, short: float, long: float, fraction: float
) -> None:
    """Between the rows too the figure never rises with velocity or time."""
    slow, fast = sorted((one, other))
    short, long = sorted((short, long))

    best = exposure_uncertainty(fast, long, fraction)
    assert best <= exposure_uncertainty(slow, long, fraction) + 1e-9
    assert best <= exposure_uncertainty(fast, short, fraction) + 1e-9
    for meter in (meter_uncertainty_group, meter_uncertainty_individual):
        assert meter(fast) <= meter(slow) + 1e-9
    assert meter_uncertainty_individual(fast) <= meter_uncertainty_group(fast)


@pytest.mark.parametrize(
    ("uncertainty", "arguments"),
    [
        (verticals_uncertainty, (0.0,)),
        (verticals_uncertainty, (math.nan,)),
        (profile_uncertainty, (0.0,)),
        (exposure_uncertainty, (-0.1, 60.0, 0.6)),
        (exposure_uncertainty, (0.1, 0.0, 0.6)),
        (exposure_uncertainty, (0.1, 60.0, 1.1)),
        (exposure_uncertainty, (0.1, 60.0, -0.1)),
        (meter_uncertainty_group, (-0.1,)),
        (meter_uncertainty_individual, (math.nan,)),
    ],
)
def test_what_no_table_is_asked(
    uncertainty: Callable[..., float], arguments: tuple[float, ...]
) -> None:
    """No vertical, no time, a velocity by its sign or a point outside the water: refused."""
    with pytest.raises(ValueError, match=r"there must be|is given by|lies between"):
        uncertainty(*arguments)
