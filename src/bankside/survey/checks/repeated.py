"""Whether repeats of one measurement agree, whether they are all there, and whether enough are."""

from __future__ import annotations

from collections.abc import Iterator

from bankside.survey.checks.finding import SurveyCheck, SurveyFinding
from bankside.survey.examined import ExaminedSurvey
from bankside.survey.repeats import unknown_repeats
from bankside.survey.words import sentence, visit_words

__all__ = ["CHECKS"]


def _disagree(examined: ExaminedSurvey) -> Iterator[SurveyFinding]:
    for duplicates in examined.duplicates:
        if duplicates.verdict == "agree" or duplicates.stage_moved_m is not None:
            continue
        first = duplicates.visits[0]
        again = duplicates.verdict == "measure again"
        pairs = " ".join(pair.words for pair in duplicates.pairs)
        yield SurveyFinding(
            check="Duplicate disagrees",
            severity="fix now" if again else "explain",
            found=f"{duplicates.words} {pairs}",
            advice=duplicates.advice,
            sites=() if first.site is None else (first.site.id,),
            visits=tuple(visit.id for visit in duplicates.visits),
            day=first.day,
            thresholds=(duplicates.third if again else duplicates.look,),
        )


def _moved(examined: ExaminedSurvey) -> Iterator[SurveyFinding]:
    for duplicates in examined.duplicates:
        if duplicates.stage_moved_m is None:
            continue
        first = duplicates.visits[0]
        yield SurveyFinding(
            check="Measured twice at two stages",
            severity="note",
            found=duplicates.words,
            advice=duplicates.advice,
            sites=() if first.site is None else (first.site.id,),
            visits=tuple(visit.id for visit in duplicates.visits),
            day=first.day,
        )


def _without_fellow(examined: ExaminedSurvey) -> Iterator[SurveyFinding]:
    for visit in unknown_repeats(examined.visits):
        yield SurveyFinding(
            check="Repeats a gauging that is not here",
            severity="explain",
            found=f"{sentence(visit_words(visit))} repeats the gauging "
            f'"{visit.gauging.repeats}", which is not among those of the survey.',
            advice="Bring in the other gauging, or correct which one is repeated.",
            sites=() if visit.site is None else (visit.site.id,),
            visits=(visit.id,),
            day=visit.day,
        )


def _too_few(examined: ExaminedSurvey) -> Iterator[SurveyFinding]:
    if examined.share.missing:
        yield SurveyFinding(
            check="Too few duplicates",
            severity="explain",
            found=examined.share.words,
            advice="Have further visits measured twice while the season lasts, each crew some, or "
            "say in the report that the share was not met.",
        )


CHECKS = (
    SurveyCheck(
        name="Duplicate disagrees",
        trigger="Gaugings of one site on one day, or linked as repeats, at a similar or unknown "
        "stage, differ by more than a limit in percent of their mean, one for the same crew and "
        "one between crews; or one of them gives no discharge.",
        severities=("fix now", "explain"),
        remedy="Look at edges, stage, meter and panels; beyond the second limit measure a third "
        "time with the roles changed.",
        source="choice of a survey programme; the difference in percent of the mean as for "
        "replicates of water chemistry in community monitoring in Yukon",
        find=_disagree,
        thresholds=(
            "duplicate_look",
            "duplicate_third",
            "duplicate_crews_look",
            "duplicate_crews_third",
        ),
    ),
    SurveyCheck(
        name="Measured twice at two stages",
        trigger="The stage moved by more than a tenth of the mean depth between gaugings of one "
        "site on one day, or linked as repeats, and no two of them were at a similar stage.",
        severities=("note",),
        remedy="Take them for two flows; measure twice at a steady stage.",
        source="ours, no source",
        find=_moved,
    ),
    SurveyCheck(
        name="Repeats a gauging that is not here",
        trigger="A gauging says that it repeats one which is not among those of the survey.",
        severities=("explain",),
        remedy="Bring in the other one, or correct the link.",
        source="ours, no source",
        find=_without_fellow,
    ),
    SurveyCheck(
        name="Too few duplicates",
        trigger="The share of visits that were measured twice is below what the survey asks for.",
        severities=("explain",),
        remedy="Measure more visits twice, or report the share.",
        source="the survey; a tenth of the visits is a habit of EPA surveys (from memory)",
        find=_too_few,
    ),
)
