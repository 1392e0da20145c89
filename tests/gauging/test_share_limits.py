"""The aim and the limit for the share of one panel."""

import pytest

from bankside.gauging.share_limits import SHARE_AIM, SHARE_LIMIT, above


@pytest.mark.parametrize(
    ("share", "over"),
    [(10.0, False), (10.04, False), (10.06, True), (-10.06, True), (9.9, False), (-50.0, True)],
)
def test_what_reads_as_the_limit_keeps_to_it(share: float, over: bool) -> None:
    """No panel above 10 %: 10.04 is printed 10.0, and the sign is that of the flow."""
    assert above(share, SHARE_LIMIT) is over


def test_the_aim_and_the_limit_are_those_of_the_trade() -> None:
    """5 % if possible, never above 10 % (USGS practice as quoted in MDPI Water 2018, 10, 1010)."""
    assert (SHARE_AIM, SHARE_LIMIT) == (5, 10)
