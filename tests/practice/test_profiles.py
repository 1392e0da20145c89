"""The velocity over the depth of a vertical."""

import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.practice.making import make_stream
from bankside.practice.profile import Profile
from bankside.practice.section_types import SECTION_TYPES

# Ratio of a method to the true mean for a power law with exponent 1/m, as the reference derives it
# from the law itself: the point at 0.6, and the two points.
POWER_LAW = {
    4.0: (0.9941, 1.0091),
    6.0: (1.0014, 1.0081),
    7.0: (1.0026, 1.0076),
    10.0: (1.0037, 1.0061),
}

profiles = st.builds(Profile, exponent=st.floats(4.0, 10.0), logarithmic=st.booleans())
amplitudes = st.tuples(*[st.floats(-0.2, 0.2)] * 3)


@pytest.mark.parametrize("exponent", sorted(POWER_LAW))
def test_methods_err_on_a_power_law_as_derived(exponent: float) -> None:
    """One point and two points come to the ratios that integrating the law by hand gives."""
    profile = Profile(exponent, logarithmic=False)
    one, two = POWER_LAW[exponent]

    assert profile.at(0.6) == pytest.approx(one, abs=6e-5)
    assert (profile.at(0.2) + profile.at(0.8)) / 2.0 == pytest.approx(two, abs=6e-5)


@given(profile=profiles, modes=amplitudes)
def test_the_mean_over_the_depth_is_the_mean_of_the_vertical(
    profile: Profile, modes: tuple[float, float, float]
) -> None:
    """Whatever the profile and its departures, the mean over the depth is 1."""
    n = 2000
    mean = statistics.fmean(profile.at((i + 0.5) / n, modes) for i in range(n))

    assert mean == pytest.approx(1.0, abs=5e-4)


@given(profile=profiles, fraction=st.floats(0.0, 0.98))
def test_water_is_slower_towards_the_bed(profile: Profile, fraction: float) -> None:
    """Without departures the velocity falls from the surface to the bed, where it is 0."""
    assert profile.at(fraction) >= profile.at(fraction + 0.01) >= 0.0
    assert profile.at(1.0) == 0.0


def test_points_err_as_published_over_all_types() -> None:
    """One point errs by 7.5 % and two by 3.5 %, as ISO 748:2007 Annex E has it (from memory).

    Every type counts alike, so this is no more than the right size: a fifth of either.
    """
    one, two = [], []
    for kind in SECTION_TYPES:
        for seed in range(60):
            stream = make_stream(kind, seed)
            for part in range(1, 10):
                y = stream.left + 0.1 * part * stream.drawn["width"]
                mean = stream.mean_speed_at(y)
                if stream.depth_at(y) > 0.1 and mean > 0.03:
                    one.append(stream.speed_at(y, 0.6) / mean - 1.0)
                    both = (stream.speed_at(y, 0.2) + stream.speed_at(y, 0.8)) / 2.0
                    two.append(both / mean - 1.0)

    assert statistics.pstdev(one) == pytest.approx(0.075, rel=0.2)
    assert statistics.pstdev(two) == pytest.approx(0.035, rel=0.2)
