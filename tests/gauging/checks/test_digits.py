"""Figures as they are written, and what a slip makes of them."""

import pytest

from bankside.gauging.checks.digits import (
    by_writing,
    decimals,
    ends_in_0_or_5,
    finer,
    shifted,
    step,
    swapped,
)


def test_decimals_are_those_written() -> None:
    """0.055 was written with three, 2.0 needs none."""
    assert decimals([0.1, 0.055, 2.0]) == 3
    assert decimals([2.0]) == decimals([]) == 0


@pytest.mark.parametrize(
    ("values", "expected"), [([0.11, 0.2], 0.01), ([0.05, 0.055, 0.11], 0.005), ([0.5, 1.0], 0.5)]
)
def test_step(values: list[float], expected: float) -> None:
    """Half a centimetre where no figure needs a finer rod."""
    assert step(values) == expected


def test_a_moved_point_comes_out_as_it_would_be_written() -> None:
    """1.2 and 0.16, without the noise of binary fractions."""
    assert shifted(1.2) == (0.12, 12.0)
    assert shifted(0.16) == (0.016, 1.6)
    assert shifted(1e308) == (1e307,)


@pytest.mark.parametrize(
    ("value", "places", "expected"),
    [
        (1.32, 2, (3.12, 1.23)),
        (12.4, 1, (21.4, 14.2)),
        (0.3, 2, (3.0, 0.03)),
        (1.1, 1, ()),
        (-0.12, 2, (-1.02, -0.21)),
        (0.0, 2, ()),
    ],
)
def test_swapped_digits(value: float, places: int, expected: tuple[float, ...]) -> None:
    """Neighbouring digits change places, also across the point, which stays."""
    assert swapped(value, places) == expected


def test_a_figure_finer_than_all_others_speaks_against_itself() -> None:
    """0.016 among hundredths, be it the reading or what was to replace it."""
    others = [0.15, 0.17, 0.2]

    assert by_writing(0.16, 0.016, others) == 1
    assert by_writing(0.016, 0.16, others) == -1
    assert by_writing(0.16, 0.61, others) == 0
    assert by_writing(0.16, 0.016, others[:2]) == 0


def test_finer_than_what_is_written() -> None:
    """0.012 among hundredths; three figures and more tell the step."""
    assert finer(0.012, [0.15, 0.17, 0.2])
    assert not finer(0.12, [0.15, 0.17, 0.2])
    assert not finer(0.012, [0.15, 0.17])


@pytest.mark.parametrize(
    ("value", "places", "expected"),
    [(0.35, 2, True), (0.3, 2, True), (0.36, 2, False), (0.31, 2, False), (0.35, 1, False)],
)
def test_ends_in_0_or_5(value: float, places: int, expected: bool) -> None:
    """The last decimal written; 0.3 written with two ends in 0."""
    assert ends_in_0_or_5(value, places) is expected
