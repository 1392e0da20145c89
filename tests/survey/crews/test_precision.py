"""Repeatability and reproducibility: printed examples, another package, and laws that must hold."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from bankside.survey.crews.outlying import (
    cochran,
    cochran_critical,
    grubbs,
    grubbs_critical,
    h_critical,
    k_critical,
    standings,
)
from bankside.survey.crews.precision import Group, precision_of

# ISO 5725-2:1994 Annex B.1, determination of the sulfur content of coal, level 1 (from memory).
COAL = (
    *((0.71, 0.71, 0.70, 0.71), (0.69, 0.67, 0.68), (0.66, 0.65, 0.69), (0.67, 0.65, 0.66)),
    *((0.70, 0.69, 0.66, 0.71, 0.69), (0.73, 0.74, 0.73), (0.71, 0.71, 0.69), (0.70, 0.65, 0.68)),
)
# ASTM E691, glucose in serum, material A (from memory).
GLUCOSE = (
    *((41.03, 41.45, 41.37), (41.17, 42.00, 41.15), (41.01, 40.68, 42.66)),
    *((39.37, 42.37, 42.63), (41.88, 41.19, 41.32), (43.28, 40.50, 42.28)),
    *((41.08, 41.27, 39.02), (43.36, 42.65, 41.72)),
)

Table = tuple[tuple[float, ...], ...]


def groups(table: Table) -> list[Group]:
    """Groups that are called by their numbers."""
    return [Group(str(number), values) for number, values in enumerate(table, 1)]


def test_the_sulfur_of_coal_is_as_printed() -> None:
    """The worked example of the standard, with unlike numbers of repeats: 0.690, 0.015, 0.026."""
    found = precision_of(groups(COAL))

    assert found.count == 27
    assert found.mean == pytest.approx(0.690, abs=5e-4)
    assert found.repeatability == pytest.approx(0.015, abs=5e-4)
    assert found.reproducibility == pytest.approx(0.026, abs=5e-4)


def test_the_glucose_of_serum_is_as_printed() -> None:
    """Here laboratories differ no more than repeats: s_L is 0 and s_R is s_r."""
    found = precision_of(groups(GLUCOSE))

    assert found.mean == pytest.approx(41.5183, abs=5e-5)
    assert found.repeatability == pytest.approx(1.0632, abs=5e-5)
    assert found.between == 0.0
    assert found.reproducibility == found.repeatability
    h = [standing.h.value for standing in standings(found) if standing.h]
    printed = [-0.39, -0.13, -0.11, -0.10, -0.09, 0.83, -1.75, 1.75]
    assert h == pytest.approx(printed, abs=5e-3)


TABLES = st.lists(
    st.lists(st.integers(-500, 500).map(lambda n: n / 10), min_size=1, max_size=6).map(tuple),
    min_size=2,
    max_size=9,
).filter(lambda table: any(len(set(row)) > 1 for row in table))


@given(TABLES)
def test_mean_squares_are_those_of_an_analysis_of_variance(table: list[tuple[float, ...]]) -> None:
    """SciPy's one-way F is the mean square between groups over s_r²; its s_L² follows by hand."""
    found = precision_of(groups(tuple(table)))
    assert found.repeatability is not None
    within = found.repeatability**2
    ratio = float(stats.f_oneway(*table).statistic)
    counts = [len(row) for row in table]
    weight = (sum(counts) - sum(n * n for n in counts) / sum(counts)) / (len(table) - 1)

    expected = math.sqrt(max(0.0, within * (ratio - 1.0) / weight))
    assert found.between == pytest.approx(expected, rel=1e-6, abs=1e-5)
    pooled = sum(float(np.var(row, ddof=1)) * (len(row) - 1) for row in table if len(row) > 1)
    assert within == pytest.approx(pooled / (sum(counts) - len(table)))


def test_offsets_that_were_put_in_come_out() -> None:
    """Of 4,000 crews with offsets of 3 and repeats of 2, both are found again within 5 %."""
    rng = np.random.default_rng(1)
    table = [
        tuple(float(v) for v in 100 + rng.normal(0, 3) + rng.normal(0, 2, 3)) for _ in range(4000)
    ]
    found = precision_of(groups(tuple(table)))

    assert found.repeatability == pytest.approx(2.0, rel=0.05)
    assert found.between == pytest.approx(3.0, rel=0.05)
    assert found.reproducibility == pytest.approx(math.sqrt(13.0), rel=0.05)


@given(TABLES, st.floats(0.1, 10.0))
def test_another_unit_changes_deviations_alike(
    table: list[tuple[float, ...]], factor: float
) -> None:
    """Twice the unit, half the deviation, and the same h."""
    one = precision_of(groups(tuple(table)))
    other = precision_of(groups(tuple(tuple(factor * v for v in row) for row in table)))

    for name in ("mean", "repeatability", "between", "reproducibility"):
        expected = factor * getattr(one, name)
        assert getattr(other, name) == pytest.approx(expected, rel=1e-5, abs=1e-4)


def test_without_repeats_nothing_is_said_of_repeatability() -> None:
    """Each crew once: the spread of all is what reproducibility shows itself by."""
    found = precision_of(groups(((1.0,), (2.0,), (4.0,))))

    assert found.repeatability is None
    assert found.between is None
    assert found.reproducibility == pytest.approx(float(np.std([1, 2, 4], ddof=1)))


def test_one_crew_alone_tells_its_repeats() -> None:
    """There is nobody to differ from."""
    found = precision_of(groups(((1.0, 3.0),)))

    assert found.repeatability == pytest.approx(math.sqrt(2.0))
    assert found.reproducibility is None
    assert standings(found)[0].h is None
    assert standings(found)[0].k is None


def test_nothing_has_no_precision() -> None:
    """Without a measurement there is nothing to say."""
    with pytest.raises(ValueError, match="must have a measurement"):
        precision_of([])


# Tables 4 and 5 of ISO 5725-2:1994 (from memory): level, groups, repeats, value.
@pytest.mark.parametrize(
    ("part", "p", "n", "printed"),
    [
        *((0.05, 8, 2, 0.680), (0.01, 8, 2, 0.794), (0.05, 8, 3, 0.516), (0.01, 8, 3, 0.615)),
        *((0.05, 5, 2, 0.841), (0.01, 5, 2, 0.928), (0.05, 10, 3, 0.445), (0.01, 10, 3, 0.536)),
    ],
)
def test_critical_values_of_cochran_are_as_printed(
    part: float, p: int, n: int, printed: float
) -> None:
    """Worked out from F, to the three decimals of the table."""
    assert cochran_critical(p, n, part) == pytest.approx(printed, abs=1.5e-3)


@pytest.mark.parametrize(
    ("part", "p", "printed"),
    [
        *((0.05, 3, 1.155), (0.05, 5, 1.715), (0.05, 8, 2.126), (0.05, 10, 2.290)),
        *((0.01, 3, 1.155), (0.01, 5, 1.764), (0.01, 8, 2.274), (0.01, 10, 2.482)),
    ],
)
def test_critical_values_of_grubbs_are_as_printed(part: float, p: int, printed: float) -> None:
    """Worked out from t, to a unit of the last decimal of the table."""
    assert grubbs_critical(p, part) == pytest.approx(printed, abs=1e-3)


@pytest.mark.parametrize("part", [0.01, 0.05])
def test_h_and_k_are_exceeded_as_often_as_they_say(part: float) -> None:
    """Drawn 200,000 times: of 6 crews with 3 repeats each, one crew's h and k, and Grubbs' G."""
    rng = np.random.default_rng(5)
    drawn = rng.normal(size=(200_000, 6, 3))
    means = drawn.mean(axis=2)
    h = (means[:, 0] - means.mean(axis=1)) / means.std(axis=1, ddof=1)
    variances = drawn.var(axis=2, ddof=1)
    k = np.sqrt(variances[:, 0] / variances.mean(axis=1))
    g = (np.abs(means - means.mean(axis=1, keepdims=True))).max(axis=1) / means.std(axis=1, ddof=1)
    c = variances.max(axis=1) / variances.sum(axis=1)

    assert float((np.abs(h) > h_critical(6, part)).mean()) == pytest.approx(part, rel=0.08)
    assert float((k > k_critical(2, 10, part)).mean()) == pytest.approx(part, rel=0.08)
    assert float((g > grubbs_critical(6, part)).mean()) == pytest.approx(part, rel=0.08)
    assert float((c > cochran_critical(6, 3, part)).mean()) == pytest.approx(part, rel=0.08)


def test_h_of_many_crews_is_a_normal_quantile() -> None:
    """With thousands of crews the own mean no longer counts."""
    assert h_critical(5000, 0.05) == pytest.approx(stats.norm.isf(0.025), rel=1e-3)


def test_the_crew_that_is_off_and_the_crew_that_spreads_are_named() -> None:
    """One crew reads a tenth more than the others, another repeats itself ten times worse."""
    table = [(1.00, 1.01, 0.99), (1.01, 1.00, 1.02), (0.99, 1.00, 0.98), (1.00, 1.02, 1.01)]
    off = groups((*table, (1.30, 1.31, 1.29)))
    wide = groups((*table, (0.8, 1.0, 1.2)))

    found = grubbs(off)
    assert found is not None
    assert (found.group.name, found.found.word) == ("5", "outlier")
    spread = cochran(wide)
    assert spread is not None
    assert (spread.group.name, spread.found.word) == ("5", "outlier")
    last = standings(precision_of(wide))[-1]
    assert last.k is not None
    assert last.k.word == "outlier"


def test_crews_that_agree_to_the_last_digit_give_no_test() -> None:
    """Where nothing differs nobody stands out."""
    same = groups(((1.0, 1.0), (1.0, 1.0), (1.0, 1.0)))

    assert cochran(same) is None
    assert grubbs(same) is None
    assert all(s.h is None and s.k is None for s in standings(precision_of(same)))
