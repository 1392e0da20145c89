"""The velocity at each point of a vertical: as called or by the rating, repeats taken together."""

from collections.abc import Iterable, Mapping, Sequence

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.meter_rating import beyond_rating, rated_velocity
from bankside.gauging.records import PointReading, RatingPart

__all__ = ["point_velocities", "repeats_by_point"]

# 1 - 0.8 is not quite 0.2: fractions worked out from heights above the bed still find their method.
_DIGITS = 9

# Ours, no source: how far a velocity may be from its counts before somebody should look.
_DISAGREE = 0.05


def point_velocities(
    readings: Iterable[PointReading], rating: tuple[RatingPart, ...], assumptions: list[str]
) -> dict[float | None, float]:
    """Return the velocity at each fraction, in the unit called; None is the mean of the vertical.

    Readings repeated at one fraction become their mean, weighted by their times where all of them
    have one: that is the mean over all the time that the meter was held there (common practice,
    no source). What had to be assumed is added to `assumptions`.
    """
    repeats = {
        at: [(_called(reading, rating, assumptions), reading.seconds) for _, reading in here]
        for at, here in repeats_by_point(readings).items()
    }
    return {at: _as_one(at, values, assumptions) for at, values in repeats.items()}


def repeats_by_point(
    readings: Iterable[PointReading],
) -> Mapping[float | None, list[tuple[int, PointReading]]]:
    """Return the readings by fraction, each with its place among those called.

    None is the mean of the vertical.
    """
    repeats: dict[float | None, list[tuple[int, PointReading]]] = {}
    for place, reading in enumerate(readings):
        repeats.setdefault(_rounded(reading.fraction), []).append((place, reading))
    return repeats


def _rounded(fraction: float | None) -> float | None:
    return None if fraction is None else round(float(fraction), _DIGITS)


def _called(reading: PointReading, rating: tuple[RatingPart, ...], assumptions: list[str]) -> float:
    """Return the velocity as called, or from the counts where only they were called."""
    rated = rated_velocity(reading, rating)
    if reading.value is not None:
        assumptions += _disagreement(reading.value, rated)
        return reading.value
    if rated is None:
        raise InputRefused([Fault("value must be given, or counts and a rating", path="velocity")])
    if reading.counts == 0:
        assumptions.append(
            "The meter did not turn at {at}: the velocity is taken as 0, not as the intercept of "
            "the rating."
        )
    if beyond_rating(reading, rating):
        assumptions.append(
            "The meter turned faster at {at} than its rating reaches: the last part is extended."
        )
    return rated


def _disagreement(called: float, rated: float | None) -> Iterable[str]:
    # Counts have no direction, so a velocity upstream is compared by its amount.
    if rated is None:
        return
    larger = max(abs(called), abs(rated))
    if abs(abs(called) - abs(rated)) > _DISAGREE * larger:
        yield (
            f"The velocity called at {{at}}, {called:.4g} {{velocity}}, is used, though its counts "
            f"give {rated:.4g} {{velocity}} by the rating."
        )


def _as_one(
    at: float | None, readings: Sequence[tuple[float, float | None]], assumptions: list[str]
) -> float:
    times = [seconds for _, seconds in readings if seconds is not None]
    timed = len(times) == len(readings)
    longest = max(times) if timed else 1.0
    total = weight = 0.0
    for value, seconds in readings:
        part = seconds / longest if timed and seconds is not None else 1.0
        total += part * value
        weight += part
    mean = total / weight
    if len(readings) > 1:
        values = [value for value, _ in readings]
        weighted = "weighted by time, " if timed and min(times) < longest else ""
        assumptions.append(
            f"The velocity {_place(at)} was read {len(readings)} times at {{at}}, from "
            f"{min(values):.4g} to {max(values):.4g} {{velocity}}: the mean, {weighted}"
            f"{mean:.4g} {{velocity}}, is used."
        )
    return mean


def _place(fraction: float | None) -> str:
    if fraction is None:
        return "of the vertical"
    return {0.0: "at the surface", 1.0: "at the bed"}.get(fraction, f"at {fraction:g} of the depth")
