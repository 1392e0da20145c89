"""A velocity as written, taken apart: point, rod, exposure, meter, and what was written."""

from __future__ import annotations

import math
from typing import Final

import attrs

from bankside.gauging.faults import InputRefused
from bankside.gauging.mean_velocity import mean_velocity
from bankside.gauging.records import Gauging, PointReading, Vertical
from bankside.gauging.units import metres_per_second_per
from bankside.practice.debrief.matching import Behind
from bankside.practice.session.shown import ShownPoint

__all__ = ["PointParts", "point_parts"]

_NOTHING: Final = 1e-9


@attrs.frozen
class PointParts:
    """A velocity written, in m/s.

    The figure is ((plain + meant + set + exposure) × gain + zero) × written.
    `plain` is the true mean of the vertical, `meant` what the point where the meter was meant to be
    differs from it, `set` what the point where it was differs from that. `quicker` is by how much
    the water was faster than in the middle of the gauging; `weight` that of the reading in the mean
    of the vertical. `held` is whether anybody held the meter there and it showed a figure.
    """

    weight: float
    plain: float
    meant: float
    set: float
    exposure: float
    gain: float
    zero: float
    written: float
    quicker: float
    held: bool = True

    def value(self, wrong: frozenset[str]) -> float:
        """Return the velocity with the errors of these sources, and of no others."""
        found = self.plain
        found += self.meant if "points" in wrong else 0.0
        found += self.set if "rod setting" in wrong else 0.0
        if "level" not in wrong:
            found /= self.quicker
        if "exposure" in wrong:
            found += self.exposure
        if "meter handling" in wrong:
            found = found * self.gain + self.zero
        return (
            found * self.written
            if ("arithmetic" if self.held else "no reading") in wrong
            else found
        )


def point_parts(
    record: Gauging, row: Vertical, behind: Behind, middle: float
) -> tuple[PointParts, ...]:
    """Return the readings of a vertical taken apart, none where they give no mean velocity."""
    weights = _weights(row)
    if weights is None or any(reading.value is None for reading in row.velocity):
        return ()
    unit = metres_per_second_per(record.units.velocity)
    whole = math.fsum(weights)
    return tuple(
        _point((reading.value or 0.0) * unit, unit, shown, behind, weight, whole, middle)
        for reading, shown, weight in zip(row.velocity, behind.points, weights, strict=True)
    )


def _point(
    written: float,
    unit: float,
    shown: ShownPoint | None,
    behind: Behind,
    weight: float,
    whole: float,
    middle: float,
) -> PointParts:
    at = middle if shown is None else shown.at
    plain = behind.water.mean_speed_at(behind.y, at) / whole
    quicker = behind.water.faster(at) / behind.water.faster(middle)
    if shown is None or shown.called is None:
        # Nobody read it: all that is wrong with it is that it stands there.
        wrongly = _over(written, plain)
        return PointParts(weight, plain, 0.0, 0.0, 0.0, 1.0, 0.0, wrongly, quicker, held=False)
    gain = shown.gain * unit
    zero = shown.called * unit - (shown.true + shown.deviation) * gain
    return PointParts(
        *(weight, plain, shown.meant - plain, shown.true - shown.meant),
        *(shown.deviation, gain, zero),
        written=_over(written, shown.called * unit),
        quicker=quicker,
    )


def _over(written: float, called: float) -> float:
    return written / called if abs(called) > _NOTHING else 1.0


def _weights(row: Vertical) -> list[float] | None:
    """Return the weight of each reading in the mean of its vertical, None where it has no mean."""
    count = len(row.velocity)
    weights = []
    for place in range(count):
        readings = tuple(
            PointReading(float(i == place), reading.fraction, reading.seconds)
            for i, reading in enumerate(row.velocity)
        )
        try:
            weights.append(mean_velocity(Vertical(0.0, 1.0, readings), (), 1.0).value_ms)
        except InputRefused:
            return None
    return weights or None
