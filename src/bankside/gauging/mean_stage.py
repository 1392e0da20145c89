"""The mean gauge height of a gauging: to which stage its discharge belongs.

By discharge where the verticals tell when they were read, else by time, else the plain mean; which
it is goes with the figure. Between two readings the stage is taken to run straight, before the
first and after the last to stand still (ours, no source).
"""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from itertools import accumulate, pairwise
from typing import Literal

import attrs

from bankside.gauging.records import Gauging, StageReading
from bankside.gauging.result import Panel, Result
from bankside.gauging.units import LengthUnit
from bankside.kernel.discharge import mean_gauge_height_by_discharge, mean_gauge_height_by_time

__all__ = ["MeanStage", "StageWeighting", "mean_stage"]

StageWeighting = Literal["discharge", "time", "none"]

# Digits behind the point up to which a mean and a difference are shown: a tenth of what is read.
_DIGITS = 4

Moment = datetime.datetime
Mark = tuple[Moment, float]
"""A time and the stage that stood then."""


@attrs.frozen
class MeanStage:
    """The mean gauge height, how it was weighted, and how far the stage moved.

    All stages are in `unit`, as called. `weighting` is "discharge", "time" or "none" (the plain
    mean of the readings). `change` is the highest reading less the lowest, None with one reading
    only; `climb` is the most that the stage rose from any reading to a later one, 0 where it only
    fell, in the order of time or else as written. `remarks` say in sentences how the mean came
    about and what it rests on.
    """

    value: float
    unit: LengthUnit
    weighting: StageWeighting
    change: float | None
    climb: float | None
    readings: int
    remarks: tuple[str, ...]

    @property
    def how(self) -> str:
        """How the readings were weighted, in a phrase: "weighted by time"."""
        if self.weighting == "none":
            return "the one reading" if self.readings == 1 else "the plain mean of the readings"
        return f"weighted by {self.weighting}"

    def words(self, stage: float) -> str:
        """Return a stage or a difference of stages with its unit: "0.52 ft"."""
        return f"{round(stage, _DIGITS):.12g} {self.unit}"


def mean_stage(gauging: Gauging, result: Result | None) -> MeanStage | None:
    """Return the mean gauge height of a gauging, None where no stage was read.

    Weighted by discharge, Σ q h / Σ q, where two stages and all verticals that carry water have
    their times and no water runs upstream; by time, Σ t h / Σ t, from start to end of the gauging
    as far as they are known, where all stages have their times; else the plain mean.

    Source: USGS WSP 2175 vol. 1; TWRI 3-A8 (formulas from memory).
    """
    if not gauging.stage:
        return None
    readings = sorted(gauging.stage, key=_time) if _timed(gauging.stage) else gauging.stage
    value, weighting, remarks = _weighted(gauging, readings, result)
    values = [reading.value for reading in readings]
    several = len(values) > 1
    return MeanStage(
        value=value,
        unit=gauging.units.length,
        weighting=weighting,
        change=max(values) - min(values) if several else None,
        climb=_climb(values) if several else None,
        readings=len(values),
        remarks=remarks,
    )


def _climb(values: Sequence[float]) -> float:
    lowest = accumulate(values, min)
    return max(value - low for value, low in zip(values, lowest, strict=True))


def _timed(readings: Sequence[StageReading]) -> bool:
    return all(reading.at is not None for reading in readings)


def _time(reading: StageReading) -> Moment:
    assert reading.at is not None
    return reading.at


def _weighted(
    gauging: Gauging, readings: Sequence[StageReading], result: Result | None
) -> tuple[float, StageWeighting, tuple[str, ...]]:
    count = len(readings)
    plain = mean_gauge_height_by_time([reading.value for reading in readings], [1.0] * count)
    if count == 1:
        return plain, "none", ("There is one reading of the stage: it stands for the mean.",)
    marks = [(_time(r), r.value) for r in readings] if _timed(readings) else []
    if not marks:
        return plain, "none", (_plain(count, "as not all readings have a time"),)
    if marks[0][0] == marks[-1][0]:
        return plain, "none", (_plain(count, "as all readings have the same time"),)
    by_discharge, why_not = _by_discharge(gauging, result, marks)
    if by_discharge is not None:
        return by_discharge, "discharge", _discharge_remarks(gauging, marks)
    start, end = _span(gauging, marks)
    return (
        _by_time(marks, start, end),
        "time",
        (
            f"The mean gauge height is weighted by time over {count} readings, and not by "
            f"discharge, as {why_not}.",
            *_outside([start, end], marks),
        ),
    )


def _plain(count: int, why: str) -> str:
    return f"The mean gauge height is the plain mean of {count} readings, {why}."


def _discharge_remarks(gauging: Gauging, marks: Sequence[Mark]) -> tuple[str, ...]:
    times = [v.at for c in gauging.channels for v in c.verticals if v.at is not None]
    return (
        f"The mean gauge height is weighted by discharge over {len(marks)} readings, each "
        "vertical's discharge at its own time.",
        *_outside(times, marks),
    )


def _outside(times: Sequence[Moment], marks: Sequence[Mark]) -> tuple[str, ...]:
    """Return what is taken for granted before the first and after the last reading."""
    if min(times) >= marks[0][0] and max(times) <= marks[-1][0]:
        return ()
    return ("Before the first and after the last reading the stage is taken to have stood still.",)


def _by_discharge(
    gauging: Gauging, result: Result | None, marks: Sequence[Mark]
) -> tuple[float | None, str]:
    """Return the mean weighted by discharge, or None and why there is none."""
    if result is None:
        return None, "there is no discharge"
    panels = [panel for panel in result.panels if panel.discharge_m3s != 0]
    if not panels:
        return None, "no water flows"
    if any(panel.discharge_m3s < 0 for panel in panels):
        return None, "some water runs upstream"
    stages = [_stage_of(gauging, panel, marks) for panel in panels]
    if any(stage is None for stage in stages):
        return None, "not all verticals have a time"
    return (
        mean_gauge_height_by_discharge(
            [stage for stage in stages if stage is not None],
            [panel.discharge_m3s for panel in panels],
        ),
        "",
    )


def _stage_of(gauging: Gauging, panel: Panel, marks: Sequence[Mark]) -> float | None:
    """Return the stage while a panel was measured: at its vertical, or the mean of its two."""
    verticals = gauging.channels[panel.channel].verticals
    times = [v.at for v in verticals if v.tape in (panel.tape, panel.tape_to)]
    stages = [_stage_at(at, marks) for at in times if at is not None]
    if not stages or len(stages) < len(times):
        return None
    return stages[0] if len(stages) == 1 else (stages[0] + stages[1]) / 2


def _stage_at(moment: Moment, marks: Sequence[Mark]) -> float:
    if moment <= marks[0][0]:
        return marks[0][1]
    for (before, low), (after, high) in pairwise(marks):
        if moment <= after:
            whole = (after - before).total_seconds()
            part = (moment - before).total_seconds() / whole if whole > 0 else 1.0
            return low + part * (high - low)
    return marks[-1][1]


def _span(gauging: Gauging, marks: Sequence[Mark]) -> tuple[Moment, Moment]:
    """Return from when to when the gauging went on; by the readings where it is not written."""
    start = marks[0][0] if gauging.started is None else gauging.started
    end = marks[-1][0] if gauging.ended is None else gauging.ended
    return (start, end) if start < end else (marks[0][0], marks[-1][0])


def _by_time(marks: Sequence[Mark], start: Moment, end: Moment) -> float:
    turns = [start, *(at for at, _ in marks if start < at < end), end]
    return mean_gauge_height_by_time(
        [(_stage_at(a, marks) + _stage_at(b, marks)) / 2 for a, b in pairwise(turns)],
        [(b - a).total_seconds() for a, b in pairwise(turns)],
    )
