"""What is measured of where nobody is sent."""

from calibration.advice import SEEDS
from calibration.strong_water import Tried, counts, tried_in


def test_what_is_counted() -> None:
    """Of four places two are at a limit, one of which somebody would be sent to."""
    tried = [
        Tried(deeper=True, stronger=True, at_limit=True, sent=True),
        Tried(deeper=False, stronger=True, at_limit=True, sent=False),
        Tried(deeper=False, stronger=False, at_limit=False, sent=False),
        Tried(deeper=False, stronger=False, at_limit=False, sent=True),
    ]

    assert counts(tried) == {
        "places": 4,
        "deeper": 1,
        "stronger": 2,
        "at a limit": 2,
        "sent to a limit": 1,
        "held back below": 1,
    }


def test_every_interval_with_room_is_tried() -> None:
    """Between 12 verticals and two edges there are 13."""
    assert len(list(tried_in("run", SEEDS))) == 13
