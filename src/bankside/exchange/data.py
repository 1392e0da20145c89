"""What is handed to every writer of an open format: a survey, its gaugings, and their figures."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from bankside.gauging.practice_mark import refuse_practice
from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.choice import rules_of
from bankside.survey.records import Survey
from bankside.survey.site_names import SiteIndex
from bankside.survey.visits import Visit, visit_of

__all__ = ["ReadData", "SurveyData", "gauging_keys", "survey_data"]


@attrs.frozen
class SurveyData:
    """Gaugings, the survey that they belong to, and what is worked out from them.

    `survey` is None where nobody has listed the sites. `visits` are those of the gaugings, in their
    order, or none where no figures are wanted: they are written, marked as worked out, and never
    read back. ValueError where they are of other gaugings, InputRefused where one is practice.
    """

    survey: Survey | None = None
    gaugings: tuple[Gauging, ...] = ()
    visits: tuple[Visit, ...] = ()

    def __attrs_post_init__(self) -> None:
        for gauging in self.gaugings:
            refuse_practice(gauging)
        if self.visits and tuple(visit.gauging for visit in self.visits) != self.gaugings:
            raise ValueError("visits must be those of the gaugings, in their order, or none")


@attrs.frozen
class ReadData:
    """What a file of an open format holds, and what of it was not read, in sentences."""

    data: SurveyData
    notes: tuple[str, ...] = ()


def gauging_keys(gaugings: Sequence[Gauging]) -> tuple[str, ...]:
    """Return what tells each gauging from every other: its id where that is its own.

    One without an id, or with that of one before it, is called by its place among them.
    """
    ids = {gauging.id for gauging in gaugings}
    used: set[str] = set()
    keys = []
    for number, gauging in enumerate(gaugings, 1):
        key = gauging.id
        if key is None or key in used:
            key = f"gauging-{number}"
            while key in used or key in ids:
                key += "-"
        used.add(key)
        keys.append(key)
    return tuple(keys)


def survey_data(survey: Survey | None, gaugings: Sequence[Gauging]) -> SurveyData:
    """Return gaugings with the survey that lists their sites, and all that is worked out.

    Each is checked by the rule set that its record names.
    """
    index = SiteIndex.of(survey.sites if survey is not None else ())
    visits = [
        visit_of(gauging, rules_of(gauging)[0], index.site_of(gauging.site), id_=key)
        for key, gauging in zip(gauging_keys(gaugings), gaugings, strict=True)
    ]
    return SurveyData(survey, tuple(gaugings), tuple(visits))
