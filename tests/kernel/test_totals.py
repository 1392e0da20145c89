"""What a total is worth beside its amounts, by hand."""

import pytest

from bankside.kernel.totals import amount_of, has_shares, share_of, without_rounding


def test_the_amount_of_panels_counts_both_ways() -> None:
    """Water that runs back is water all the same: 0.5 and 0.25 either way are 0.75."""
    assert amount_of([0.5, -0.25]) == 0.75
    assert amount_of([]) == 0.0


def test_what_rounding_leaves_of_nothing_is_nothing() -> None:
    """A trillionth of the amount is 0, ten times as much is a discharge."""
    assert without_rounding(1e-12, 1.0) == 0.0
    assert without_rounding(-1e-11, 1.0) == -1e-11


def test_panels_that_cancel_have_no_shares() -> None:
    """A thousandth of the amount says nothing; twice as much does."""
    assert not has_shares(-0.001, 1.0)
    assert has_shares(-0.002, 1.0)
    assert not has_shares(0.05, 100.0)
    assert has_shares(0.2, 100.0)


def test_a_share_is_a_percent_of_the_total() -> None:
    """A quarter of it is 25 %, and what runs the other way is negative."""
    assert share_of(0.5, 2.0) == 25.0
    assert share_of(-0.5, 2.0) == -25.0
    assert share_of(0.5, 2.0) + share_of(1.5, 2.0) == pytest.approx(100.0)


def test_rounding_goes_by_the_amount() -> None:
    """A trillionth of 100 m³/s is 1e-10, and a twentieth of 1 m³/s is 5 % of it."""
    assert without_rounding(5e-11, 100.0) == 0.0
    assert share_of(0.05, 1.0) == 5.0
