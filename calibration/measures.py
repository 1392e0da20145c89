"""What many intervals are worth: how often they hold the truth, how wide they are, their score."""

from __future__ import annotations

import math
import statistics
from collections.abc import Iterable, Sequence

from calibration.judged import Interval

__all__ = ["Figures", "Held", "figures", "interval_score", "score_against"]

Held = tuple[float, Interval]
"""An error, over what was stated, and the interval about 0 that should hold it."""

Figures = dict[str, float]


def figures(held: Sequence[Held]) -> Figures:
    """Return how many there are, coverage of both intervals, and widths, all in percent.

    `width` is the mean half width of the interval of 95 % over 1.96, so that it compares with a
    standard uncertainty; `middle width` is the median of these.
    """
    widths = [interval.wide / 1.96 for _, interval in held]
    return {
        "gaugings": len(held),
        "coverage 95": _percent(abs(error) <= one.wide for error, one in held),
        "coverage 68": _percent(abs(error) <= one.narrow for error, one in held),
        "width": round(100.0 * statistics.fmean(widths), 3),
        "middle width": round(100.0 * statistics.median(widths), 3),
        "score": round(100.0 * statistics.fmean(map(interval_score, held)), 3),
    }


def interval_score(held: Held) -> float:
    """Return the width of an interval of 95 %, and 40 times what the error is beyond it.

    The less the better; no other interval is expected to do better than the true one. Source:
    Gneiting and Raftery 2007, Journal of the American Statistical Association 102 (from memory).
    """
    error, interval = held
    return 2.0 * interval.wide + 40.0 * max(0.0, abs(error) - interval.wide)


def score_against(tried: Sequence[Held], standing: Sequence[Held]) -> tuple[float, float]:
    """Return by how many percent the mean score of the same gaugings is worse, and its error."""
    before = [interval_score(one) for one in standing]
    more = [interval_score(one) - was for one, was in zip(tried, before, strict=True)]
    per = 100.0 / statistics.fmean(before)
    error = statistics.pstdev(more) / math.sqrt(len(more))
    return round(per * statistics.fmean(more), 2), round(per * error, 2)


def _percent(true: Iterable[bool]) -> float:
    listed = list(true)
    return round(100.0 * sum(listed) / len(listed), 2)
