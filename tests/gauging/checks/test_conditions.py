"""All checks of the conditions together: silent where nothing is wrong, gravest first elsewhere."""

import attrs
import pytest

from bankside.gauging.checks import (
    angle,
    clock,
    disturbed,
    exposure,
    header,
    meter_proof,
    position,
    quality,
    stage,
    velocity_range,
    vertical_profile,
    wading,
    whole_flow,
)
from bankside.gauging.checks.run import ALL_CHECKS, check_gauging
from bankside.gauging.records import Answer, Channel
from bankside.gauging.rule_sets.thresholds import THRESHOLDS

from .conditions_building import COMPLETE, RULES, findings, gauging, minute

MODULES = (
    angle,
    clock,
    disturbed,
    exposure,
    header,
    meter_proof,
    position,
    quality,
    stage,
    velocity_range,
    vertical_profile,
    wading,
    whole_flow,
)
CHECKS = [check for module in MODULES for check in module.CHECKS]


@pytest.mark.parametrize("finished", [True, False])
def test_a_sound_gauging_has_no_findings(finished: bool) -> None:
    """Everything is written down and inside its limits: there is nothing to say."""
    assert findings(CHECKS, COMPLETE, finished=finished, today=COMPLETE.date) == []


@pytest.mark.parametrize("finished", [True, False])
@pytest.mark.parametrize("channels", [(), (Channel(()),)])
def test_nothing_read_yet(finished: bool, channels: tuple[Channel, ...]) -> None:
    """Without a vertical only the header can be told about, and whether all the water is there."""
    found = findings(CHECKS, gauging(channels), finished=finished, today=COMPLETE.date)
    assert {finding.severity for finding in found} == {"note"}


def test_each_check_stands_in_the_catalogue_once() -> None:
    """All are registered, under names of their own, with thresholds that there are."""
    names = [check.name for check in ALL_CHECKS]
    assert len(set(names)) == len(names)
    for check in CHECKS:
        assert check in ALL_CHECKS
        assert set(check.thresholds) <= set(THRESHOLDS)
        assert check.source and check.trigger.endswith(".") and check.remedy.endswith(".")


def test_an_answer_holds_for_what_was_found() -> None:
    """An answer stands beside the finding it was given to, and no longer once that has changed."""
    record = attrs.evolve(COMPLETE, ended=minute(100))
    (found,) = [f for f in check_gauging(record, RULES) if f.check == "Took very long"]
    answer = Answer(found.check, found.found, found.severity, "a deep, slow section")
    for ended, expected in ((minute(100), answer), (minute(110), None)):
        answered = attrs.evolve(record, ended=ended, answers=(answer,))
        (found,) = [f for f in check_gauging(answered, RULES) if f.check == "Took very long"]
        assert found.answer == expected
