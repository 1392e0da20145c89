"""Positions that cannot be right, and positions that may be anywhere near."""

import pytest

from bankside.gauging.checks.position import CHECKS
from bankside.gauging.records import Gauging, Position, Site

from .conditions_building import findings, gauging, severities

NOT_RIGHT = ("Position cannot be right", "explain")
VAGUE = ("Position too vague", "note")


def _at(lat: float, lon: float, accuracy: float | None = 4.0) -> Gauging:
    return gauging(site=Site(position=Position(lon, lat, accuracy)))


@pytest.mark.parametrize(
    ("record", "expected"),
    [
        (_at(45.67891, -1.23456), []),
        (_at(45.67891, -1.23456, 30.0), []),
        (_at(45.67891, -1.23456, 31.0), [VAGUE]),
        (_at(45.67891, -1.23456, None), [VAGUE]),
        (_at(45.678, -1.234), [VAGUE]),
        (_at(45.6789, -1.2345), []),
        (_at(45.6789, -1.2), []),
        (_at(45.0, -1.0, None), [VAGUE]),
        (_at(45.0, -1.0, 31.0), [VAGUE, VAGUE]),
        (_at(0.0, 0.0), [NOT_RIGHT]),
        (_at(0.0, -1.23456), []),
        (_at(45.67891, 45.67891), [NOT_RIGHT]),
        (_at(45.67891, 45.67892), []),
        (gauging(), []),
    ],
)
@pytest.mark.parametrize("finished", [True, False])
def test_positions(record: Gauging, expected: list[tuple[str, str]], finished: bool) -> None:
    """30 m will do. Half of a thousandth of a degree is 56 m, of a ten-thousandth 6 m.

    A degree of latitude is 111 km, so one coordinate of four decimals is fine enough.
    """
    assert severities(CHECKS, record, finished=finished) == expected


@pytest.mark.parametrize(
    ("lat", "lon", "figures"),
    [
        (45.0, -1.0, "0 decimals of a degree, which is within 55,556 m, more than 30 m."),
        (45.6, -1.0, "1 decimal of a degree, which is within 5,556 m, more than 30 m."),
        (45.678, -1.2, "3 decimals of a degree, which is within 56 m, more than 30 m."),
    ],
)
def test_how_vague_a_position_of_few_decimals_is(lat: float, lon: float, figures: str) -> None:
    """No decimals at all are within half a degree, 55 556 m (a quadrant is 10 000 km)."""
    (finding,) = findings(CHECKS, _at(lat, lon))
    assert finding.found.endswith(figures)
    assert [t.name for t in finding.thresholds] == ["position_accuracy"]


def test_the_accuracy_shown_is_named_beside_its_limit() -> None:
    """31 m, where 30 m will do."""
    (finding,) = findings(CHECKS, _at(45.67891, -1.23456, 31.0))
    assert finding.found == "The position may be off by 31 m, more than 30 m."
    assert [t.name for t in finding.thresholds] == ["position_accuracy"]


@pytest.mark.parametrize(("both", "figure"), [(0.0, "0 and longitude 0"), (45.67891, "45.67891")])
def test_a_receiver_without_a_fix_is_told_from_a_figure_written_twice(
    both: float, figure: str
) -> None:
    """Either names the figure that stands there."""
    (finding,) = findings(CHECKS, _at(both, both))
    assert figure in finding.found
    assert ("without a fix" in finding.advice) is (both == 0.0)
