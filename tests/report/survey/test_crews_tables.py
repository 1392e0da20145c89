"""Words of the tables of crews: what stands out, and how rough the figures are."""

from __future__ import annotations

import pytest

from bankside.report.survey.crews_tables import groups_table, spread_words
from bankside.survey.crews.comparison import QUANTITIES, Compared
from bankside.survey.crews.outlying import cochran, grubbs, standings
from bankside.survey.crews.precision import Group, precision_of


def compared(*values: tuple[float, ...]) -> Compared:
    """A comparison of crews that gauged so."""
    groups = [Group(f"crew {n}", found) for n, found in enumerate(values, 1)]
    precision = precision_of(groups)
    quantity = QUANTITIES["discharge"]
    tests = cochran(groups), grubbs(groups)
    return Compared("crew", quantity, precision, standings(precision), *tests)


def test_h_and_k_are_above_a_line_and_no_outliers() -> None:
    """ISO 5725-2 keeps straggler and outlier for the tests of Cochran and Grubbs."""
    found = compared(*((1.0 + n / 1000, 1.001 + n / 1000) for n in range(9)), (1.5, 1.501))
    words = [row[-1].text for row in groups_table(found).rows]

    assert words[-1] == "above the 1 % line for h"
    assert words[:-1] == ["no"] * 9
    assert any("an outlier" in sentence for sentence in spread_words(found))


@pytest.mark.parametrize(
    ("count", "said"),
    [(2, "From 2 crews: take"), (7, "From 7 crews: take"), (8, None), (1, None)],
)
def test_few_crews_are_a_rough_figure(count: int, said: str | None) -> None:
    """Two crews twice each leave one degree of freedom for what they differ by."""
    words = spread_words(compared(*((1.0 + n / 100, 1.01 + n / 90) for n in range(count))))

    assert any(said in one for one in words) if said else not any("rough" in one for one in words)
    assert any("has 1 degree of freedom" in one for one in words) == (count == 2)


def test_grubbs_gives_no_all_clear_among_three() -> None:
    """One of three can be off by 1.1547 at most, below the 1 % line: silence there says nothing."""
    three = spread_words(compared((1.0, 1.01), (1.02, 1.01), (1.06, 1.07)))
    four = spread_words(compared((1.0, 1.01), (1.02, 1.01), (1.03, 1.02), (1.04, 1.03)))

    assert any("among 3 this test can find next to nothing" in one for one in three)
    assert not any("next to nothing" in one for one in four)
