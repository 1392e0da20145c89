"""The mean gauge height by hand, in each of its weightings, and what is said of them."""

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from bankside.gauging.compute import compute
from bankside.gauging.mean_stage import MeanStage, mean_stage
from bankside.gauging.records import (
    Channel,
    Gauging,
    PointReading,
    StageReading,
    Units,
    Vertical,
)

CLOSE = 1e-12


def _minute(minutes: float) -> datetime:
    return datetime(2026, 7, 14, 10, 0, tzinfo=UTC) + timedelta(minutes=minutes)


def _read(*levels: tuple[float, float | None]) -> tuple[StageReading, ...]:
    """Stages with the minutes at which they were read."""
    return tuple(
        StageReading(level, None if minutes is None else _minute(minutes))
        for level, minutes in levels
    )


def _gauging(
    stage: tuple[StageReading, ...],
    wet: tuple[tuple[float, float | None], ...] = ((1.0, None), (3.0, None)),
    edge_at: float | None = None,
    **fields: Any,
) -> Gauging:
    """Verticals of 1 ft depth, 1 ft apart; wet: velocity and the minute of each."""
    at = None if edge_at is None else _minute(edge_at)
    verticals = (
        Vertical(0.0, 0.0, edge="left", bank="sloping", at=at),
        *(
            Vertical(
                float(place),
                1.0,
                (PointReading(velocity),),
                at=None if minutes is None else _minute(minutes),
            )
            for place, (velocity, minutes) in enumerate(wet, start=1)
        ),
        Vertical(len(wet) + 1.0, 0.0, edge="right", bank="sloping", at=at),
    )
    return Gauging(Units("ft", "ft/s"), (Channel(verticals),), stage=stage, **fields)


def _mean(gauging: Gauging, **how: Any) -> MeanStage:
    found = mean_stage(gauging, compute(gauging, **how))
    assert found is not None
    return found


def test_by_discharge() -> None:
    """1 ft³/s at 10:15 and 3 at 10:45, of 10.0 to 10.2 ft in an hour: (10.05 + 3 × 10.15) / 4."""
    gauging = _gauging(_read((10.0, 0), (10.2, 60)), ((1.0, 15), (3.0, 45)))
    mean = _mean(gauging)
    assert (mean.weighting, mean.unit, mean.readings) == ("discharge", "ft", 2)
    assert mean.how == "weighted by discharge"
    assert mean.value == pytest.approx(10.125, rel=CLOSE)
    assert mean.remarks == (
        "The mean gauge height is weighted by discharge over 2 readings, each vertical's "
        "discharge at its own time.",
    )


def test_by_discharge_with_panels_between_two_verticals() -> None:
    """Panels of 0.25, 2 and 0.75 ft³/s, each at the mean of the stages of its two verticals.

    Edges at 10:00: 10.0 ft, verticals at 10:30 and 11:00: 10.1 and 10.2 ft. By hand
    (0.25 × 10.05 + 2 × 10.15 + 0.75 × 10.1) / 3.
    """
    gauging = _gauging(_read((10.0, 0), (10.2, 60)), ((1.0, 30), (3.0, 60)), edge_at=0)
    mean = _mean(gauging, method="mean-section")
    assert mean.weighting == "discharge"
    assert mean.value == pytest.approx(30.3875 / 3, rel=CLOSE)


def test_by_time() -> None:
    """10 minutes from 10.0 to 10.1 ft and 30 at 10.1: (10 × 10.05 + 30 × 10.1) / 40."""
    mean = _mean(_gauging(_read((10.0, 0), (10.1, 10), (10.1, 40))))
    assert mean.weighting == "time"
    assert mean.value == pytest.approx(10.0875, rel=CLOSE)
    (remark,) = mean.remarks
    assert "by time" in remark and "not all verticals have a time" in remark


def test_by_time_from_start_to_end() -> None:
    """Ten minutes more at either end at 10.0 and 10.1 ft: 604.5 / 60, and it is said."""
    mean = _mean(
        _gauging(_read((10.1, 40), (10.0, 0), (10.1, 10)), started=_minute(-10), ended=_minute(50))
    )
    assert mean.value == pytest.approx(10.075, rel=CLOSE)
    assert any("stood still" in remark for remark in mean.remarks)


def test_equal_discharges_at_even_times_are_the_time() -> None:
    """By another road: four equal panels, each in the middle of its quarter of the hour."""
    stage = _read((10.0, 0), (10.4, 20), (10.1, 60))
    even = tuple((1.0, minutes) for minutes in (7.5, 22.5, 37.5, 52.5))
    by_discharge = _mean(_gauging(stage, even))
    # Straight pieces at 10:07.5, 10:22.5, 10:37.5 and 10:52.5, by hand.
    stages = [10.0 + 0.4 * 7.5 / 20, *(10.4 - 0.3 * m / 40 for m in (2.5, 17.5, 32.5))]
    assert by_discharge.value == pytest.approx(sum(stages) / 4, rel=CLOSE)


@pytest.mark.parametrize("minutes", [None, 20.0])
def test_a_level_that_stands_is_its_own_mean(minutes: float | None) -> None:
    """However it is weighted, a level that does not move is the mean."""
    mean = _mean(_gauging(_read((10.0, 0), (10.0, 60)), ((1.0, minutes), (3.0, minutes))))
    assert (mean.value, mean.change, mean.climb) == (10.0, 0.0, 0.0)


@pytest.mark.parametrize(
    ("stage", "why"),
    [
        (_read((10.0, None), (10.3, None)), "not all readings have a time"),
        (_read((10.0, 0), (10.3, None)), "not all readings have a time"),
        (_read((10.0, 5), (10.3, 5)), "all readings have the same time"),
    ],
)
def test_the_plain_mean(stage: tuple[StageReading, ...], why: str) -> None:
    """Without times there is nothing to weight by, and the remark says so."""
    mean = _mean(_gauging(stage))
    assert (mean.weighting, mean.value) == ("none", pytest.approx(10.15, rel=CLOSE))
    assert why in mean.remarks[0]


def test_water_running_upstream_is_no_weight() -> None:
    """A negative weight could put the mean outside all that was read: time it is."""
    gauging = _gauging(_read((10.0, 0), (10.2, 60)), ((-1.0, 15), (3.0, 45)))
    mean = _mean(gauging)
    assert (mean.weighting, mean.value) == ("time", pytest.approx(10.1, rel=CLOSE))
    assert "upstream" in mean.remarks[0]


def test_change_and_climb() -> None:
    """The most it rose from any reading to a later one, in the order of time."""
    mean = _mean(_gauging(_read((10.1, 60), (10.0, 0), (9.7, 30))))
    assert mean.change == pytest.approx(0.4, rel=CLOSE)
    assert mean.climb == pytest.approx(0.4, rel=1e-9)
    assert mean.words(mean.change or 0.0) == "0.4 ft"


def test_one_reading_and_none() -> None:
    """One reading stands for the mean, with a remark; without any there is none."""
    mean = _mean(_gauging(_read((10.0, 0))))
    assert (mean.value, mean.change, mean.climb, len(mean.remarks)) == (10.0, None, None, 1)
    assert mean.how == "the one reading"
    assert mean_stage(_gauging(()), None) is None


def test_without_a_discharge() -> None:
    """Before there is a discharge the times of the stages are enough."""
    mean = mean_stage(_gauging(_read((10.0, 0), (10.2, 60)), ((1.0, 15), (3.0, 45))), None)
    assert mean is not None
    assert (mean.weighting, mean.value) == ("time", pytest.approx(10.1, rel=CLOSE))
