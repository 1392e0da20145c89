"""A survey with everything that its visits say beside one another, worked out once."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.survey.balances import balances_of
from bankside.survey.closure import Closure
from bankside.survey.duplicate_share import DuplicateShare, duplicate_share
from bankside.survey.duplicates import Duplicates, disputed_ids, duplicates_of
from bankside.survey.hydrographic_order import HydrographicOrder, hydrographic_order
from bankside.survey.in_time import in_time
from bankside.survey.mirrored import Mirrored, mirrored_of
from bankside.survey.reaches import reaches_of
from bankside.survey.records import Survey
from bankside.survey.through_time import SiteHistory, histories_of
from bankside.survey.unit_discharge import UnitDischarge, unit_discharges_of
from bankside.survey.visits import Visit

__all__ = ["ExaminedSurvey", "examine_survey"]


@attrs.frozen
class ExaminedSurvey:
    """A survey, its visits in order of time, and what they say beside one another.

    `window_days` is how many days apart gaugings may be to be held together in balances, reaches
    and unit discharges.
    """

    survey: Survey
    visits: tuple[Visit, ...]
    rules: RuleSet
    window_days: int
    order: HydrographicOrder
    histories: tuple[SiteHistory, ...]
    duplicates: tuple[Duplicates, ...]
    share: DuplicateShare
    balances: tuple[Closure, ...]
    reaches: tuple[Closure, ...]
    unit_discharges: tuple[UnitDischarge, ...]
    mirrored: tuple[Mirrored, ...]


def examine_survey(
    survey: Survey, visits: Sequence[Visit], rules: RuleSet, window_days: int | None = None
) -> ExaminedSurvey:
    """Return a survey with everything that its visits say beside one another.

    window_days: how many days apart gaugings may be; as many as the survey says if not given.
    """
    if window_days is None:
        window_days = int(survey.days_apart or 0)
    ordered = in_time(visits)
    duplicates = duplicates_of(ordered, rules)
    disputed = disputed_ids(duplicates)
    return ExaminedSurvey(
        survey=survey,
        visits=ordered,
        rules=rules,
        window_days=window_days,
        order=hydrographic_order(survey),
        histories=histories_of(survey, ordered),
        duplicates=duplicates,
        share=duplicate_share(survey, ordered),
        balances=balances_of(survey, ordered, window_days, disputed),
        reaches=reaches_of(survey, ordered, window_days, disputed),
        unit_discharges=unit_discharges_of(ordered, rules, window_days, disputed),
        mirrored=mirrored_of(ordered, rules),
    )
