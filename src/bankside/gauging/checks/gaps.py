"""Whether a distance between verticals looks like one that was missed or misheard."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from statistics import median

from bankside.gauging.called_marks import graduation
from bankside.gauging.checks.adding import half_way, places_in
from bankside.gauging.checks.examined import Examined, ExaminedChannel
from bankside.gauging.checks.finding import Check, Finding
from bankside.gauging.rule_sets.rule_set import Threshold

__all__ = ["CHECKS"]

# How many distances on either side are those nearby (ours, no source).
_NEARBY = 3
# By what two lengths that are the same on paper may differ, as a part.
_ROUNDING = 1e-9


def _strange(examined: Examined) -> Iterator[Finding]:
    """Yield what is odd about the distances between verticals that are no ends.

    A distance is held against the median of up to three on either side: it is too wide when it is
    so beside both, too narrow likewise. Where the spacing changes, as between slow and fast water,
    one side is as the gap is, and nothing is said; nor of the first and the last distance, which
    have one side only, nor of dry ground between two shores.
    """
    for channel in examined.channels:
        pairs = list(pairwise(channel.across[1:-1] if examined.finished else channel.between))
        gaps = [b.tape - a.tape for a, b in pairs]
        for i in range(1, len(gaps) - 1):
            sides = gaps[max(i - _NEARBY, 0) : i], gaps[i + 1 : i + 1 + _NEARBY]
            a, b = pairs[i]
            if a.depth_m != 0 or b.depth_m != 0:
                yield from _judged(examined, channel, (a.tape, b.tape), sides)


def _judged(
    examined: Examined,
    channel: ExaminedChannel,
    ends: tuple[float, float],
    sides: tuple[Sequence[float], Sequence[float]],
) -> Iterator[Finding]:
    gap = ends[1] - ends[0]
    medians = [median(side) for side in sides]
    wide, narrow = examined.rules["gap_wide"], examined.rules["gap_narrow"]
    threshold: Threshold | None = None
    if gap > wide.si * max(medians) * (1 + _ROUNDING):
        threshold, words = wide, f"more than {wide.words()} times what is usual beside it"
    elif gap < narrow.si * min(medians) * (1 - _ROUNDING):
        threshold, words = narrow, f"less than {narrow.words()} of what is usual beside it"
    elif _is_skipped(gap, sides, graduation(examined.gauging.units.length)):
        words = "twice the even spacing on both sides"
    else:
        return
    place = None if threshold is narrow else half_way(examined, *ends)
    missed = "" if place is None else f"add the vertical missed at {examined.at(place)}, or "
    advice = f"{missed}read the tape again at {examined.at(*ends)}."
    yield Finding(
        check="Strange gap",
        severity="explain",
        found=f"The gap from tape {ends[0]:.10g} to {ends[1]:.10g} is "
        f"{examined.length(gap * examined.metres)}, {words}.",
        advice=advice[:1].upper() + advice[1:],
        channel=channel.index,
        tapes=ends,
        thresholds=() if threshold is None else (threshold,),
        places=() if place is None else places_in(channel, (place,)),
    )


def _is_skipped(gap: float, sides: tuple[Sequence[float], Sequence[float]], mark: float) -> bool:
    """Return whether a gap is two of an even spacing: all beside it the same, to half a mark.

    Half a mark, so that positions called to marks must be even exactly; where the spacing is less
    than two marks, that would be no test.
    """
    beside = [*sides[0], *sides[1]]
    usual = median(beside)
    half = mark / 2 * (1 - _ROUNDING)
    return (
        len(beside) >= _NEARBY
        and usual > 2 * mark * (1 - _ROUNDING)
        and all(abs(distance - usual) < half for distance in beside)
        and abs(gap - 2 * usual) < half
    )


CHECKS = (
    Check(
        name="Strange gap",
        trigger="The distance between two verticals is far wider, or far narrower, than the median "
        "of up to three on either side of it, or twice an even spacing, as where a vertical was "
        "missed.",
        severities=("explain",),
        remedy="Missed a vertical? Add it. Misheard? Read the tape again.",
        source="common practice, no source",
        find=_strange,
        thresholds=("gap_wide", "gap_narrow", "spacing_least", "spacing_least_large"),
        wades=True,
    ),
)
