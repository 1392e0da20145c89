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


def test_a_position_of_whole_degrees() -> None:
    """No decimals at all are within half a degree, 55 556 m (a quadrant is 10 000 km)."""
    (finding,) = findings(CHECKS, _at(45.0, -1.0))
    assert "0 decimals" in finding.found and "55,556 m" in finding.found
