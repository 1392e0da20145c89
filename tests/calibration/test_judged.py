"""Intervals on simulated gaugings: how they are judged, and that they hold the truth."""

import math

import pytest

from bankside.gauging.compute import compute
from bankside.gauging.uncertainty import uncertainty_budgets
from calibration.gaugings import Case, cases
from calibration.judged import Interval, between_verticals, judged, ours_alone
from calibration.measures import figures, interval_score, score_against
from calibration.tried import by_ratio

TESTING = 20_000_000
"""Seeds beyond all others."""


def test_an_interval_of_95_percent_holds_the_truth_about_so_often() -> None:
    """Of 320 gaugings that nothing was fitted on, coverage is within three binomial deviations."""
    found = [ours_alone(case) for case in cases(TESTING, 2, crews=("perfect", "drawn"))]
    holds = [abs(one.error) <= one.intervals["between-verticals"].wide for one in found]
    deviation = math.sqrt(0.95 * 0.05 / len(found))

    assert len(found) == 320
    assert sum(holds) / len(found) == pytest.approx(0.95, abs=3.0 * deviation)


@pytest.mark.parametrize("crew", ["perfect", "careful", "drawn"])
def test_the_ours_alone_says_what_it_says_beside_the_others(crew: str) -> None:
    """The short way to the model's interval gives the figures of the whole way."""
    case = Case("cobble bed", 15, crew, TESTING)  # type: ignore[arg-type]
    alone, beside = ours_alone(case), judged(case)

    assert alone.error == beside.error
    assert alone.intervals["between-verticals"] == beside.intervals["between-verticals"]


def test_whole_budgets_are_those_of_the_record() -> None:
    """What is judged of a crew that errs is what stands beside the result of its record."""
    case = Case("run", 20, "drawn", TESTING)
    gauging = case.gauging(case.stream())
    budgets = uncertainty_budgets(gauging, compute(gauging))

    assert {one.key: one.expanded_percent for one in budgets} == pytest.approx(
        {name: 100.0 * one.wide for name, one in judged(case).intervals.items()}
    )


def test_between_verticals_iso_748_has_its_table_alone() -> None:
    """20 verticals are 2.5 % by the table of ISO 748 (from memory), one standard uncertainty."""
    case = Case("run", 20, "perfect", TESTING)
    gauging = case.gauging(case.stream())
    found = between_verticals(gauging, compute(gauging))

    assert found["iso-748"].narrow == pytest.approx(0.025)
    assert found["iso-748"].wide == pytest.approx(0.05)


def test_scores_and_figures_are_as_worked_by_hand() -> None:
    """Two gaugings, one held and one missed by 0.2: widths 0.2 and 0.4, score 40 times the miss."""
    held = [(0.05, Interval(0.1, 0.05)), (-0.4, Interval(0.2, 0.1))]
    found = figures(held)

    assert [interval_score(one) for one in held] == pytest.approx([0.2, 0.4 + 8.0])
    assert found["coverage 95"] == 50.0
    assert found["coverage 68"] == 50.0
    assert found["width"] == pytest.approx(15.0 / 1.96, abs=1e-3)
    assert found["score"] == pytest.approx(100.0 * 8.6 / 2.0)
    assert score_against(held, held) == (0.0, 0.0)


def test_an_interval_by_ratio_has_the_same_upper_end() -> None:
    """From Q / 1.25 to 1.25 Q: 0.2 below and 0.25 above, about its own middle."""
    one = judged(Case("run", 20, "drawn", TESTING))
    (turned,) = by_ratio([type(one)(one.case, 0.25, {"between-verticals": Interval(0.25, 0.1)})])

    assert turned.intervals["between-verticals"].wide == pytest.approx(0.225)
    assert turned.error == pytest.approx(turned.intervals["between-verticals"].wide)
