"""Columns in another unit than the sheet says."""

import pytest

from bankside.gauging.checks.finding import Finding
from bankside.gauging.checks.unit_slips import CHECKS
from bankside.gauging.records import Gauging

from .slip_sections import DEPTHS, FEET, METRIC, TAPES, VELOCITIES, changed, first, of, section

WIDE = [4 * tape for tape in TAPES]


def _velocity_unit(gauging: Gauging, finished: bool = True) -> list[Finding]:
    return of(CHECKS, "Velocity unit wrong", gauging, finished=finished)


def test_water_faster_than_its_waves_at_two_verticals() -> None:
    """1 m deep, waves run at √9.81 = 3.13 m/s, and 1.2 of that is 3.76: at two, not at one."""
    depths = [0.0, *[1.0] * 9, 0.0]
    two, one, slower = (
        section(depths=depths, velocities=changed(VELOCITIES, fast), units=METRIC)
        for fast in ({4: 3.8, 5: 3.8}, {4: 3.8}, {4: 3.75, 5: 3.75})
    )

    (finding,) = _velocity_unit(two)

    assert (finding.severity, finding.tapes) == ("fix now", (6.0, 7.0))
    assert finding.found.startswith("At tapes 6 and 7 m the water would run faster than its waves")
    assert finding.found.endswith("the Froude number is above 1.2.")
    assert finding.advice == (
        "Come out. From the bank, look at the unit that the meter shows: is it m/s? Go back to "
        "tapes 6 and 7 m only if it is not."
    )
    assert [t.name for t in finding.thresholds] == ["froude", "froude_verticals"]
    # 11.772 m/s in 9.81 m is 1.2 times as fast as √(9.81 × 9.81), and not faster.
    depths = [0.0, *[9.81] * 9, 0.0]
    edged = changed(VELOCITIES, dict.fromkeys((4, 5), 11.772))
    at_it = section(depths=depths, velocities=edged, units=METRIC)
    assert "fix now" not in [f.severity for f in _velocity_unit(at_it)]
    # Either makes the whole section fast as well: 0.43 and 0.52 in the mean.
    assert [f.severity for f in _velocity_unit(one)] == ["note"]
    assert [f.severity for f in _velocity_unit(slower)] == ["explain"]


def test_a_section_fast_for_its_depth() -> None:
    """Rectangle 1 m deep: Froude numbers of 0.35 and 0.5 are 1.096 and 1.566 m/s in the mean."""
    depths = [1.0] * 11

    def even(velocity: float) -> Gauging:
        return section(depths=depths, velocities=[velocity] * 11, units=METRIC)

    # Each wall has half a panel, of 20, at 0.65 of the velocity: the mean is 0.965 of it.
    (finding,) = _velocity_unit(even(1.3))
    assert finding.severity == "note"
    # 1.255 over the root of 9.81 is 0.401.
    assert finding.found == (
        "The water is fast for its depth: 1.255 m/s at a mean depth of 1 m, a Froude number of "
        "0.40."
    )
    assert [f.severity for f in _velocity_unit(even(1.5))] == ["note"]
    assert [f.severity for f in _velocity_unit(even(1.63))] == ["explain"]
    assert _velocity_unit(even(1.05)) == []
    assert _velocity_unit(first(even(1.3), 1), finished=False) == []


def test_a_section_too_narrow_for_its_depth() -> None:
    """10 ft wide and about 0.74 ft deep is 13.5 times; three times as deep is 4.5 times."""
    deep = section(depths=[3 * depth for depth in DEPTHS])

    (finding,) = of(CHECKS, "Depth unit wrong", deep)

    assert (finding.severity, finding.tapes) == ("explain", ())
    assert of(CHECKS, "Depth unit wrong", section()) == []
    assert of(CHECKS, "Depth unit wrong", first(deep, 6), finished=False) == []
    assert of(CHECKS, "Depth unit wrong", first(deep, 0)) == []


def test_small_brooks_and_trenches_are_a_note() -> None:
    """A mean of about 0.74 ft, 1.6 times as deep on 10 ft: 8.5 times; 1.35 times: 10 times."""
    trench, brook = (section(depths=[by * depth for depth in DEPTHS]) for by in (1.6, 1.35))

    assert [f.severity for f in of(CHECKS, "Depth unit wrong", trench)] == ["note"]
    assert of(CHECKS, "Depth unit wrong", brook) == []


@pytest.mark.parametrize(
    ("width", "severity", "advice"),
    [
        (7.9, "explain", "Look at the scale of the rod: is its unit ft, not m?"),
        (8.0, "note", "Look at the scale of the rod: is its unit ft, not m?"),
        (9.0, None, ""),
        (150.0, None, ""),
        (151.0, "explain", "Look at the scale of the rod and at the edges of water."),
    ],
)
def test_at_the_limits_of_the_shape(width: float, severity: str | None, advice: str) -> None:
    """Rectangles 1 m deep; of 1 ft they would be 26 times as wide as deep, or 495 times."""
    tapes = [width * tenth / 10 for tenth in range(11)]
    made = section(tapes, [1.0] * 11, [0.1] * 11, METRIC)

    found = of(CHECKS, "Depth unit wrong", made)

    assert [(f.severity, f.advice) for f in found] == [(severity, advice)] * bool(severity)
    assert all(f.found.startswith(f"The section is {width:g} m wide and 1 m deep") for f in found)


def test_the_likeliest_unit_of_depth_is_named() -> None:
    """Depths in inches or cm as if they were ft or m; and m as if they were ft."""
    inches = section(WIDE, [12 * depth for depth in DEPTHS], units=FEET)
    cm = section(WIDE, [100 * depth for depth in DEPTHS], units=METRIC)
    metres = section(
        [10 * tape for tape in TAPES], [0.3048 * depth for depth in DEPTHS], units=FEET
    )

    for made, unit in ((inches, "in"), (cm, "cm"), (metres, "m")):
        (finding,) = of(CHECKS, "Depth unit wrong", made)
        assert f"is its unit {unit}, not" in finding.advice


def test_feet_and_inches_are_told_by_their_hundredths() -> None:
    """1 ft 7 in written 1.07: none of nine has more than 11 hundredths; 1.12 is none of these."""
    inches = (0.0, 0.07, 0.1, 1.01, 1.07, 1.11, 1.05, 1.02, 0.11, 0.06, 0.0)
    tenths = changed(inches, {5: 1.12})

    (finding,) = of(CHECKS, "Inches, not tenths", section(depths=inches))

    assert finding.severity == "fix now"
    assert finding.found.startswith("None of 9 depths has more than 11 hundredths of a foot")
    assert of(CHECKS, "Inches, not tenths", section(depths=tenths)) == []
    assert of(CHECKS, "Inches, not tenths", section(depths=inches, units=METRIC)) == []
    assert of(CHECKS, "Inches, not tenths", first(section(depths=inches), 8), finished=False) == []


@pytest.mark.parametrize(
    ("depths", "count"),
    [
        ((0.07, 0.1, 1.01, 1.07, 1.11, 1.05, 1.02, 0.11), 1),  # eight are enough
        ((0.07, 0.1, 0.01, 1.0, 0.11, 0.05, 0.02, 0.08), 1),  # a foot is deep enough
        ((0.07, 0.1, 0.01, 0.07, 0.11, 0.05, 0.02, 0.08), 0),  # shallow, and so all hundredths
        ((1.075, 0.1, 1.01, 1.07, 1.11, 1.05, 1.02, 0.11), 0),  # read to thousandths
        ((1.05, 1.05, 1.0, 2.0, 2.05, 1.05, 1.0, 1.05), 0),  # halves of a tenth
        ((1.05, 1.05, 1.0, 2.0, 2.1, 1.05, 1.0, 1.05), 1),
    ],
)
def test_what_may_be_feet_and_inches(depths: tuple[float, ...], count: int) -> None:
    """Hundredths of a foot that only go to 11 and are of three kinds or more."""
    made = section(TAPES[:10], [0.0, *depths, 0.0], VELOCITIES[:10])

    assert len(of(CHECKS, "Inches, not tenths", made)) == count
