"""What verticals have in common; findings over several channels, whose tapes are their own."""

from collections.abc import Sequence

import pytest

from bankside.gauging.checks import (
    angle,
    exposure,
    unit_slips,
    velocity_range,
)
from bankside.gauging.checks.examined import Examined, examine
from bankside.gauging.checks.finding import Check
from bankside.gauging.checks.spots import channel_of, in_words, share_of
from bankside.gauging.records import Channel, Vertical

from .conditions_building import RULES, findings, gauging, point

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


def _four(finished: bool) -> Examined:
    """Panels of 1, 1, 1 and −1 ft³/s: 50 % of the discharge each, the last against it."""
    edges = [Vertical(at, 0.0, edge=bank) for at, bank in ((0.0, "left"), (5.0, "right"))]
    inner = [_vertical(float(i), velocity=-1.0 if i == 4 else 1.0) for i in range(1, 5)]
    made = gauging((Channel((edges[0], *inner, edges[1])),))
    return examine(made, RULES, finished=finished)


def test_the_share_of_verticals_is_what_they_carry_either_way() -> None:
    """Before the end none is told."""
    assert share_of([*_four(True).spots][3:5]) == pytest.approx(100.0, rel=1e-12)
    assert share_of([*_four(False).spots]) == 0.0


def test_verticals_of_one_channel_have_it_in_common() -> None:
    """Its number is that of the record, from 0."""
    examined = _four(True)

    assert channel_of([*examined.spots]) == 0
    assert in_words(examined, [*examined.spots][1:3]) == "tapes 1 and 2 ft"
