"""Quantiles of t and F, held against SciPy."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import special, stats

from bankside.survey.crews.distributions import beta_share, f_above, t_above

DEGREES = st.integers(1, 400)
PARTS = st.floats(0.0005, 0.4)


@given(x=st.floats(0.0, 1.0), a=st.floats(0.5, 200.0), b=st.floats(0.5, 200.0))
def test_the_incomplete_beta_function_is_scipys(x: float, a: float, b: float) -> None:
    """To ten digits of the whole, over the degrees of freedom that crews can have.

    Close to 1 SciPy loses digits (2 asin(sqrt(x)) / pi for two halves); from the other side none.
    """
    expected = special.betainc(a, b, x) if x <= 0.5 else 1 - special.betainc(b, a, 1 - x)

    assert beta_share(x, a, b) == pytest.approx(expected, rel=1e-9, abs=1e-12)


@given(part=PARTS, numerator=DEGREES, denominator=DEGREES)
def test_quantiles_of_f_are_scipys(part: float, numerator: int, denominator: int) -> None:
    """Nine digits are far more than a test of outliers needs."""
    expected = stats.f.isf(part, numerator, denominator)

    assert f_above(part, numerator, denominator) == pytest.approx(expected, rel=1e-8)


@given(part=PARTS, degrees=DEGREES)
def test_quantiles_of_t_are_scipys(part: float, degrees: int) -> None:
    """One side of t is half of both sides of F."""
    assert t_above(part, degrees) == pytest.approx(stats.t.isf(part, degrees), rel=1e-8)


@pytest.mark.parametrize(("part", "degrees"), [(0.0, 3.0), (1.0, 3.0), (0.1, 0.0)])
def test_what_has_no_quantile_is_refused(part: float, degrees: float) -> None:
    """A part is a probability, and without degrees of freedom there is no distribution."""
    with pytest.raises(ValueError, match="degrees of freedom"):
        f_above(part, degrees, 4.0)


def test_the_lower_side_of_t_is_refused() -> None:
    """Quantiles below 0 are nobody's critical value."""
    with pytest.raises(ValueError, match="below one half"):
        t_above(0.6, 5)
