"""Meters that were overdue or never proven, over all gaugings that they made."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence

from bankside.gauging.checks.finding import Finding
from bankside.gauging.records import Meter
from bankside.survey.checks.finding import SurveyCheck, SurveyFinding
from bankside.survey.examined import ExaminedSurvey
from bankside.survey.site_names import folded_name
from bankside.survey.summary import open_findings
from bankside.survey.visits import Visit

__all__ = ["CHECKS", "told_of_the_meter"]

_OF_ONE_GAUGING = "Calibration overdue"
"""The check on a gauging by itself that says the same."""

_Used = tuple[Visit, Meter]


def _overdue(examined: ExaminedSurvey) -> Iterator[SurveyFinding]:
    for name, uses in _by_meter(examined).items():
        late = [(visit, due) for visit, meter in uses if (due := _missed(visit, meter)) is not None]
        if late:
            first = min(due for _, due in late)
            waiting = sum(any(map(told_of_the_meter, open_findings(v))) for v, _ in late)
            yield SurveyFinding(
                check="Meter overdue",
                severity="explain",
                found=f"{name} was to be calibrated by {first.isoformat()} and made "
                f"{_gaugings(len(late))} after that{_without_answer(waiting)}.",
                advice="Have it calibrated, or held against a calibrated one, before the figures "
                "go out: a rating that has changed moves all of them.",
                sites=_sites([visit for visit, _ in late]),
                visits=tuple(visit.id for visit, _ in late),
            )


def told_of_the_meter(finding: Finding) -> bool:
    """Return whether a finding of one gauging is told here, once for all that the meter made."""
    return finding.check == _OF_ONE_GAUGING


def _without_answer(count: int) -> str:
    return f", {count} of them without an answer to it" if count else ""


def _unproven(examined: ExaminedSurvey) -> Iterator[SurveyFinding]:
    for name, uses in _by_meter(examined).items():
        bare = [visit for visit, meter in uses if not meter.checks]
        if bare:
            yield SurveyFinding(
                check="Meter without a proof",
                severity="note",
                found=f"{name} made {len(bare)} of its {_gaugings(len(uses))} without any spin or "
                "zero written down.",
                advice="Ask the crews for the proofs, and have them made before and after the "
                "readings.",
                sites=_sites(bare),
                visits=tuple(visit.id for visit in bare),
            )


def _by_meter(examined: ExaminedSurvey) -> dict[str, list[_Used]]:
    """Return what each meter made, by what it is called; without a serial number, by its kind."""
    uses: dict[str, list[_Used]] = {}
    names: dict[str, str] = {}
    for visit in examined.visits:
        meter = visit.gauging.meter
        if meter is None:
            continue
        key = "" if meter.serial is None else folded_name(meter.serial)
        called = f"Meter {meter.serial}" if key else f"A {meter.kind or 'meter'} without a number"
        name = names.setdefault(key or folded_name(called), called)
        uses.setdefault(name, []).append((visit, meter))
    return uses


def _missed(visit: Visit, meter: Meter) -> datetime.date | None:
    """Return the day by which a meter was to be calibrated, if the gauging was made after it."""
    due, day = meter.calibration_due, visit.day
    return due if due is not None and day is not None and day > due else None


def _gaugings(count: int) -> str:
    return f"{count} gauging{'' if count == 1 else 's'}"


def _sites(visits: Sequence[Visit]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(visit.site.id for visit in visits if visit.site is not None))


CHECKS = (
    SurveyCheck(
        name="Meter overdue",
        trigger="A meter made gaugings after the day by which it was to be calibrated.",
        severities=("explain",),
        remedy="Have it calibrated, or held against a calibrated one.",
        source="common practice, no source",
        find=_overdue,
    ),
    SurveyCheck(
        name="Meter without a proof",
        trigger="A meter made gaugings with neither a spin nor a zero written down.",
        severities=("note",),
        remedy="Have it proven before and after the readings.",
        source="stream-flow operating procedure of a Colorado mine permit, 2014, p. 18 and 19: "
        "before and after",
        find=_unproven,
    ),
)
