"""The prior of the model between verticals, and how it is fitted."""

import numpy as np
import pytest

from bankside.gauging.between import CHARACTERS
from bankside.kernel import between_prior
from calibration.changed import changed, prior_rows
from calibration.fit import PSEUDO_COUNT, fitted_prior


def test_the_prior_has_one_figure_for_each_character_and_makes_up_the_whole() -> None:
    """Percents of two digits, none of them 0, add up to 100 but for their rounding."""
    weights = [between_prior.prior_weight(i) for i in range(len(CHARACTERS))]

    assert sum(len(row) for row in between_prior._PRIOR) == len(CHARACTERS)
    assert min(weights) > 0.0
    assert sum(weights) == pytest.approx(100.0, abs=1.0)


def test_a_prior_that_readings_leave_no_doubt_about_is_how_often_they_say_so() -> None:
    """75 gaugings of one character and 25 of another give three quarters and a quarter."""
    evidence = np.array([[0.0, -90.0, -90.0]] * 75 + [[-90.0, -90.0, 0.0]] * 25)
    whole = 100.0 + 3.0 * PSEUDO_COUNT
    expected = [(75.0 + PSEUDO_COUNT) / whole, PSEUDO_COUNT / whole, (25.0 + PSEUDO_COUNT) / whole]

    assert fitted_prior(evidence) == pytest.approx(expected)


def test_readings_that_tell_nothing_leave_all_characters_alike() -> None:
    """Equal evidence keeps the flat table, however large it is."""
    assert fitted_prior(np.full((40, 4), 1234.5)) == pytest.approx([0.25] * 4)


def test_what_is_changed_for_a_while_is_put_back() -> None:
    """Another table counts inside, the shipped one afterwards, whatever went wrong inside."""
    shipped = between_prior.prior_weight(0)
    with pytest.raises(KeyError), changed(prior_rows([7.0] * len(CHARACTERS))):
        assert between_prior.prior_weight(0) == 7.0
        raise KeyError

    assert between_prior.prior_weight(0) == shipped
