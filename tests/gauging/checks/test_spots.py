"""Findings over several channels, whose tapes are their own."""

from collections.abc import Sequence

import pytest

from bankside.gauging.checks import (
    angle,
    barely_covered,
    exposure,
    unit_slips,
    velocity_range,
    vertical_profile,
)
from bankside.gauging.checks.finding import Check
from bankside.gauging.records import Channel, Vertical

from .conditions_building import findings, gauging, point

BOTH = "tapes 1 and 2 ft of channel 1 and tape 1 ft of channel 2"


def _vertical(tape: float, depth: float = 1.0, velocity: float = 1.0, **fields: float) -> Vertical:
    return Vertical(tape, depth, (point(velocity, seconds=20.0),), **fields)


@pytest.mark.parametrize(
    ("checks", "name", "read"),
    [
        (velocity_range.CHECKS, "Slower than the meter can tell", {"velocity": 0.05}),
        (velocity_range.CHECKS, "Too shallow for the meter", {"depth": 0.25}),
        (velocity_range.CHECKS, "Water running upstream", {"velocity": -1.0}),
        (unit_slips.CHECKS, "Velocity unit wrong", {"depth": 0.3, "velocity": 6.0}),
        (exposure.CHECKS, "Count too short", {}),
        (angle.CHECKS, "Flow not square to the tape", {"angle_coefficient": 0.97}),
    ],
)
def test_verticals_in_several_channels_are_told_with_their_channels(
    checks: Sequence[Check], name: str, read: dict[str, float]
) -> None:
    """Tape 1 ft stands in either of them."""
    made = gauging(
        (
            Channel((Vertical(0.0, 0.0, edge="left"), *(_vertical(i, **read) for i in (1.0, 2.0)))),
            Channel((_vertical(1.0, **read), Vertical(2.0, 0.0, edge="right"))),
        )
    )

    (finding,) = (f for f in findings(checks, made) if f.check == name)

    assert BOTH in finding.found and BOTH in finding.advice
    assert (finding.channel, finding.tapes) == (None, (1.0, 2.0, 1.0))


def test_what_is_to_be_done_in_another_channel_names_it() -> None:
    """Angles were read in the first of two channels only."""
    left, right = (Vertical(at, 0.0, edge=bank) for at, bank in ((0.0, "left"), (2.0, "right")))
    askew = Channel((left, _vertical(1.0, angle_coefficient=0.9), right))
    unread = Channel((left, _vertical(1.0), right))

    (finding,) = findings(angle.CHECKS, gauging((askew, unread)))

    assert (finding.channel, finding.tapes) == (0, (1.0,))
    assert finding.advice.startswith(
        "Read the angle at tape 1 ft of channel 2 as well, or stretch the tape anew at tape 1 ft "
        "of channel 1, "
    )


def test_each_depth_and_each_pair_is_told_with_its_channel() -> None:
    """One point where two are needed, an odd pair, and water that hardly covers the meter."""
    pair = (point(0.5, 0.2), point(0.6, 0.8))
    channel = Channel((_vertical(1.0, 3.0), Vertical(2.0, 1.0, pair), _vertical(3.0, 0.05)))
    made = gauging((channel, channel))

    one, odd, _, bare = findings((*vertical_profile.CHECKS, *barely_covered.CHECKS), made)

    assert one.found.endswith(": at tape 1 ft of channel 1 (3 ft), tape 1 ft of channel 2 (3 ft).")
    assert "tape 2 ft of channel 1; 0.5 ft/s over 0.6 ft/s at tape 2 ft of channel 2" in odd.found
    assert "at tape 3 ft of channel 1 and tape 3 ft of channel 2, where" in bare.found
