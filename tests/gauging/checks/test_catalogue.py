"""What holds for every check of the catalogue, whichever part wrote it."""

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.gauging.checks.examined import examine
from bankside.gauging.checks.finding import SEVERITIES, Check
from bankside.gauging.checks.run import ALL_CHECKS, check_gauging
from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.thresholds import THRESHOLDS

from ..strategies import complete_gaugings, gaugings
from .sections import BY_NAME, RULES, even, gauging, hold
from .wording import SENTENCE_END


def test_names_are_told_apart() -> None:
    """A name is the key of an answer, so no two checks share one."""
    assert [name for name, count in Counter(c.name for c in ALL_CHECKS).items() if count > 1] == []


@pytest.mark.parametrize("check", ALL_CHECKS, ids=lambda check: check.name)
def test_an_entry_of_the_catalogue_is_whole(check: Check) -> None:
    """Sentences, a source, severities from grave to slight, thresholds that there are."""
    assert check.trigger.endswith(SENTENCE_END) and check.remedy.endswith(SENTENCE_END)
    assert check.source.strip()
    assert check.severities == tuple(s for s in SEVERITIES if s in check.severities) != ()
    assert [name for name in check.thresholds if name not in THRESHOLDS] == []
    assert len(set(check.thresholds)) == len(check.thresholds)


def _hold_all(made: Gauging, finished: bool) -> None:
    examined = examine(made, RULES, finished=finished)
    for check in ALL_CHECKS:
        for finding in check.find(examined):
            assert finding.check == check.name
            hold(finding)


@given(gaugings(), st.booleans())
def test_any_record_can_be_checked(made: Gauging, finished: bool) -> None:
    """However odd a record is, each finding is one that its check announces, with its remedy."""
    _hold_all(made, finished)


@given(complete_gaugings(), st.booleans())
def test_any_complete_gauging_can_be_checked(made: Gauging, finished: bool) -> None:
    """So it is where there is a discharge, and shares with it."""
    _hold_all(made, finished)


def test_an_even_section_of_the_right_number_raises_nothing_about_its_shape() -> None:
    """24 verticals alike, both edges marked: no check of the section speaks."""
    unmoved = {f.check for f in check_gauging(gauging(*even()), RULES)}
    shape = {
        "No starting or finishing edge",
        "Bank not named",
        "Too big a jump from the bank",
        "Not along the tape",
        "Strange gap",
        "Too few verticals",
        "One panel carries too much",
        "Panels above the aim",
        "Neighbouring velocities too different",
        "Bed not resolved",
    }

    assert shape <= set(BY_NAME)
    assert unmoved & shape == set()
