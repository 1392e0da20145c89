"""Real sections with some of their verticals left out, held against the whole section.

The transects of a state stream survey as filed, read in place; they are not part of the repository.
What a thinned section is wrong by, against the whole one, comes from the water between its
verticals, from the readings of those left out, and falls short of the truth by what the whole
section itself misses.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator, Sequence
from pathlib import Path

import attrs

from bankside.gauging.between import Between
from bankside.gauging.between_remarks import unlike_the_judged
from bankside.gauging.compute import compute
from bankside.gauging.records import Gauging, Vertical
from bankside.gauging.result import Result
from bankside.gauging.uncertainty import Assumed, uncertainty_budgets
from bankside.gauging.uncertainty_between import section_as_read
from bankside.gauging.uncertainty_flow import flow_of
from bankside.kernel.between import mixture_half_width
from bankside.sheets.read import read_sheets
from calibration.judged import Interval, between_verticals

__all__ = ["TRANSECTS", "WAYS", "WITH_READINGS", "Thinned", "thinned_sections", "whole_sections"]

TRANSECTS = Path(__file__).parents[1] / "../shared/data/stream_survey_flow_2015/flow_transects.xlsx"
WAYS = ("every second", "a random third")
"""Which verticals are left out."""

WITH_READINGS = "ours with readings"
"""The model, and what readings and profiles of single verticals add."""

# So many verticals stay at least: interpolated variance is not stated for fewer.
_FEWEST = 6
# How often a random third is drawn for each section.
_DRAWS = 5


@attrs.frozen
class Thinned:
    """A thinned section: which verticals were left out, what it misses, and the intervals.

    `error` is the whole section's discharge less that of the thinned one, over the latter; `alike`
    says whether the whole section lies within the ranges of the simulated streams.
    """

    way: str
    alike: bool
    verticals: int
    error: float
    intervals: dict[str, Interval]


def whole_sections(path: Path) -> list[Gauging]:
    """Return the gaugings of a workbook that can be computed, of one channel that carries water.

    Without what was filed on the sheets: that belongs to the verticals as they were.
    """
    found = (sheet.gauging for sheet in read_sheets(path).gaugings)
    single = (one for one in found if one is not None and len(one.channels) == 1)
    return [attrs.evolve(one, filed=None) for one in single if compute(one).discharge_m3s > 0.0]


def thinned_sections(number: int, gauging: Gauging) -> Iterator[Thinned]:
    """Yield a section without every second vertical, twice, and without random thirds."""
    result = compute(gauging)
    whole, alike = result.discharge_m3s, _alike(gauging, result)
    (channel,) = gauging.channels
    inner = channel.verticals[1:-1]
    for way, left_out in _left_out(number, len(inner)):
        kept = [one for i, one in enumerate(inner) if i not in left_out]
        if len(kept) < _FEWEST:
            continue
        section = (channel.verticals[0], *kept, channel.verticals[-1])
        found = _thinned(gauging, section)
        if found is not None:
            discharge, intervals = found
            yield Thinned(way, alike, len(kept), (whole - discharge) / discharge, intervals)


def _alike(gauging: Gauging, result: Result) -> bool:
    section = section_as_read(gauging, flow_of(gauging, result), Assumed())
    return section is not None and not unlike_the_judged(section, gauging.units)


def _left_out(number: int, count: int) -> Iterator[tuple[str, set[int]]]:
    yield WAYS[0], set(range(0, count, 2))
    yield WAYS[0], set(range(1, count, 2))
    rng = random.Random(number)
    for _ in range(_DRAWS):
        yield WAYS[1], set(rng.sample(range(count), count // 3))


def _thinned(
    gauging: Gauging, section: Sequence[Vertical]
) -> tuple[float, dict[str, Interval]] | None:
    """Return discharge and intervals of a section by fewer verticals, none where nothing flows."""
    channel = attrs.evolve(gauging.channels[0], verticals=tuple(section))
    thin = attrs.evolve(gauging, channels=(channel,))
    result = compute(thin)
    read = section_as_read(thin, flow_of(thin, result), Assumed())
    if read is None or not result.discharge_m3s > 0.0:
        return None
    stated = result.discharge_m3s
    intervals = {
        "between-verticals": _interval_of(read.between, stated, 0.0),
        WITH_READINGS: _interval_of(read.between, stated, _by_readings(thin, result)),
        **between_verticals(thin, result),
    }
    return stated, intervals


def _by_readings(gauging: Gauging, result: Result) -> float:
    """Return what readings and profiles, each vertical by itself, add: over the discharge."""
    (budget,) = (
        one for one in uncertainty_budgets(gauging, result) if one.key == "between-verticals"
    )
    parts = (part for part in budget.parts if part.name in ("readings", "vertical profile"))
    return math.hypot(*(part.percent / 100.0 for part in parts))


def _interval_of(between: Between, stated: float, besides: float) -> Interval:
    deviations = [math.hypot(math.sqrt(one) / stated, besides) for one in between.variances]
    wide, narrow = (mixture_half_width(between.weights, deviations, p) for p in (0.95, 0.68))
    return Interval(wide, narrow)
