"""Times that cannot be true: no time at all, too little, too much, and days to come."""

from datetime import date, timedelta

import attrs
import pytest

from bankside.gauging.checks.clock import CHECKS

from .conditions_building import COMPLETE, START, findings, severities

ENDS, QUICK, LONG, COME = CHECKS


@pytest.mark.parametrize(
    ("seconds", "expected"),
    [
        (0, [("Ends when it starts", "explain")]),
        (1, [("Too quick to be true", "explain")]),
        (399, [("Too quick to be true", "explain")]),
        (400, []),
        (5400, []),
        (5401, [("Took very long", "note")]),
    ],
)
def test_how_long_it_took(seconds: int, expected: list[tuple[str, str]]) -> None:
    """20 velocities take 20 s each, 400 s, at the least; 90 minutes are 5400 s."""
    record = attrs.evolve(COMPLETE, ended=START + timedelta(seconds=seconds))
    assert severities(CHECKS, record) == expected
    assert severities(CHECKS, record, finished=False) == []


def test_an_unknown_end_says_nothing() -> None:
    """Without an end there is no duration."""
    assert severities(CHECKS, attrs.evolve(COMPLETE, ended=None)) == []


@pytest.mark.parametrize("finished", [True, False])
def test_a_date_to_come(finished: bool) -> None:
    """Today is no day to come, and without a today nothing can be said."""
    for today, count in ((date(2026, 7, 13), 1), (date(2026, 7, 14), 0), (None, 0)):
        for record in (COMPLETE, attrs.evolve(COMPLETE, date=None)):
            found = severities([COME], record, today=today, finished=finished)
            assert found == [("Date to come", "explain")] * count


@pytest.mark.parametrize(
    ("seconds", "words"), [(119, "119 s"), (120, "2 minutes"), (5460, "91 minutes")]
)
def test_how_long_it_took_is_told(seconds: int, words: str) -> None:
    """In seconds below two minutes, then in minutes."""
    record = attrs.evolve(COMPLETE, ended=START + timedelta(seconds=seconds))
    (finding,) = findings([QUICK, LONG], record)
    assert f" {words}, " in finding.found
    assert [t.name for t in finding.thresholds] == ["duration_longest"] * (seconds > 5400)


def test_without_a_date_none_is_to_come() -> None:
    """Neither a date nor a start: there is nothing to hold against today."""
    record = attrs.evolve(COMPLETE, date=None, started=None, ended=None)
    assert severities([COME], record, today=date(2026, 7, 13)) == []
