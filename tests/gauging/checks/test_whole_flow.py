"""Whether all the water passes the section, as the crew looked."""

import pytest

from bankside.gauging.checks.whole_flow import CHECKS

from .conditions_building import gauging, severities

NAME = "Is all the water here?"


@pytest.mark.parametrize(
    ("whole", "finished", "expected"),
    [
        (True, True, []),
        (False, True, [(NAME, "fix now")]),
        (None, True, [(NAME, "note")]),
        (False, False, [(NAME, "fix now")]),
        (None, False, []),
    ],
)
def test_the_crews_look(
    whole: bool | None, finished: bool, expected: list[tuple[str, str]]
) -> None:
    """Missing water is to be fixed, an open question a note, and not yet one before the end."""
    assert severities(CHECKS, gauging(whole_flow=whole), finished=finished) == expected
