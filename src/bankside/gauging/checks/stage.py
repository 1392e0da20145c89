"""How far the level moved while the crew measured, and to which stage the discharge belongs."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from bankside.gauging.checks.examined import Examined
from bankside.gauging.checks.finding import Check, Finding, Severity
from bankside.gauging.mean_stage import MeanStage, mean_stage
from bankside.gauging.rule_sets.rule_set import Threshold
from bankside.kernel.limits import above

__all__ = ["CHECKS", "risen"]


def risen(examined: Examined) -> Severity | None:
    """Return how grave it is that the stage rose, None where it did not, or by less than counts."""
    # By what the mean is weighted says nothing of how far the level rose.
    return _risen(examined, mean_stage(examined.gauging, None))


def _risen(examined: Examined, mean: MeanStage | None) -> Severity | None:
    if mean is None or mean.climb is None:
        return None
    judged = _judged(examined, mean.climb * examined.metres)
    return None if judged is None else judged[0]


def _changed(examined: Examined) -> Iterator[Finding]:
    mean = mean_stage(examined.gauging, examined.result)
    if mean is None or mean.change is None:
        return
    judged = _judged(examined, mean.change * examined.metres)
    if judged is None:
        return
    severity, threshold = judged
    climbed = _risen(examined, mean)
    comes_out = climbed not in (None, "note")
    if comes_out and severity == "explain" and not examined.finished:
        severity = "fix now"  # the crew stands in it
    if examined.finished:
        so_far = ""
        told = f"; the mean gauge height is {mean.words(mean.value)}, {mean.how}"
    else:
        so_far, told = " so far", ""
    yield Finding(
        check="Level changed",
        severity=severity,
        found=f"The stage changed by {mean.words(mean.change)}{so_far} over {mean.readings} "
        f"readings, more than {examined.limit(threshold)}{_of_depth(threshold)}{told}.",
        advice=_ROSE if comes_out else _ADVICE[severity] if climbed is None else _ROSE_A_LITTLE,
        thresholds=(threshold,),
        comes_out=comes_out,
    )


# Water that rose, and may go on, goes before any figure; fewer verticals would keep people in it.
_ROSE = (
    "The water rose: come out, ask about storms and releases upstream; measure again only when the "
    "leader says so."
)
_ROSE_A_LITTLE = (
    "Read the stage again now, from the bank: if it goes on rising, come out and ask about storms "
    "and releases upstream."
)
_ADVICE: dict[Severity, str] = {
    "fix now": "Measure again, and faster: fewer verticals and shorter counts do less harm than a "
    "level that moves.",
    "explain": "Read the stage again before leaving, say why it moves, and go by the mean gauge "
    "height.",
    "note": "Read the stage now and then until the end, and go by the mean gauge height.",
}


def _judged(examined: Examined, change_m: float) -> tuple[Severity, Threshold] | None:
    """Return how grave a change is and by which limit."""
    rules = examined.rules
    depth = _mean_depth(examined)
    percent = 100 * change_m / depth if depth else 0.0
    graded: tuple[tuple[Severity, float, str], ...] = (
        ("fix now", percent, "stage_change_depth_fix"),
        ("explain", percent, "stage_change_depth_explain"),
        ("explain", change_m, "stage_change_explain"),
        ("note", change_m, "stage_change_note"),
    )
    return next(
        ((severity, rules[name]) for severity, v, name in graded if above(v, rules.si(name))), None
    )


def _mean_depth(examined: Examined) -> float:
    """Return the mean depth in metres, of the depths called so far while readings are to come."""
    if examined.finished:
        result = examined.result
        return 0.0 if result is None else result.mean_depth_m or 0.0
    depths = [spot.depth_m for spot in examined.spots if spot.depth_m]
    total = 0.0
    for depth in depths:
        total += depth
    return total / len(depths) if depths else 0.0


def _of_depth(threshold: Threshold) -> str:
    return " of the mean depth" if threshold.unit == "%" else ""


def _seldom(examined: Examined) -> Iterator[Finding]:
    gauging, longest = examined.gauging, examined.rules["stage_interval"]
    values = [reading.value for reading in gauging.stage]
    times = sorted(reading.at for reading in gauging.stage if reading.at is not None)
    fast = examined.rules["stage_change_explain"]
    if len(times) < max(2, len(values)):
        return
    if not above((max(values) - min(values)) * examined.metres, fast.si):
        return
    gap = max(b - a for a, b in pairwise(times))
    if above(gap.total_seconds(), longest.si):
        yield Finding(
            check="Stage read too seldom",
            severity="note",
            found=f"The stage changed by more than {examined.limit(fast)}, and "
            f"{gap.total_seconds() / 60:.0f} minutes passed between two readings, more than "
            f"{longest.words()}.",
            advice=f"Read the stage every {longest.words()} while it moves; from the bank where "
            "the water rises.",
            thresholds=(fast, longest),
        )


CHECKS = (
    Check(
        name="Level changed",
        trigger="The highest stage read is above the lowest by more than a limit: of length, or, "
        "once the gauging is finished, of the mean depth.",
        severities=("fix now", "explain", "note"),
        remedy="Out of rising water. Of falling water extra readings, a faster repeat, the mean "
        "gauge height.",
        source="stream-flow operating procedure of a Colorado mine permit, 2014 (to 0.02 ft); "
        "the other limits are common practice",
        find=_changed,
        thresholds=(
            "stage_change_note",
            "stage_change_explain",
            "stage_change_depth_explain",
            "stage_change_depth_fix",
        ),
    ),
    Check(
        name="Stage read too seldom",
        trigger="The stage moved by more than the length that has to be explained, and more time "
        "than allowed passed between two readings.",
        severities=("note",),
        remedy="Read it more often while it moves, from the bank where it rises.",
        source="ISO 748:2021, 5.2.3",
        find=_seldom,
        thresholds=("stage_change_explain", "stage_interval"),
    ),
)
