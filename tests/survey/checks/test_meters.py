"""Meters that were overdue and meters that nobody proved."""

import datetime

import pytest

from bankside.gauging.records import Meter, MeterCheck
from bankside.survey.summary import open_findings
from bankside.survey.visits import Visit

from ..building import DAY, LOWER, UPPER, visit
from .looking import found


def _with(meter: Meter | None, id_: str = "g", site: object = UPPER) -> Visit:
    return visit(0.5, site, id_=id_, meter=meter)


@pytest.mark.parametrize(("days", "told"), [(0, False), (1, False), (-1, True)])
def test_a_meter_after_its_day(days: int, told: bool) -> None:
    """On the day itself it may still be used."""
    meter = Meter(serial="K-7", calibration_due=DAY + datetime.timedelta(days=days))

    assert bool(found("Meter overdue", [_with(meter)])) == told


def test_one_finding_for_each_meter() -> None:
    """Written in two ways it is one meter; all its late gaugings are named."""
    due = DAY - datetime.timedelta(days=3)
    late = [
        _with(Meter(serial="K-7", calibration_due=due), "a"),
        _with(Meter(serial="k 7", calibration_due=due), "b", LOWER),
        _with(Meter(serial="K-8", calibration_due=due), "c"),
        _with(Meter(serial="K-9"), "d"),
        _with(None, "e"),
    ]
    findings = found("Meter overdue", late)

    assert [f.visits for f in findings] == [("a", "b"), ("c",)]
    assert findings[0].sites == ("upper", "lower")
    assert "Meter K-7 was to be calibrated by 2026-07-11 and made 2 gaugings" in findings[0].found


def test_an_overdue_meter_is_told_once_and_not_again_for_each_gauging() -> None:
    """Both gaugings have the finding and nobody answered it; nothing else of theirs is hidden."""
    due = DAY - datetime.timedelta(days=3)
    visits = [_with(Meter(serial="K-7", calibration_due=due), id_) for id_ in "ab"]
    (finding,) = found("Meter overdue", visits)

    assert finding.found.endswith("2 gaugings after that, 2 of them without an answer to it.")
    names = [{one.check for one in open_findings(visit)} for visit in visits]
    assert all("Calibration overdue" in one for one in names)
    told = found("Findings without an answer", visits)
    assert not any("Calibration overdue" in one.found for one in told)
    assert [len(one - {"Calibration overdue"}) > 0 for one in names] == [
        any(visit.id in one.visits for one in told) for visit in visits
    ]


def test_a_meter_without_a_proof() -> None:
    """One gauging of two has a spin; a meter that was always proven is silent."""
    spin = MeterCheck("spin", "before", seconds=60)
    visits = [
        _with(Meter(serial="K-7", checks=(spin,)), "a"),
        _with(Meter(serial="K-7"), "b"),
        _with(Meter(serial="K-8", checks=(spin,)), "c"),
        _with(Meter(kind="propeller"), "d"),
    ]
    findings = found("Meter without a proof", visits)

    assert [f.visits for f in findings] == [("b",), ("d",)]
    assert findings[0].found.startswith("Meter K-7 made 1 of its 2 gaugings without")
    assert findings[1].found.startswith("A propeller without a number")
