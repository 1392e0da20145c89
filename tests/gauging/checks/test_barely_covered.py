"""A velocity where no meter goes under water is told, however little it carries."""

import pytest

from bankside.gauging.checks.barely_covered import CHECKS
from bankside.gauging.records import Vertical

from .conditions_building import findings, gauging, point, section

(HARDLY,) = CHECKS


@pytest.mark.parametrize(("depth", "count"), [(0.04, 1), (0.09, 1), (0.1, 0), (0.3, 0)])
def test_a_meter_hardly_under_water(depth: float, count: int) -> None:
    """A tenth of a foot is the least; at 0.04 ft the panel carries far less than a percent."""
    thin = {1: Vertical(1.0, depth, (point(0.23),))}
    found = findings([HARDLY], gauging(section(others=thin)))

    assert len(found) == count
    if found:
        (finding,) = found
        assert finding.severity == "note"
        assert finding.found == (
            f"A velocity was read at tape 1 ft, where the water is {depth} ft deep, less than "
            "0.1 ft."
        )
        assert [threshold.name for threshold in finding.thresholds] == ["covered_least"]


def test_in_several_channels_each_place_is_told_with_its_own() -> None:
    """Tape 1 ft stands in both."""
    channel = section(1, others={1: Vertical(1.0, 0.05, (point(0.2),))})
    (finding,) = findings([HARDLY], gauging(channel * 2))

    assert "at tape 1 ft of channel 1 and tape 1 ft of channel 2, where" in finding.found


def test_what_was_not_read_there_is_no_finding() -> None:
    """No velocity, one of 0 and a dry place say nothing of a meter; nor does a depth of 0."""
    for vertical in (
        Vertical(1.0, 0.04),
        Vertical(1.0, 0.04, (point(0.0),)),
        Vertical(1.0, 0.0, (point(0.2),)),
        Vertical(1.0, dry=True),
    ):
        assert not findings([HARDLY], gauging(section(others={1: vertical})))


def test_several_are_one_finding_with_the_depth_of_each() -> None:
    """In the order of the tape, as their positions are."""
    thin = {place: Vertical(float(place), place / 50, (point(0.2),)) for place in (2, 4)}
    (finding,) = findings([HARDLY], gauging(section(others=thin)))

    assert "at tapes 2 and 4 ft, where the water is 0.04 ft, 0.08 ft deep" in finding.found
    assert finding.tapes == (2.0, 4.0)
