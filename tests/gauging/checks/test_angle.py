"""Water that does not run square to the tape, at some verticals and over much of the flow."""

from typing import Any

import attrs
import pytest

from bankside.gauging.checks.angle import CHECKS
from bankside.gauging.records import Channel, Gauging, Vertical

from .conditions_building import METRIC, findings, gauging, lone, point, section


def _angled(count: int, velocity: float = 1.0, **angle: Any) -> Gauging:
    """Twenty verticals, the first of which run at an angle."""
    others = {
        place: Vertical(float(place), 1.0, (point(velocity),), **angle)
        for place in range(1, count + 1)
    }
    return gauging(section(others=others))


@pytest.mark.parametrize(
    ("record", "expected"),
    [
        (_angled(1, angle_coefficient=0.98), []),
        (_angled(1, angle_coefficient=0.97), ["note"]),
        (_angled(1, angle=11.0), []),
        (_angled(1, angle=-12.0), ["note"]),
        (_angled(5, 1.25, angle_coefficient=0.8), ["note"]),
        (_angled(6, 1.25, angle_coefficient=0.8), ["fix now"]),
        (_angled(20, angle_coefficient=0.94), ["note"]),
        (_angled(19, angle_coefficient=0.93), ["fix now"]),
        (_angled(20, angle_coefficient=0.93), ["explain"]),
    ],
)
def test_the_coefficient_and_the_share(record: Gauging, expected: list[str]) -> None:
    """0.98 is square enough (11° is 0.982, 12° is 0.978).

    Five panels of 1.25 ft/s at 0.8 are 25 % of 20 ft³/s: a quarter of the water may run so.
    """
    assert [finding.severity for finding in findings(CHECKS, record)] == expected


def test_angles_read_everywhere_are_explained() -> None:
    """At 60° everywhere the cosine is 0.5: half of what would run square is taken off."""
    (finding,) = findings(CHECKS, _angled(20, angle=60.0))
    assert finding.severity == "explain"
    assert finding.found.endswith("; the cosine takes 50 % off the discharge.")
    assert "tretch" not in finding.advice


def test_missing_angles_are_named() -> None:
    """19 verticals of 20 are oblique: the one without an angle is to be read, or all anew."""
    (finding,) = findings(CHECKS, _angled(19, angle=60.0))
    assert finding.advice.startswith("Read the angle at tape 20 ft as well, or stretch the tape")


def test_what_is_to_be_done_in_another_channel_names_it() -> None:
    """Angles were read in the first of two channels only."""
    left, right = (Vertical(at, 0.0, edge=bank) for at, bank in ((0.0, "left"), (2.0, "right")))
    askew = Channel((left, Vertical(1.0, 1.0, (point(1.0),), angle_coefficient=0.9), right))
    unread = Channel((left, Vertical(1.0, 1.0, (point(1.0),)), right))

    (finding,) = findings(CHECKS, gauging((askew, unread)))

    assert (finding.channel, finding.tapes) == (0, (1.0,))
    assert finding.advice.startswith(
        "Read the angle at tape 1 ft of channel 2 as well, or stretch the tape anew at tape 1 ft "
        "of channel 1, "
    )


@pytest.mark.parametrize(("velocity", "severity"), [(0.0, "explain"), (0.1, "fix now")])
def test_still_water_has_no_angle(velocity: float, severity: str) -> None:
    """Where nothing moves there is no angle to be read."""
    others = {
        place: Vertical(float(place), 1.0, (point(1.0),), angle=30.0) for place in range(1, 20)
    }
    last = Vertical(20.0, 1.0, (point(velocity),))
    (finding,) = findings(CHECKS, gauging(section(others={**others, 20: last})))
    assert finding.severity == severity


@pytest.mark.parametrize(("count", "asked"), [(1, True), (20, False)])
def test_an_angle_is_asked_for_only_where_there_is_none(count: int, asked: bool) -> None:
    """With an angle at every vertical there is none left to read."""
    (finding,) = findings(CHECKS, _angled(count, angle=15.0))
    assert (finding.severity, "at every vertical" in finding.advice) == ("note", asked)
    assert ("only at tape 1 ft;" if asked else "Nothing more at tapes 1, 2, ") in finding.advice


def test_unfinished() -> None:
    """Before the end there are no shares, and an angle is only noted."""
    record = lone(Vertical(3.0, 1.0, (point(1.0),), angle=40.0))
    assert [f.severity for f in findings(CHECKS, record, finished=False)] == ["note"]


def test_the_share_and_the_cost_are_told_once_there_is_much() -> None:
    """6 of 20 panels of 1 ft³/s; 1.25 ft/s square would be 1.5 of 21.5 ft³/s more, 7 %."""
    (much,) = findings(CHECKS, _angled(6, 1.25, angle_coefficient=0.8))
    (little,) = findings(CHECKS, _angled(1, angle_coefficient=0.97))
    assert much.found.endswith(
        "below 0.98, at tapes 1, 2, 3, 4, 5 and 6 ft, and 30 % of the discharge with one below "
        "0.94; the cosine takes 7 % off the discharge."
    )
    assert little.found.endswith("with a coefficient below 0.98, at tape 1 ft.")
    names = [threshold.name for threshold in much.thresholds]
    assert names == ["angle_coefficient_note", "angle_coefficient_fix", "oblique_share"]
    assert [threshold.name for threshold in little.thresholds] == names[:1]


@pytest.mark.parametrize(("coefficient", "cost"), [(0.8955, "10 %"), (0.8945, "11 %")])
def test_what_the_cosine_takes_off(coefficient: float, cost: str) -> None:
    """10.45 and 10.55 % everywhere; still water, and water that runs along the tape, take none."""
    others = {
        place: Vertical(float(place), 1.0, (point(1.0),), angle_coefficient=coefficient)
        for place in range(1, 21)
    }
    others[3] = Vertical(3.0, 1.0, (point(0.0),), angle_coefficient=0.5)
    others[4] = Vertical(4.0, 1.0, (point(1.0),), angle_coefficient=0.0)
    (finding,) = findings(CHECKS, gauging(section(others=others)))
    assert finding.found.endswith(f"; the cosine takes {cost} off the discharge.")


def test_water_1_m_deep_moves_as_any_other() -> None:
    """The one vertical without an angle is asked for in metres as well."""
    (finding,) = findings(CHECKS, attrs.evolve(_angled(19, angle=60.0), units=METRIC))
    assert finding.advice.startswith("Read the angle at tape 20 m as well")
