"""Several crews at one section on one day: what their gaugings come to beside one another."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Final

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.survey.crews.grouping import Grouping, group_name
from bankside.survey.crews.outlying import Outlying, Standing, cochran, grubbs, standings
from bankside.survey.crews.precision import Group, Precision, precision_of
from bankside.survey.duplicates import at_similar_stage
from bankside.survey.in_time import in_time
from bankside.survey.visits import Visit
from bankside.survey.words import day_words, sentence, visit_words

__all__ = ["QUANTITIES", "Compared", "CrewDay", "Quantity", "compare_crews", "crew_day"]


@attrs.frozen
class Quantity:
    """A quantity of a gauging that crews are compared by, in an SI unit."""

    name: str
    unit: str
    of: Callable[[Visit], float | None]


def _of_result(name: str) -> Callable[[Visit], float | None]:
    return lambda visit: None if visit.result is None else getattr(visit.result, name)


QUANTITIES: Final[Mapping[str, Quantity]] = {
    one.name: one
    for one in (
        Quantity("discharge", "m³/s", lambda visit: visit.final_m3s),
        Quantity("width", "m", _of_result("width_m")),
        Quantity("area", "m²", _of_result("area_m2")),
        Quantity("mean velocity", "m/s", _of_result("mean_velocity_ms")),
    )
}
"""What crews are compared by; where discharges differ the others say why."""


@attrs.frozen
class Compared:
    """One quantity of all gaugings by crew, meter or person, and which of these stands out.

    `left_out` are sentences on gaugings that do not say by whom, or with what, they were made.
    """

    by: Grouping
    quantity: Quantity
    precision: Precision
    standings: tuple[Standing, ...]
    spread: Outlying | None
    offset: Outlying | None
    left_out: tuple[str, ...] = ()


@attrs.frozen
class CrewDay:
    """The gaugings of a section on a day, in order of time, and what is to be said about all.

    `remarks` say what was left out, and that the level moved, so that it was not one flow.
    """

    site: str
    day: datetime.date | None
    visits: tuple[Visit, ...]
    remarks: tuple[str, ...]


def crew_day(visits: Sequence[Visit], site: str) -> CrewDay:
    """Return the day of a comparison; InputRefused unless at least two gaugings can be compared.

    site: what the section is called. A gauging without a discharge, or not finished, is left out
    and named.
    """
    ordered = in_time(visits)
    days = sorted({visit.day for visit in ordered if visit.day is not None})
    if len(days) > 1:
        listed = ", ".join(day.isoformat() for day in days)
        message = f"found gaugings of several days ({listed}); those of one day would be right"
        raise InputRefused([Fault(message)])
    used = tuple(visit for visit in ordered if visit.final_m3s is not None)
    if len(used) < 2:
        found = "1 finished gauging" if used else "no finished gaugings"
        message = (
            f"found {found} with a discharge at {site} on "
            f"{day_words(days[0] if days else None)}; two or more would be right"
        )
        raise InputRefused([Fault(message)])
    out = [f"Left out: {visit_words(v)}, as {v.why_none}." for v in ordered if v not in used]
    return CrewDay(site, days[0] if days else None, used, (*out, *_level(used)))


def compare_crews(day: CrewDay, by: Grouping, quantity: str = "discharge") -> Compared | None:
    """Return how groups compare in one quantity; None where no gauging says its group.

    Groups stand in the order in which they measured first. KeyError for an unknown quantity.
    """
    measured = QUANTITIES[quantity]
    names: dict[str, str] = {}
    values: dict[str, list[float]] = {}
    left_out: list[str] = []
    for visit in day.visits:
        value, found = measured.of(visit), group_name(visit.gauging, by)
        if found is None or value is None:
            lacks = f"it does not say its {by}" if found is None else f"it has no {quantity}"
            left_out.append(f"{sentence(visit_words(visit))} is left out, as {lacks}.")
            continue
        names.setdefault(*found)
        values.setdefault(found[0], []).append(value)
    if not values:
        return None
    groups = [Group(names[key], tuple(found)) for key, found in values.items()]
    precision = precision_of(groups)
    return Compared(
        *(by, measured, precision, standings(precision), cochran(groups), grubbs(groups)),
        left_out=tuple(left_out),
    )


def _level(visits: Sequence[Visit]) -> Iterator[str]:
    """Yield what is to be said about the level: a comparison is one of crews at one flow alone."""
    told = [at_similar_stage(one, other) for one, other in pairwise(visits)]
    if len(visits) > 2:
        told.append(at_similar_stage(visits[0], visits[-1]))
    if False in told:
        yield (
            "The level moved between the gaugings, so that it was not one flow: part of what the "
            "crews differ by is the stream's."
        )
    elif None in told:
        yield (
            "Not every gauging has a stage, so nobody can tell whether it was one flow all along."
        )
