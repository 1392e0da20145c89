"""What a check is handed: velocities by the meter's rating, and which way the water runs."""

from typing import Any

import pytest

from bankside.gauging.checks.examined import Spot, examine
from bankside.gauging.checks.forward import mean_with, runs_back, runs_forward
from bankside.gauging.records import (
    Channel,
    Gauging,
    Meter,
    PointReading,
    RatingPart,
    Units,
    Vertical,
)

from .sections import METRIC, RULES, gauging, left, read, right


def _spot(vertical: Vertical) -> Spot:
    made = gauging(left(), vertical, right(3.0), units=METRIC)
    return examine(made, RULES, finished=False).channels[0].across[1]


def _points(*values: float, **fields: Any) -> Vertical:
    """A vertical 1 m deep, read at 0.2 and 0.8 of its depth."""
    readings = tuple(PointReading(v, at) for v, at in zip(values, (0.2, 0.8), strict=True))
    return Vertical(1.0, 1.0, readings, **fields)


@pytest.mark.parametrize(
    ("vertical", "forward", "back"),
    [
        (_points(1.0, 0.5), True, False),
        (_points(1.0, 0.0), False, False),
        (_points(1.0, -0.5), False, True),
        (_points(1.0, 0.5, angle_coefficient=0.0), False, False),
        (read(1.0, 0.0), False, False),
        (Vertical(1.0, 1.0), False, False),
    ],
)
def test_which_way_the_water_runs(vertical: Vertical, forward: bool, back: bool) -> None:
    """Downstream at every point, in water, and not along the tape; upstream at one at least."""
    spot = _spot(vertical)

    assert (runs_forward(spot), runs_back(spot)) == (forward, back)


def test_counts_are_velocities_by_the_meters_rating() -> None:
    """60 turns in 30 s are 2 a second: 0.5 × 2 + 0.1 m/s; with 1.5 m/s at the other point 1.3."""
    readings = (PointReading(None, 0.2, seconds=30.0, counts=60.0), PointReading(0.5, 0.8))
    channel = Channel((left(), Vertical(1.0, 1.0, readings), right(3.0)))
    made = Gauging(METRIC, (channel,), meter=Meter(rating=(RatingPart(0.5, 0.1),)))
    examined = examine(made, RULES, finished=False)
    spot = examined.channels[0].across[1]

    assert dict(spot.points) == pytest.approx({0.2: 1.1, 0.8: 0.5})
    assert spot.velocity_ms == pytest.approx(0.8)
    assert mean_with(examined, spot, 1, 1.5) == pytest.approx(1.3)


@pytest.mark.parametrize(
    ("length", "words"), [("ft", "0.3 ft"), ("in", "0.3 ft"), ("m", "0.0914 m (0.3 ft)")]
)
def test_a_limit_is_told_in_the_crews_system(length: Any, words: str) -> None:
    """Inches are of the same system as feet."""
    examined = examine(gauging(units=Units(length, "ft/s")), RULES, finished=False)

    assert examined.limit(RULES["spacing_least"]) == words
