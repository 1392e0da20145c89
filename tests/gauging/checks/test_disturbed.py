"""Stones and weed: moved before the start, during the measuring, or after it."""

from datetime import datetime, timedelta, timezone

import attrs
import pytest

from bankside.gauging.checks.disturbed import CHECKS
from bankside.gauging.records import Channel, Vertical

from .conditions_building import COMPLETE, findings, gauging, minute, point, severities

NAME = "Bed disturbed during measuring"


@pytest.mark.parametrize(
    ("cleared", "expected"),
    [
        (None, []),
        (minute(-1), []),
        (minute(0), []),
        (minute(1), ["fix now"]),
        (minute(44), ["fix now"]),
        (minute(45), ["note"]),
        (minute(60), ["note"]),
    ],
)
def test_when_it_was_moved(cleared: datetime | None, expected: list[str]) -> None:
    """Between the first and the last reading it spoils both; before it is as it should be."""
    record = attrs.evolve(COMPLETE, cleared=cleared)
    assert severities(CHECKS, record) == [(NAME, severity) for severity in expected]


def test_unfinished() -> None:
    """Before the last reading anything moved after the first one means to start again."""
    record = attrs.evolve(COMPLETE, ended=None, cleared=minute(10))
    assert severities(CHECKS, record, finished=False) == [(NAME, "fix now")]
    before = attrs.evolve(record, cleared=minute(-10))
    assert severities(CHECKS, before, finished=False) == []


def test_an_unknown_end() -> None:
    """Finished, and nobody knows when: it may have been moved after the last reading."""
    record = attrs.evolve(COMPLETE, ended=None, cleared=minute(10))
    assert severities(CHECKS, record) == [(NAME, "explain")]


def test_all_times_are_told_by_one_clock() -> None:
    """10:30 by the crew's clock is 10:30 in the finding, whatever clock wrote the clearing."""
    east = minute(30).astimezone(timezone(timedelta(hours=2)))
    (finding,) = findings(CHECKS, attrs.evolve(COMPLETE, cleared=east))
    assert "moved at 10:30, after the measuring had begun at 10:00" in finding.found
    plus_two = timezone(timedelta(hours=2))
    assert COMPLETE.started is not None
    there = attrs.evolve(
        COMPLETE, started=COMPLETE.started.astimezone(plus_two), cleared=minute(60)
    )
    (finding,) = findings(CHECKS, there)
    assert "moved at 13:00, after the last reading at 12:45." in finding.found


def test_the_verticals_tell_the_time_as_well() -> None:
    """Without start and end, the first and the last vertical say when it was measured."""
    verticals = tuple(Vertical(x, 1.0, (point(1.0),), at=minute(10 * x)) for x in (1.0, 2.0, 3.0))
    record = gauging((Channel(verticals),), cleared=minute(20))
    assert severities(CHECKS, record) == [(NAME, "fix now")]
    assert severities(CHECKS, attrs.evolve(record, cleared=minute(30))) == [(NAME, "note")]
    assert severities(CHECKS, attrs.evolve(record, cleared=minute(5))) == []


def test_without_any_time_nothing_is_said() -> None:
    """When it was moved says nothing where nobody knows when it was measured."""
    assert severities(CHECKS, gauging(cleared=minute(20))) == []
