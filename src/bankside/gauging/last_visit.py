"""A gauging beside that of the last visit to the site: what differs, and what is odd about it.

What is odd is a question to ask while the crew can still look, and no verdict: streams do change.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import isfinite

import attrs

from bankside.gauging.header_records import Units
from bankside.gauging.mean_stage import mean_stage
from bankside.gauging.records import Gauging
from bankside.gauging.result import Result
from bankside.gauging.rounding import to_figures
from bankside.gauging.units import (
    cubic_metres_per_second_per,
    metres_per,
    metres_per_second_per,
)

__all__ = ["Compared", "compare_with_last_visit", "similar_stage"]

# Common practice, no source: at a similar stage, a width that differs by more than a fifth, or a
# mean depth that differs by more than a quarter, may be another section or a missed edge.
_WIDTH_PERCENT = 20.0
_DEPTH_PERCENT = 25.0
# Ours, no source: a stage that moved by no more than this part of the mean depth cannot explain
# such a difference.
_SIMILAR_STAGE = 0.1
# Common practice, no source: a mean velocity about 3.28 times as high, or as low, as it was.
_FEET_FOR_METRES = (2.9, 3.7)
_METRES_FOR_FEET = (0.27, 0.35)
# By what two percentages that are the same on paper may differ.
_ROUNDING = 1e-9
# Figures to which a measured quantity is told: British Columbia manual, 1998, F.3 (read).
_FIGURES = 3
# Digits behind the point to which a difference of stages is told: a gauge is read to a millimetre
# or a hundredth of a foot (common practice, no source). A mean stage is told to a tenth of that.
_READ_DIGITS: Mapping[str, int] = {"m": 3, "ft": 2, "cm": 1, "mm": 0, "in": 1}
_WIDTH, _MEAN_DEPTH, _MEAN_VELOCITY, _STAGE = "width", "mean depth", "mean velocity", "stage"


@attrs.frozen
class Compared:
    """One figure of a gauging beside that of the last visit, both in one unit.

    `then` and `now` are None where they are not known, `unit` is empty for a number of things.
    `so_far` says that readings are still to come. `odd` says whether somebody should look, and
    `question` what at, empty where nothing is odd.
    """

    name: str
    unit: str
    then: float | None
    now: float | None
    so_far: bool = False
    question: str = ""

    @property
    def odd(self) -> bool:
        """Whether the difference is a question to answer before leaving."""
        return bool(self.question)

    @property
    def difference(self) -> float | None:
        """By how much it is more now, negative for less; None where either is not known."""
        return None if self.then is None or self.now is None else self.now - self.then

    @property
    def percent(self) -> float | None:
        """The difference in percent of what it was; None where that cannot be told."""
        if self.difference is None or not self.then:
            return None
        percent = 100 * self.difference / abs(self.then)
        return percent if isfinite(percent) else None

    def shown(self, value: float | None) -> str:
        """Return a figure of this kind with its unit, as people read it."""
        if value is None:
            return "not known"
        if not self.unit:
            return f"{value:g}"
        if self.name == _STAGE:
            return f"{round(value, _READ_DIGITS[self.unit] + 1):.12g} {self.unit}"
        return f"{to_figures(value, _FIGURES)} {self.unit}"

    @property
    def words(self) -> str:
        """What there was, what there is, and what to ask about it."""
        when = "so far" if self.so_far and self.now is not None else "now"
        now = f"{self.shown(self.now)} {when}{self._change()}"
        said = f"{self.shown(self.then)} then, {now}."
        return f"{said} {self.question}" if self.question else said

    def _change(self) -> str:
        if self.so_far or self.difference is None or not self.unit:
            return ""
        if self.name == _STAGE:
            moved = round(self.difference, _READ_DIGITS[self.unit])
            more = "higher" if moved > 0 else "lower"
            return f", {abs(moved):.12g} {self.unit} {more}" if moved else ", the same"
        if self.percent is None:
            return ""
        rounded = f"{abs(self.percent):.0f} %"
        if rounded == "0 %":
            return ", the same"
        return f", {rounded} {'more' if self.percent > 0 else 'less'}"


def compare_with_last_visit(
    gauging: Gauging,
    result: Result | None,
    earlier: Gauging,
    earlier_result: Result | None,
    *,
    finished: bool = True,
    units: Units | None = None,
) -> tuple[Compared, ...]:
    """Return the figures of a gauging beside those of the last visit.

    units: those in which they are told, of the gauging itself where none are given. Each result is
    that of its gauging, None where the readings give none. Figures that neither visit knows are
    left out. While readings are still to come widths and depths are not held against anything, and
    velocities only where they are far too high.
    """
    now, then = _figures(gauging, result), _figures(earlier, earlier_result)
    questions = dict(_questions(gauging, then, now, finished))
    return tuple(
        Compared(
            name=name,
            unit=unit,
            then=_in(then[name], one),
            now=_in(now[name], one),
            so_far=name != _STAGE and not finished,
            question=questions.get(name, ""),
        )
        for name, (unit, one) in _units(units or gauging.units).items()
        if then[name] is not None or now[name] is not None
    )


def similar_stage(
    gauging: Gauging, result: Result | None, earlier: Gauging, earlier_result: Result | None
) -> bool | None:
    """Return whether the level was about that of the last visit, None where no stage tells.

    A level that moved by no more than a tenth of the mean depth of that visit is similar (ours).
    """
    now, then = _figures(gauging, result), _figures(earlier, earlier_result)
    if now[_STAGE] is None or then[_STAGE] is None or not then[_MEAN_DEPTH]:
        return None
    return _alike_in_stage(then, now)


def _in(value: float | None, one: float) -> float | None:
    return None if value is None else value / one


def _units(units: Units) -> dict[str, tuple[str, float]]:
    """Return what is compared, in this order: each with its unit, and what one of it is in SI."""
    english = units.length in ("ft", "in")
    side = metres_per("ft" if english else "m")
    length = (units.length, metres_per(units.length))
    deep = units.depth or units.length
    depth = (deep, metres_per(deep))
    return {
        "discharge": (
            ("ft³/s", cubic_metres_per_second_per("ft3/s")) if english else ("m³/s", 1.0)
        ),
        _WIDTH: length,
        "area": ("ft²" if english else "m²", side * side),
        _MEAN_DEPTH: depth,
        _MEAN_VELOCITY: (units.velocity, metres_per_second_per(units.velocity)),
        "largest depth": depth,
        _STAGE: length,
        "verticals": ("", 1.0),
    }


def _figures(gauging: Gauging, result: Result | None) -> dict[str, float | None]:
    """Return what is known of one gauging, in SI."""
    deep = metres_per(gauging.units.depth or gauging.units.length)
    verticals = [vertical for channel in gauging.channels for vertical in channel.verticals]
    stage = mean_stage(gauging, result)
    return {
        "discharge": None if result is None else result.discharge_m3s,
        _WIDTH: None if result is None else result.width_m,
        "area": None if result is None else result.area_m2,
        _MEAN_DEPTH: None if result is None else result.mean_depth_m,
        _MEAN_VELOCITY: None if result is None else result.mean_velocity_ms,
        "largest depth": max((v.depth * deep for v in verticals if v.depth), default=None),
        _STAGE: None if stage is None else stage.value * metres_per(gauging.units.length),
        "verticals": float(sum(1 for v in verticals if v.depth and v.velocity)),
    }


def _questions(
    gauging: Gauging,
    then: Mapping[str, float | None],
    now: Mapping[str, float | None],
    finished: bool,
) -> Iterator[tuple[str, str]]:
    """Yield the names of what is odd, each with what to ask."""
    if finished and _alike_in_stage(then, now):
        level = (
            "and no stage tells whether the level is the same"
            if then[_STAGE] is None or now[_STAGE] is None
            else "at a similar stage"
        )
        if _differs(then[_WIDTH], now[_WIDTH], _WIDTH_PERCENT):
            yield (
                _WIDTH,
                f"More than {_WIDTH_PERCENT:g} % apart, {level}: is it the same section, and were "
                "both edges read where the water ends?",
            )
        if _differs(then[_MEAN_DEPTH], now[_MEAN_DEPTH], _DEPTH_PERCENT):
            yield (
                _MEAN_DEPTH,
                f"More than {_DEPTH_PERCENT:g} % apart, {level}: is it the same section, and the "
                "same scale of the rod?",
            )
    before, after = then[_MEAN_VELOCITY], now[_MEAN_VELOCITY]
    if before and after is not None:
        yield from _velocity(gauging, after / before, finished)


def _alike_in_stage(then: Mapping[str, float | None], now: Mapping[str, float | None]) -> bool:
    """Return whether the level was about the same, as far as it was read and can be told."""
    before, after, depth = then[_STAGE], now[_STAGE], then[_MEAN_DEPTH]
    if before is None or after is None or not depth:
        return True
    return abs(after - before) <= _SIMILAR_STAGE * depth * (1 + _ROUNDING)


def _differs(then: float | None, now: float | None, percent: float) -> bool:
    if not then or now is None:
        return False
    return 100 * abs(now - then) / then > percent * (1 + _ROUNDING)


def _velocity(gauging: Gauging, ratio: float, finished: bool) -> Iterator[tuple[str, str]]:
    """Yield what to ask of a mean velocity that is so many times that of the last visit.

    The first verticals are slow, so that too low a mean says nothing before the last one.
    """
    low, high = _FEET_FOR_METRES
    slow = _METRES_FOR_FEET[0] <= ratio <= _METRES_FOR_FEET[1]
    if low <= ratio <= high or (slow and finished):
        yield (
            _MEAN_VELOCITY,
            f"{to_figures(ratio, 2)} times that of the last visit, as where feet and metres are "
            f"mistaken: look at the unit that the meter shows; is it {gauging.units.velocity}?",
        )
    elif ratio < 0 and finished:
        yield _MEAN_VELOCITY, "The water runs the other way than at the last visit: look at signs."
