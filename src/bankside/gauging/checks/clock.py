"""Whether the times can be true: a gauging takes a while, but no half day, and is not to come."""

from __future__ import annotations

from collections.abc import Iterator

from bankside.gauging.checks.examined import Examined
from bankside.gauging.checks.finding import Check, Finding
from bankside.kernel.limits import above

__all__ = ["CHECKS"]

# Common practice, no source: to set the meter and read it takes longer, whatever the exposure.
_SECONDS_A_READING = 20


def _duration(examined: Examined) -> float | None:
    """Return how many seconds a finished gauging took, None where its times do not say."""
    gauging = examined.gauging
    if not examined.finished or gauging.started is None or gauging.ended is None:
        return None
    if gauging.practice:
        # A practice stream's own time runs as fast as the person wishes.
        return None
    return (gauging.ended - gauging.started).total_seconds()


def _ends_at_its_start(examined: Examined) -> Iterator[Finding]:
    if _duration(examined) == 0:
        yield Finding(
            check="Ends when it starts",
            severity="explain",
            found="Start and end are the same, "
            f"{examined.gauging.started:%Y-%m-%d %H:%M}, so one of them is wrong.",
            advice="Write down when the first and when the last reading was made.",
        )


def _too_short(examined: Examined) -> Iterator[Finding]:
    seconds = _duration(examined)
    readings = sum(len(spot.vertical.velocity) for spot in examined.spots)
    least = _SECONDS_A_READING * readings
    if seconds is not None and 0 < seconds < least:
        yield Finding(
            check="Too quick to be true",
            severity="explain",
            found=f"{readings} velocities were read in {_minutes(seconds)}, which is less than "
            f"{_SECONDS_A_READING} s each.",
            advice="Correct the start or the end; if both are right, say how it was done.",
        )


def _too_long(examined: Examined) -> Iterator[Finding]:
    seconds, longest = _duration(examined), examined.rules["duration_longest"]
    if seconds is not None and above(seconds, longest.si):
        yield Finding(
            check="Took very long",
            severity="note",
            found=f"The gauging took {_minutes(seconds)}, more than {longest.words()}.",
            advice="Correct the start or the end; if both are right, the stage may have moved "
            "meanwhile.",
            thresholds=(longest,),
        )


def _to_come(examined: Examined) -> Iterator[Finding]:
    gauging, today = examined.gauging, examined.today
    started = None if gauging.started is None else gauging.started.date()
    date = gauging.date or started
    if today is not None and date is not None and date > today:
        yield Finding(
            check="Date to come",
            severity="explain",
            found=f"The date of the gauging, {date.isoformat()}, is after today, "
            f"{today.isoformat()}.",
            advice="Correct the date; day and month may have changed places.",
        )


def _minutes(seconds: float) -> str:
    return f"{seconds:.0f} s" if seconds < 120 else f"{seconds / 60:.0f} minutes"


CHECKS = (
    Check(
        name="Ends when it starts",
        trigger="Start and end of a finished gauging are the same.",
        severities=("explain",),
        remedy="Correct one of them.",
        source="common practice, no source",
        find=_ends_at_its_start,
    ),
    Check(
        name="Too quick to be true",
        trigger=f"A finished gauging took less than {_SECONDS_A_READING} s for each velocity that "
        "was read.",
        severities=("explain",),
        remedy="Correct the start or the end.",
        source="common practice, no source",
        find=_too_short,
    ),
    Check(
        name="Took very long",
        trigger="A finished gauging took longer than the limit.",
        severities=("note",),
        remedy="Correct the start or the end, or look at the stage.",
        source="common practice, no source",
        find=_too_long,
        thresholds=("duration_longest",),
    ),
    Check(
        name="Date to come",
        trigger="The date is after today, where today is known.",
        severities=("explain",),
        remedy="Correct the date.",
        source="common practice, no source",
        find=_to_come,
    ),
)
