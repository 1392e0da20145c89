"""Visits that are unlike the one before, unlike the basin, or turned about."""

from __future__ import annotations

from collections.abc import Iterator

from bankside.survey.checks.finding import SurveyCheck, SurveyFinding
from bankside.survey.examined import ExaminedSurvey
from bankside.survey.words import day_words, sentence, site_words, visit_words

__all__ = ["CHECKS"]


def _unlike_last_time(examined: ExaminedSurvey) -> Iterator[SurveyFinding]:
    for history in examined.histories:
        for timed in history.visits:
            if not timed.odd or timed.previous is None:
                continue
            told = " ".join(f"{one.name.capitalize()}: {one.words}" for one in timed.odd)
            yield SurveyFinding(
                check="Unlike last time",
                severity="explain",
                found=f"{site_words(history.site)}: {visit_words(timed.visit)} beside that of "
                f"{day_words(timed.previous.day)}. {told}",
                advice="Ask the crew whether it was the same section with both edges; look at the "
                "photos and at the units of rod and meter.",
                sites=(history.site.id,),
                visits=(timed.previous.id, timed.visit.id),
                day=timed.visit.day,
            )


def _turned_about(examined: ExaminedSurvey) -> Iterator[SurveyFinding]:
    for mirrored in examined.mirrored:
        site = mirrored.visit.site
        place = "" if site is None else f"{site_words(site)}, "
        yield SurveyFinding(
            check="Section turned about",
            severity="explain",
            found=sentence(f"{place}{visit_words(mirrored.visit)}: {mirrored.words}"),
            advice=mirrored.advice,
            sites=() if site is None else (site.id,),
            visits=(mirrored.earlier.id, mirrored.visit.id),
            day=mirrored.visit.day,
            thresholds=(mirrored.threshold,),
        )


def _odd_for_its_basin(examined: ExaminedSurvey) -> Iterator[SurveyFinding]:
    for one in examined.unit_discharges:
        if one.odd:
            low, high = one.thresholds
            yield SurveyFinding(
                check="Odd for its basin",
                severity="explain",
                found=one.words,
                advice="Look at the units of tape, rod and meter and at the drainage area; ask for "
                "springs, diversions and releases above the site.",
                sites=(one.site.id,),
                visits=tuple(visit.id for visit in one.flow.visits),
                day=one.day,
                thresholds=(low if (one.ratio or 0.0) < low.si else high,),
            )


CHECKS = (
    SurveyCheck(
        name="Unlike last time",
        trigger="At a similar or unknown stage the width differs from that of the visit before by "
        "more than 20 %, or the mean depth by more than 25 %; or the mean velocity is about 3.28 "
        "times as high or as low, or runs the other way.",
        severities=("explain",),
        remedy="Ask for section, edges and units; streams do change.",
        source="common practice, no source",
        find=_unlike_last_time,
    ),
    SurveyCheck(
        name="Section turned about",
        trigger="Depth or velocity across the water fits that of the visit before better turned "
        "about: its correlation is higher by more than the limit, and at least 0.5.",
        severities=("explain",),
        remedy="Ask from which bank the tape was read, and which way the crew faced.",
        source="common practice, no source",
        find=_turned_about,
        thresholds=("mirror_margin",),
    ),
    SurveyCheck(
        name="Odd for its basin",
        trigger="The discharge for each square kilometre is outside the limits, as a multiple of "
        "the median of the other sites gauged on that day.",
        severities=("explain",),
        remedy="Look at units and drainage area; ask for springs and diversions.",
        source="common practice, no source",
        find=_odd_for_its_basin,
        thresholds=("unit_discharge_low", "unit_discharge_high"),
    ),
)
