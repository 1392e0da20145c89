"""Depths too far apart for the bed between them to be straight."""

import pytest

from bankside.gauging.records import Channel, Gauging, Vertical

from .sections import FEET, found, gauging, left, read, right

NAME = "Bed not resolved"


def _stepped(top: float) -> list[Vertical]:
    """Depths 0, 1, top, 1, 0, each 10 ft apart."""
    depths = [1.0, top, 1.0]
    return [left(), *(read(10.0 * (i + 1), d) for i, d in enumerate(depths)), right(40.0)]


@pytest.mark.parametrize(
    ("top", "gaps"), [(1.0, []), (1.9, []), (2.0, [(10.0, 20.0), (20.0, 30.0)])]
)
def test_the_change_of_area_by_hand(top: float, gaps: list[tuple[float, float]]) -> None:
    """Depths 0, 1, d, 1, 0, each 10 ft apart.

    Second divided differences: (d - 2) / 200 beside the banks, (2 - 2 d) / 200 over the middle. The
    latter bends more: half-way the bed is (d - 1) / 100 × 100 / 4 ft lower and the area
    1.25 (d - 1) ft² larger, of 20 + 10 d: 2.88 % with d = 1.9 and 3.13 % with d = 2.
    """
    findings = found(NAME, gauging(*_stepped(top)))

    assert [f.tapes for f in findings] == gaps
    assert all(f.severity == "explain" for f in findings)
    assert all("about 3.1 % more area, above 3 %" in f.found for f in findings)
    assert all([t.name for t in f.thresholds] == ["bed_area"] for f in findings)


def test_a_hole_between_shallow_depths() -> None:
    """Depths 1, 1, 2.8, 1, 1: the bed curves hard beside the hole."""
    depths = [1.0, 1.0, 2.8, 1.0, 1.0]
    verticals = [left(), *(read(i + 1.0, d) for i, d in enumerate(depths)), right(6.0)]

    findings = found(NAME, gauging(*verticals))

    # The parabola through 1, 2.8, 1 lies 0.45 ft lower half-way: 0.225 ft² of 6.8, 3.3 %.
    assert [f.tapes for f in findings] == [(2.0, 3.0), (3.0, 4.0)]
    assert [f.advice for f in findings] == [
        "Add a vertical at tape 2.5 ft.",
        "Add a vertical at tape 3.5 ft.",
    ]
    assert found(NAME, gauging(*verticals), finished=False) == []


def test_the_bed_may_break_at_an_island() -> None:
    """Two even channels beside dry ground: the depth leaves the shore at once, as at a bank."""
    wet = [read(i + 1.0) for i in range(12)]
    after = [read(i + 16.0) for i in range(12)]
    verticals = [
        left(),
        *wet,
        Vertical(13.0, dry=True),
        Vertical(15.0, dry=True),
        *after,
        right(28.0),
    ]

    assert found(NAME, gauging(*verticals, units=FEET)) == []


def test_where_no_depth_fits_between_it_is_only_noted() -> None:
    """The same bend with 0.5 ft between: half-way is closer than the 0.3 ft that is asked for."""
    near = [left(), *(read(0.5 * (i + 1), d) for i, d in enumerate((1.0, 2.0, 1.0))), right(2.0)]

    findings = found(NAME, gauging(*near))

    assert [(f.severity, f.tapes) for f in findings] == [("note", (0.5, 1.0)), ("note", (1.0, 1.5))]


def test_a_hump_takes_area_away() -> None:
    """Depths 1, 1, 0.1, 1: half-way to the hump 0.1 + 0.9 / 4 is 0.225 ft shallower than 0.55.

    That is 0.1125 ft² of 3.1, 3.6 %.
    """
    verticals = [left(), *(read(i + 1.0, d) for i, d in enumerate([1, 1, 0.1, 1])), right(5.0)]

    (finding,) = (f for f in found(NAME, gauging(*verticals)) if f.tapes == (2.0, 3.0))
    assert "about 3.6 % less area" in finding.found


def test_a_channel_without_water_says_nothing_and_hides_nothing() -> None:
    """A dry side channel before the one whose bed is not resolved."""
    dry = Channel((left(), Vertical(1.0, dry=True), right(2.0)))

    findings = found(NAME, Gauging(FEET, (dry, Channel(tuple(_stepped(2.0))))))

    assert [(f.channel, f.tapes) for f in findings] == [(1, (10.0, 20.0)), (1, (20.0, 30.0))]
