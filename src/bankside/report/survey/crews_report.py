"""The report of a comparison of crews: several crews, one section, one day."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from importlib.metadata import version
from typing import Final

from bankside.note.content import Fact, FactGroup, Part, Picture
from bankside.note.facts import fact
from bankside.report.survey.content import SurveyContent
from bankside.report.survey.crews_picture import draw_crews
from bankside.report.survey.crews_tables import (
    GROUP_HEADS,
    groups_table,
    precision_table,
    spread_words,
)
from bankside.report.survey.documents import SurveyReport
from bankside.survey.crews.comparison import QUANTITIES, Compared, CrewDay, compare_crews
from bankside.survey.crews.grouping import GROUPINGS
from bankside.survey.words import discharge_words

__all__ = ["crew_comparisons", "crews_report"]

_KEY: Final = "crews by "
_ABOUT: Final = (
    "Repeatability is the standard deviation of one crew's gaugings, one after the other, at one "
    "flow; reproducibility is that of gaugings by different crews (ISO 5725-2, one way, crews in "
    "the place of laboratories; from memory). Two gaugings by one crew are seldom further apart "
    "than 2.8 times the first, two by different crews than 2.8 times the second (19 times in 20; "
    "from memory)."
)
_SIGNS: Final = (
    "h is how many standard deviations of the means a mean is off; k is the spread of a crew's "
    "repeats over the repeatability: chance alone puts one crew in twenty above the 5 % line, and "
    "one in a hundred above that of 1 %. By the tests of Cochran and Grubbs a straggler is beyond "
    "5 %, an outlier beyond 1 %. A comparison shows where to look for a habit that can be changed; "
    "it is no mark for anybody."
)


def crews_report(day: CrewDay) -> SurveyReport:
    """Return the report with its pictures drawn: by crew, by meter, and by who read."""
    found = [compared for _, compared in crew_comparisons(day)]
    quantities = [one for name in QUANTITIES if (one := compare_crews(day, "crew", name))]
    parts = (*_first(day, quantities), *(_part(one) for one in found))
    pictures = {_key(one): draw_crews(one, "svg").decode() for one in found}
    return SurveyReport(_content(day, found, parts), pictures)


def crew_comparisons(day: CrewDay) -> Iterator[tuple[str, Compared]]:
    """Yield each comparison with its title; one meter, or one reader, for all is none."""
    for by in GROUPINGS:
        compared = compare_crews(day, by)
        if compared is not None and (by == "crew" or len(compared.precision.groups) > 1):
            yield _title(compared), compared


def _content(day: CrewDay, found: Sequence[Compared], parts: Sequence[Part]) -> SurveyContent:
    first = found[0].precision if found else None
    of_all = None if first is None else discharge_words(first.mean)
    by = tuple(Fact(f"By {GROUP_HEADS[one.by]}", str(len(one.precision.groups))) for one in found)
    return SurveyContent(
        title=f"Comparison of crews: {day.site}",
        kind="Several crews, one section, one day",
        name=day.site,
        basin="",
        season=fact("Day", None if day.day is None else day.day.isoformat()),
        groups=(
            FactGroup("What was done", (Fact("Gaugings", str(len(day.visits))), *by)),
            FactGroup("What it came to", (fact("Mean of all", of_all),)),
        ),
        warnings=day.remarks,
        parts=tuple(parts),
        notes_title="",
        notes_about="",
        notes=(),
        running=f"{day.site} · Bankside {version('bankside')}",
        day=day.day,
    )


def _first(day: CrewDay, quantities: Sequence[Compared]) -> Iterator[Part]:
    if not quantities:
        return
    yield Part(
        "How well crews agree",
        sentences=(_ABOUT, *_without_repeats(quantities[0])),
        tables=(precision_table(quantities),),
        below=(
            "In percent of the mean. Where discharges differ, width, area and velocity say why.",
        ),
    )


def _without_repeats(compared: Compared) -> Iterator[str]:
    if compared.precision.repeatability is None:
        yield (
            "No crew gauged twice, so that its repeatability cannot be told: what is called "
            "reproducibility here is the standard deviation of the gaugings."
        )


def _part(compared: Compared) -> Part:
    return Part(
        _title(compared),
        pictures=(
            Picture(
                _key(compared),
                "Discharges by group: "
                + "; ".join(
                    f"{group.name}: {', '.join(f'{value:.4g}' for value in group.values)}"
                    for group in compared.precision.groups
                ),
                "A dot is a gauging, open where its group stands out; a short line is the mean of "
                "a group, the long one that of all; grey reaches two reproducibility standard "
                "deviations to either side.",
            ),
        ),
        tables=(groups_table(compared),),
        below=(*spread_words(compared), _SIGNS),
    )


def _title(compared: Compared) -> str:
    return {"crew": "Crew by crew", "meter": "Meter by meter", "person": "By who read"}[compared.by]


def _key(compared: Compared) -> str:
    return f"{_KEY}{compared.by}"
