"""How grave a reading is that another figure would fit better."""

import pytest

from bankside.gauging.checks.slip_severity import as_odd, slip_severity


@pytest.mark.parametrize(
    ("better", "unsure", "never", "severity"),
    [
        (0.39, False, False, None),
        (0.4, False, False, "explain"),
        (1.3, False, False, "fix now"),
        (1.3, True, False, "explain"),
        (1.96, True, False, "fix now"),
        (9.0, False, True, "explain"),
    ],
)
def test_a_slip_takes_more_where_neighbours_tell_less(
    better: float, unsure: bool, never: bool, severity: str | None
) -> None:
    """Powers of ten: 2.5 times is 0.4, 20 times 1.3, 90 times 1.95; at most explain where never."""
    assert slip_severity(better, unsure=unsure, never=never) == severity


def test_what_a_slip_does_to_its_neighbour_does_not_clear_it() -> None:
    """A neighbour beaten by a quarter of the power of ten is odd as well, one by less is not."""
    assert as_odd(0.5, 2.0)
    assert not as_odd(0.45, 2.0)
    assert not as_odd(0.3, 0.4)
