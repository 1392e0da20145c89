"""Whether water adds up where streams meet, and whether a gain or a loss can be claimed."""

from __future__ import annotations

from collections.abc import Iterator

from bankside.gauging.records import Severity
from bankside.gauging.rounding import to_figures
from bankside.survey.checks.finding import SurveyCheck, SurveyFinding
from bankside.survey.closure import Closure
from bankside.survey.examined import ExaminedSurvey
from bankside.survey.site_flow import SiteFlow
from bankside.survey.words import discharge_words, site_words

__all__ = ["CHECKS"]

_SOURCE = (
    "Groundwater Project, texts on synoptic surveys and on their errors (read); the band of two "
    "combined standard uncertainties is common practice"
)


_FROM_THE_LAND = (
    "Report the gain with the area that drains in between; no spring or slip is needed for it."
)


def _changed(examined: ExaminedSurvey) -> Iterator[SurveyFinding]:
    for closure in examined.balances:
        if closure.verdict in ("gain", "loss") and not closure.as_land_yields:
            yield _finding(
                closure,
                "Change in a balance",
                f"{_look_first(closure)} If they stand, say where the water comes from or goes.",
                "explain",
            )
        elif closure.as_land_yields:
            yield _finding(closure, "Change in a balance", _FROM_THE_LAND, "note")


def _gained_or_lost(examined: ExaminedSurvey) -> Iterator[SurveyFinding]:
    for closure in examined.reaches:
        if closure.verdict in ("gain", "loss"):
            advice = (
                f"{_look_first(closure)} Look for a tributary, a spring or a diversion in between."
            )
            if closure.as_land_yields:
                advice = _FROM_THE_LAND
            yield _finding(closure, "Gain or loss on the way", advice, "note")


def _inside(examined: ExaminedSurvey) -> Iterator[SurveyFinding]:
    for closure in examined.reaches:
        if closure.verdict == "no measurable change" and closure.difference_m3s:
            yield _finding(
                closure,
                "Change inside the error",
                'Report "no measurable change", with the interval, and no gain or loss.',
                "note",
            )


def _open(examined: ExaminedSurvey) -> Iterator[SurveyFinding]:
    for closure in examined.balances:
        if closure.verdict == "cannot be told":
            yield _finding(
                closure,
                "Balance cannot be told",
                "Gauge all its sites within a day of steady flow, or allow more days between them "
                "where the flow was steady.",
                "note",
            )


def _finding(closure: Closure, check: str, advice: str, severity: Severity) -> SurveyFinding:
    flows = (*closure.above, *closure.taken_out, *_below(closure))
    sides = closure.sides
    return SurveyFinding(
        check=check,
        severity=severity,
        found=closure.words,
        advice=advice,
        sites=tuple(site.id for site in (*sides.above, *sides.taken_out, sides.below)),
        visits=tuple(visit.id for flow in flows for visit in flow.visits),
        day=closure.day,
    )


def _look_first(closure: Closure) -> str:
    """Return which of the gaugings to doubt first: the least sure one, and the smallest.

    How sure it is stands there as everywhere: two standard uncertainties.
    """
    flows = [f for f in (*closure.above, *closure.taken_out, *_below(closure)) if f.discharge_m3s]
    weakest = max(flows, key=_percent)
    smallest = min(flows, key=lambda flow: abs(flow.discharge_m3s))
    told = (
        f"Look first at {site_words(weakest.site)}, the least sure with "
        f"± {to_figures(2 * _percent(weakest), 2)} % (two standard uncertainties)"
    )
    if smallest is weakest:
        return f"{told}."
    return (
        f"{told}, and at {site_words(smallest.site)}, the smallest with "
        f"{discharge_words(smallest.discharge_m3s)}."
    )


def _percent(flow: SiteFlow) -> float:
    return 100 * (flow.standard_uncertainty_m3s or 0.0) / abs(flow.discharge_m3s)


def _below(closure: Closure) -> tuple[SiteFlow, ...]:
    return () if closure.below is None else (closure.below,)


CHECKS = (
    SurveyCheck(
        name="Change in a balance",
        trigger="In a balance of the survey what goes on differs from what comes in by two "
        "combined standard uncertainties or more; a note only where it is a gain of about what the "
        "land in between would give at the median yield of the day.",
        severities=("explain", "note"),
        remedy="Look again at the least sure and at the smallest gauging; then say where water is "
        "gained or lost.",
        source=_SOURCE,
        find=_changed,
    ),
    SurveyCheck(
        name="Gain or loss on the way",
        trigger="Between two gauged sites of a stream, with all that enters and is taken out in "
        "between, the discharge changes by two combined standard uncertainties or more.",
        severities=("note",),
        remedy="Look for springs, seepage, tributaries and diversions that nobody counted.",
        source=_SOURCE,
        find=_gained_or_lost,
    ),
    SurveyCheck(
        name="Change inside the error",
        trigger="Between two gauged sites of a stream the discharge changes by less than two "
        "combined standard uncertainties.",
        severities=("note",),
        remedy="Report no measurable change.",
        source=_SOURCE,
        find=_inside,
    ),
    SurveyCheck(
        name="Balance cannot be told",
        trigger="A gauging or an uncertainty is missing in a balance of the survey, or its "
        "gaugings are too many days apart.",
        severities=("note",),
        remedy="Gauge its sites on one day of steady flow.",
        source="ours, no source",
        find=_open,
    ),
)
