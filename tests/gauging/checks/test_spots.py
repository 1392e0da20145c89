"""Findings over several channels, whose tapes are their own."""

from collections.abc import Sequence

import pytest

from bankside.gauging.checks import (
    angle,
    exposure,
    unit_slips,
    velocity_range,
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
