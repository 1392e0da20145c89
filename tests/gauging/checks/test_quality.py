"""The crew's word against the uncertainty, at the limits of each word."""

from typing import Any

import attrs
import pytest

from bankside.gauging.budget import Budget
from bankside.gauging.checks import quality
from bankside.gauging.checks.quality import CHECKS, borne_out
from bankside.gauging.records import Vertical

from .conditions_building import COMPLETE, RULES, findings, gauging, point, section


@pytest.mark.parametrize(
    ("word", "percent", "better"),
    [
        ("excellent", 2.0, None),
        ("excellent", 2.1, "good"),
        ("good", 5.0, None),
        ("good", 5.1, "fair"),
        ("fair", 8.0, None),
        ("fair", 8.1, "poor"),
        ("excellent", 9.0, "poor"),
        ("poor", 30.0, None),
        ("poor", 1.0, None),
        (None, 30.0, None),
    ],
)
def test_the_word_and_the_figure(
    monkeypatch: pytest.MonkeyPatch, word: Any, percent: float, better: str | None
) -> None:
    """Excellent is 2 %, good 5 %, fair 8 %: at the figure itself the word holds."""
    headline = Budget("iso-748", "a method", (), percent)
    bound = Budget("components", "a lower bound", (), 50.0, left_out=("pulsation",))
    monkeypatch.setattr(quality, "uncertainty_budgets", lambda *_: (headline, bound))
    found = findings(CHECKS, attrs.evolve(COMPLETE, quality=word))
    assert [finding.severity for finding in found] == ([] if better is None else ["explain"])
    assert all(f"Hold it to be {better}" in finding.advice for finding in found)


def test_the_larger_of_two_methods_counts(monkeypatch: pytest.MonkeyPatch) -> None:
    """On a rough bed the scatter shows what the table of verticals cannot know."""
    table = Budget("iso-748", "a table", (), 3.5)
    scatter = Budget("interpolated-variance", "the scatter", (), 15.0)
    monkeypatch.setattr(quality, "uncertainty_budgets", lambda *_: (table, scatter))
    (finding,) = findings(CHECKS, attrs.evolve(COMPLETE, quality="good"))
    assert "15 % by the scatter" in finding.found
    assert "to be good, which means within 5 %" in finding.found
    assert [t.name for t in finding.thresholds] == ["quality_good"]


def test_the_best_word_that_is_borne_out() -> None:
    """The model between verticals goes before a larger table; a lower bound bears out nothing."""
    table = Budget("iso-748", "a table", (), 9.0)
    between = Budget("between-verticals", "a model", (), 4.0)
    bound = Budget("components", "a lower bound", (), 1.0, left_out=("pulsation",))
    assert borne_out(RULES, (between, table, bound)) == "good"
    assert borne_out(RULES, (table, bound)) == "poor"
    assert borne_out(RULES, (bound,)) is None


def test_five_verticals_are_not_excellent() -> None:
    """With five verticals their number alone is 7.5 % (ISO 748:2007, Annex E, from memory)."""
    (finding,) = findings(CHECKS, gauging(section(5), quality="excellent"))
    assert "poor" in finding.advice


def test_unfinished_or_without_an_uncertainty() -> None:
    """Nothing is said before the end, nor where no uncertainty can be stated."""
    few = gauging(section(5), quality="excellent")
    assert findings(CHECKS, few, finished=False) == []
    slack = {1: Vertical(1.0, 1.0, (point(0.0),))}
    still = gauging(section(1, others=slack), quality="excellent")
    assert findings(CHECKS, still) == []
