"""Which gaugings are repeats of one measurement: made at one site on one day, or said to be."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import attrs

from bankside.survey.in_time import in_time
from bankside.survey.visits import Visit

__all__ = ["RepeatGroup", "repeat_groups", "unknown_repeats"]


@attrs.frozen
class RepeatGroup:
    """The gaugings of one measurement in order of time: one, or as often as it was repeated.

    `linked` says whether a record itself says that it repeats another one of the group.
    """

    visits: tuple[Visit, ...]
    linked: bool


def repeat_groups(visits: Sequence[Visit]) -> tuple[RepeatGroup, ...]:
    """Return the visits by the measurement that they belong to, in order of time.

    Gaugings of one site on one day belong together, and so do those of which one says that it
    repeats the other. One without a site or a day belongs to another only where a record says so.
    """
    ordered = in_time(visits)
    group_of = list(range(len(ordered)))
    links = list(_links(ordered))
    for one, other in (*links, *_same_day(ordered)):
        kept, joined = sorted((group_of[one], group_of[other]))
        group_of = [kept if group == joined else group for group in group_of]
    members: dict[int, list[int]] = {}
    for index, group in enumerate(group_of):
        members.setdefault(group, []).append(index)
    linked = {group_of[one] for one, _ in links}
    return tuple(
        RepeatGroup(tuple(ordered[index] for index in indexes), group in linked)
        for group, indexes in members.items()
    )


def unknown_repeats(visits: Sequence[Visit]) -> tuple[Visit, ...]:
    """Return the visits that say they repeat a gauging which is not among these, or themselves."""
    known = {visit.id for visit in visits}
    return tuple(
        visit
        for visit in in_time(visits)
        if visit.gauging.repeats is not None
        and (visit.gauging.repeats not in known or visit.gauging.repeats == visit.id)
    )


def _links(visits: Sequence[Visit]) -> Iterator[tuple[int, int]]:
    index_of = {visit.id: index for index, visit in enumerate(visits)}
    for index, visit in enumerate(visits):
        other = index_of.get(visit.gauging.repeats or "")
        if other is not None and other != index:
            yield index, other


def _same_day(visits: Iterable[Visit]) -> Iterator[tuple[int, int]]:
    first: dict[tuple[str, object], int] = {}
    for index, visit in enumerate(visits):
        if visit.site is not None and visit.day is not None:
            yield index, first.setdefault((visit.site.id, visit.day), index)
