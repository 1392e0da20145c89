"""What a closure says, in plain sentences; the interval is always among them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from bankside.gauging.rounding import to_figures
from bankside.survey.words import day_words, discharge_words, off_words

if TYPE_CHECKING:
    from bankside.survey.closure import Closure

__all__ = ["closure_words", "difference_words", "interval_words"]


def closure_words(closure: Closure) -> str:
    """Return what comes in and goes on, the difference with its interval, and the verdict.

    Behind it stands what drains in between and what that would give.
    """
    parts = [
        _sums(closure),
        interval_words(closure),
        _verdict(closure),
        _land(closure),
        *closure.remarks,
    ]
    return " ".join(part for part in parts if part)


def difference_words(closure: Closure) -> str:
    """Return the difference with its sign in words and in percent, empty where there is none."""
    difference = closure.difference_m3s
    if difference is None:
        return ""
    if difference == 0:
        return "no difference"
    more = "more" if difference > 0 else "less"
    told = f"{discharge_words(abs(difference))} {more}"
    if closure.percent is None:
        return told
    return f"{told}, {to_figures(abs(closure.percent), 2)} % of what comes in"


def interval_words(closure: Closure) -> str:
    """Return within which bounds the difference lies, empty where they cannot be given."""
    difference, band = closure.difference_m3s, closure.band_m3s
    if difference is None or band is None:
        return ""
    low, high = discharge_words(difference - band), discharge_words(difference + band)
    return (
        f"It lies between {low} and {high}: {off_words(band)}, two combined standard uncertainties "
        "(about 19 in 20)."
    )


def _sums(closure: Closure) -> str:
    head = f"{closure.name}, {day_words(closure.day)}:" if closure.day else f"{closure.name}:"
    if closure.difference_m3s is None:
        return head
    return (
        f"{head} {discharge_words(closure.incoming_m3s)} come in and "
        f"{discharge_words(closure.outgoing_m3s)} go on, {difference_words(closure)}."
    )


def _verdict(closure: Closure) -> str:
    if closure.verdict == "cannot be told":
        return f"Whether water was gained or lost cannot be told. {' '.join(closure.reasons)}"
    if closure.verdict == "no measurable change":
        return "The difference is inside that: no measurable change."
    return f"The difference is outside that: a {closure.verdict}."


def _land(closure: Closure) -> str:
    """Return what drains in between, and whether a gain is about as much as that yields."""
    land = closure.land
    if land is None or closure.difference_m3s is None:
        return ""
    drains = f"{to_figures(land.km2, 3)} km² drain in between"
    if land.gives_m3s is None:
        return f"{drains}; what they would give cannot be told, as too few other sites were gauged."
    told = (
        f"{drains}; at the median yield of the day they would give about "
        f"{discharge_words(land.gives_m3s)}."
    )
    if not closure.as_land_yields:
        return told
    return f"{told} The gain is about as much as the land in between yields."
