"""Sections with verticals left out."""

import attrs
import pytest

from bankside.gauging.compute import compute
from calibration.gaugings import Case
from calibration.thinned import WAYS, WITH_READINGS, thinned_sections


def test_a_thinned_section_is_held_against_the_whole_one() -> None:
    """Half the verticals or two thirds of them stay, and the error is what the whole has more."""
    case = Case("run", 24, "careful", 20_000_000)
    whole = case.gauging(case.stream())
    found = list(thinned_sections(0, whole))
    channel = whole.channels[0]
    odd = (channel.verticals[0], *channel.verticals[2:-1:2], channel.verticals[-1])
    half = attrs.evolve(whole, channels=(attrs.evolve(channel, verticals=odd),))
    ratio = compute(whole).discharge_m3s / compute(half).discharge_m3s

    assert [one.verticals for one in found if one.way == WAYS[0]] == [12, 12]
    assert [one.verticals for one in found if one.way == WAYS[1]] == [16] * 5
    assert found[0].error == pytest.approx(ratio - 1.0)
    for one in found:
        assert one.intervals[WITH_READINGS].wide > one.intervals["between-verticals"].wide > 0.0
