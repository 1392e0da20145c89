"""Sites that nobody visited, and gaugings that belong to none or were made far from theirs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from bankside.gauging.records import Site
from bankside.kernel.limits import above
from bankside.survey.along_line import line_km
from bankside.survey.checks.finding import SurveyCheck, SurveyFinding
from bankside.survey.examined import ExaminedSurvey
from bankside.survey.near_names import sites_like
from bankside.survey.words import listed, sentence, site_words, visit_words

__all__ = ["CHECKS"]


def _unvisited(examined: ExaminedSurvey) -> Iterator[SurveyFinding]:
    visited = {visit.site.id for visit in examined.visits if visit.site is not None}
    for ordered in examined.order.sites:
        site = ordered.site
        if site.id not in visited and site.visits_planned != 0:
            yield SurveyFinding(
                check="Site without a gauging",
                severity="explain",
                found=f"{site_words(site)} ({site.id}) has no gauging.",
                advice="Visit it, bring in what was measured there, or say why nobody could: dry, "
                "too deep and no permission are results as well.",
                sites=(site.id,),
            )


def _too_few(examined: ExaminedSurvey) -> Iterator[SurveyFinding]:
    made = Counter(visit.site.id for visit in examined.visits if visit.site is not None)
    for ordered in examined.order.sites:
        site, planned = ordered.site, ordered.site.visits_planned
        if planned is not None and 0 < made[site.id] < planned:
            yield SurveyFinding(
                check="Fewer gaugings than planned",
                severity="note",
                found=f"{site_words(site)} ({site.id}) has {made[site.id]} of {planned:g} gaugings "
                "that were planned.",
                advice="Visit it again while the season lasts, or say that it was not.",
                sites=(site.id,),
            )


def _nowhere(examined: ExaminedSurvey) -> Iterator[SurveyFinding]:
    for visit in examined.visits:
        if visit.site is not None:
            continue
        like = sites_like(visit.gauging.site, examined.survey.sites)
        near = [f"{site_words(site)} ({site.id})" for site in like]
        hint = f" That is the name of, or nearly, {listed(near)}." if near else ""
        yield SurveyFinding(
            check="Gauging at no known site",
            severity="explain",
            found=f"{sentence(visit_words(visit))} is at no site of the survey, or at more than "
            f"one: it names {_named(visit.gauging.site)}.{hint}",
            advice="Say which site it is: by its id in the gauging, or by the name among the other "
            "names of the site; nothing is taken for it.",
            sites=tuple(site.id for site in like),
            visits=(visit.id,),
            day=visit.day,
        )


def _named(said: Site) -> str:
    label = None if said.position is None else said.position.label
    parts = (("id", said.id), ("stream", said.stream), ("place", said.name), ("point", label))
    told = [f'the {what} "{name}"' for what, name in parts if name is not None]
    return listed(told) or "nothing"


def _far_off(examined: ExaminedSurvey) -> Iterator[SurveyFinding]:
    allowed = examined.rules["site_distance"]
    for visit in examined.visits:
        place = visit.gauging.site.position
        if visit.site is None or visit.site.position is None or place is None:
            continue
        metres = 1000 * line_km((visit.site.position, place))
        if above(metres, allowed.si):
            yield SurveyFinding(
                check="Far from its site",
                severity="explain",
                found=f"The position of {visit_words(visit)} is {metres:,.0f} m from where "
                f"{site_words(visit.site)} is planned, more than {allowed.words()}.",
                advice="Ask whether it was taken at the section or at the car, and whether it is "
                "the right site; look at signs and at latitude and longitude changed about.",
                sites=(visit.site.id,),
                visits=(visit.id,),
                day=visit.day,
                thresholds=(allowed,),
            )


def _out_of_season(examined: ExaminedSurvey) -> Iterator[SurveyFinding]:
    starts, ends = examined.survey.starts, examined.survey.ends
    for visit in examined.visits:
        day = visit.day
        bound = ""
        if day is not None and starts is not None and day < starts:
            bound = f"starts on {starts.isoformat()}"
        elif day is not None and ends is not None and day > ends:
            bound = f"ends on {ends.isoformat()}"
        if bound:
            yield SurveyFinding(
                check="Outside the season",
                severity="explain",
                found=f"{sentence(visit_words(visit))} is outside the survey, which {bound}.",
                advice="Look at the date, day and month among it, or leave the gauging out.",
                sites=() if visit.site is None else (visit.site.id,),
                visits=(visit.id,),
                day=day,
            )


CHECKS = (
    SurveyCheck(
        name="Site without a gauging",
        trigger="A site of the survey has no gauging, and gaugings are planned there or nothing is "
        "said about it.",
        severities=("explain",),
        remedy="Visit it, or say why nobody could.",
        source="ours, no source",
        find=_unvisited,
    ),
    SurveyCheck(
        name="Fewer gaugings than planned",
        trigger="A site has gaugings, and fewer than are planned.",
        severities=("note",),
        remedy="Visit it again, or say that it was not.",
        source="ours, no source",
        find=_too_few,
    ),
    SurveyCheck(
        name="Gauging at no known site",
        trigger="A gauging names no site of the survey, or more than one. Sites whose names are "
        "the same or nearly so are told, and none is taken.",
        severities=("explain",),
        remedy="Say which site it is.",
        source="common practice, no source: site names are spelled in several ways",
        find=_nowhere,
    ),
    SurveyCheck(
        name="Far from its site",
        trigger="The position of a gauging is further from the planned one of its site than the "
        "limit.",
        severities=("explain",),
        remedy="Ask where it was taken, and whether it is the right site.",
        source="common practice, no source",
        find=_far_off,
        thresholds=("site_distance",),
    ),
    SurveyCheck(
        name="Outside the season",
        trigger="A gauging was made before the survey starts or after it ends.",
        severities=("explain",),
        remedy="Look at the date.",
        source="ours, no source",
        find=_out_of_season,
    ),
)
