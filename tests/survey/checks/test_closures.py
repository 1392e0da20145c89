"""What does not balance, what was gained or lost, and what nobody can tell."""

import datetime

import attrs
import pytest

from bankside.survey.records import Balance, Survey
from bankside.survey.visits import Visit

from ..building import BROOK, DAY, LOWER, SURVEY, UPPER, visit
from .looking import found

BALANCED = attrs.evolve(SURVEY, balances=(Balance("Confluence", ("upper", "brook"), "lower"),))


def _visits(below: float, day: datetime.date = DAY) -> list[Visit]:
    return [
        visit(0.60, UPPER, id_="u", percent=3.0),
        visit(0.20, BROOK, id_="b", percent=6.0),
        visit(below, LOWER, id_="l", percent=3.0, day=day),
    ]


@pytest.mark.parametrize(
    ("survey", "check", "silent", "severity"),
    [
        (BALANCED, "Change in a balance", "Gain or loss on the way", "explain"),
        (SURVEY, "Gain or loss on the way", "Change in a balance", "note"),
    ],
)
@pytest.mark.parametrize(("below", "told"), [(0.86, False), (0.88, True), (0.73, True)])
def test_a_change_outside_the_band(
    survey: Survey, check: str, silent: str, severity: str, below: float, told: bool
) -> None:
    """2 √(0.018² + 0.012² + (0.03 Q)²) is 0.067 for 0.86, 0.068 for 0.88, 0.062 for 0.73."""
    findings = found(check, _visits(below), survey)

    assert [f.severity for f in findings] == ([severity] if told else [])
    assert found(silent, _visits(below), survey) == []
    for finding in findings:
        assert finding.sites == ("upper", "brook", "lower")
        assert finding.visits == ("u", "b", "l")
        assert finding.day == DAY
        assert (
            "Look first at Birch Brook, Old mill, the least sure with ± 12 % (two "
            "standard uncertainties)."
        ) in finding.advice


def test_the_least_sure_and_the_smallest_are_both_named() -> None:
    """The river above is the least sure, the brook the smallest."""
    visits = _visits(0.95)
    visits[0] = visit(0.60, UPPER, id_="u", percent=9.0)
    (finding,) = found("Change in a balance", visits, BALANCED)

    assert "the least sure with ± 18 % (two standard uncertainties), and at" in finding.advice
    assert "at Birch Brook, Old mill, the smallest" in finding.advice


@pytest.mark.parametrize(
    ("below", "severity"), [(1.04, "explain"), (1.05, "note"), (1.2, "note"), (1.25, "explain")]
)
def test_a_gain_that_the_land_yields_is_only_noted(below: float, severity: str) -> None:
    """30 km² in between at the median of 15 and 6.67 L/s/km²: 0.325 m³/s.

    2 √(0.018² + 0.012² + (0.03 Q)²) is 0.076 for 1.04 and for 1.05, 0.084 for 1.2, 0.087 for 1.25;
    the gains are 0.085 and 0.075 less than that, 0.075 and 0.125 more.
    """
    (finding,) = found("Change in a balance", _visits(below), BALANCED)

    assert finding.severity == severity
    assert ("about as much as the land" in finding.found) == (severity == "note")


@pytest.mark.parametrize(("below", "told"), [(0.80, False), (0.81, True), (0.88, False)])
def test_a_change_inside_the_band_is_no_change(below: float, told: bool) -> None:
    """0.01 more is inside; no difference is nothing to report, and 0.08 is a gain."""
    findings = found("Change inside the error", _visits(below))

    assert bool(findings) == told
    assert all('"no measurable change"' in finding.advice for finding in findings)


def test_a_balance_of_two_days_cannot_be_told() -> None:
    """A day later; within a window of one day it can."""
    visits = _visits(0.81, DAY + datetime.timedelta(days=1))

    (finding,) = found("Balance cannot be told", visits, BALANCED)
    assert finding.severity == "note"
    assert "1 day before" in finding.found
    assert found("Balance cannot be told", visits, BALANCED, window_days=1) == []
