"""How long the meter was held: the exposure time itself is long enough."""

import pytest

from bankside.gauging.checks.exposure import CHECKS
from bankside.gauging.records import PointReading, Vertical

from .conditions_building import findings, gauging, lone, point, section


@pytest.mark.parametrize(
    ("readings", "count"),
    [
        ((point(1.0, seconds=39.0),), 1),
        ((point(1.0, seconds=40.0),), 0),
        ((point(1.0),), 0),
        ((point(1.0, seconds=20.0), point(1.1, seconds=20.0)), 0),
        ((point(1.0, seconds=20.0), point(1.1, seconds=19.0)), 1),
        ((point(1.0, seconds=20.0), point(1.1)), 0),
        ((point(1.0, 0.2, seconds=40.0), point(0.8, 0.8, seconds=30.0)), 1),
    ],
)
@pytest.mark.parametrize("finished", [True, False])
def test_the_exposure_time(readings: tuple[PointReading, ...], count: int, finished: bool) -> None:
    """Each point has its 40 s, in one reading or in several; an unknown time says nothing."""
    record = lone(Vertical(3.0, 1.0, readings))
    assert len(findings(CHECKS, record, finished=finished)) == count


def test_all_short_counts_are_one_finding() -> None:
    """The verticals are named together, with the shortest time."""
    short = {
        place: Vertical(float(place), 1.0, (point(1.0, seconds=30.0 + place),)) for place in (3, 5)
    }
    (finding,) = findings(CHECKS, gauging(section(others=short)))
    assert (finding.severity, finding.tapes) == ("explain", (3.0, 5.0))
    assert "33 s" in finding.found
    assert [threshold.name for threshold in finding.thresholds] == ["exposure"]
