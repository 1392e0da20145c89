"""Gaugings that still wait: for an answer to their findings, for their end, or for a discharge."""

from __future__ import annotations

from collections.abc import Iterator

from bankside.gauging.checks.finding import SEVERITIES
from bankside.survey.checks.finding import SurveyCheck, SurveyFinding
from bankside.survey.checks.meters import told_of_the_meter
from bankside.survey.examined import ExaminedSurvey
from bankside.survey.summary import open_findings
from bankside.survey.visits import Visit
from bankside.survey.words import sentence, site_words, visit_words

__all__ = ["CHECKS"]


def _unanswered(examined: ExaminedSurvey) -> Iterator[SurveyFinding]:
    for visit in examined.visits:
        waiting = [one for one in open_findings(visit) if not told_of_the_meter(one)]
        if not waiting:
            continue
        gravest = min(waiting, key=lambda finding: SEVERITIES.index(finding.severity))
        count = f"{len(waiting)} finding{'' if len(waiting) == 1 else 's'}"
        names = "; ".join(dict.fromkeys(finding.check for finding in waiting))
        yield SurveyFinding(
            check="Findings without an answer",
            severity=gravest.severity,
            found=f"{_called(visit)} has {count} without an answer: {names}.",
            advice="Correct the record where it slipped, or give the reason why it stands.",
            sites=() if visit.site is None else (visit.site.id,),
            visits=(visit.id,),
            day=visit.day,
        )


def _no_discharge(examined: ExaminedSurvey) -> Iterator[SurveyFinding]:
    for visit in examined.visits:
        if visit.final_m3s is None:
            yield SurveyFinding(
                check="Gauging without a discharge",
                severity="explain",
                found=f"{_called(visit)} gives no discharge: {visit.why_none}.",
                advice="Finish or complete it, or say why nothing could be measured.",
                sites=() if visit.site is None else (visit.site.id,),
                visits=(visit.id,),
                day=visit.day,
            )


def _called(visit: Visit) -> str:
    place = "" if visit.site is None else f" at {site_words(visit.site)}"
    return sentence(f"{visit_words(visit)}{place}")


CHECKS = (
    SurveyCheck(
        name="Findings without an answer",
        trigger="A gauging has findings graver than a note that nobody has answered. That its "
        "meter was overdue is told once for the meter.",
        severities=SEVERITIES[:3],
        remedy="Correct the record, or give the reason.",
        source="ours, no source",
        find=_unanswered,
    ),
    SurveyCheck(
        name="Gauging without a discharge",
        trigger="A gauging is not finished, or its readings give no discharge.",
        severities=("explain",),
        remedy="Finish or complete it, or say why nothing could be measured.",
        source="ours, no source",
        find=_no_discharge,
    ),
)
