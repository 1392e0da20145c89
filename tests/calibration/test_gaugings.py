"""Simulated gaugings for fitting and judging: repeatable, apart from each other, of all kinds."""

from itertools import pairwise

import pytest

from bankside.practice.section_types import SECTION_TYPES
from calibration.gaugings import CREWS, FITTING, JUDGING, VERTICALS, Case, cases
from calibration.judge import OF_EACH
from calibration.tried import TRIED_OF_EACH, TRYING


def test_a_case_gives_the_same_record_every_time() -> None:
    """Stream and record follow from the case alone."""
    case = Case("riffle", 15, "drawn", 4711)

    assert case.gauging(case.stream()) == case.gauging(case.stream())


def test_nothing_that_judges_is_fitted_on() -> None:
    """No stream of one purpose has the seed of another, whichever seeds are passed over."""
    last = [max(case.seed for case in cases(first, 100)) + 99 for first in (FITTING, TRYING)]

    assert FITTING < last[0] < TRYING < last[1] < JUDGING
    assert TRIED_OF_EACH <= 100


def test_more_than_ten_thousand_are_judged() -> None:
    """Every section type, number of verticals and crew is judged, all alike often."""
    judged = list(cases(JUDGING, OF_EACH))

    assert len(judged) == len(SECTION_TYPES) * len(VERTICALS) * len(CREWS) * OF_EACH >= 10_000
    assert len({case.seed for case in judged}) == len(judged)


@pytest.mark.parametrize(("seed", "even"), [(0, False), (1600, False), (200, True), (700, True)])
def test_one_in_four_has_unequal_distances(seed: int, even: bool) -> None:
    """Gaps between verticals are alike to a mark of the tape, or plainly are not."""
    case = Case("run", 12, "careful", seed)
    gauging = case.gauging(case.stream())
    tapes = [vertical.tape for vertical in gauging.channels[0].verticals[1:-1]]
    gaps = [high - low for low, high in pairwise(tapes)]

    assert (max(gaps) - min(gaps) < 0.1001) == even
