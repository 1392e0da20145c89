"""In which order the gaugings of a survey stand, and under which numbers."""

from __future__ import annotations

from collections.abc import Mapping

from bankside.report.survey.material import Surveyed, SurveyMaterial
from bankside.survey.in_time import moment_key

__all__ = ["in_order", "numbers_of", "range_words"]


def in_order(material: SurveyMaterial) -> tuple[Surveyed, ...]:
    """Return the gaugings by site as the water meets them, then in time; at no site come last."""
    order = material.examined.order.sites
    place = {ordered.site.id: number for number, ordered in enumerate(order)}

    def key(one: Surveyed) -> tuple[int, object]:
        site = one.visit.site
        return len(place) if site is None else place[site.id], moment_key(one.visit)

    return tuple(sorted(material.surveyed, key=key))


def numbers_of(material: SurveyMaterial) -> Mapping[str, int]:
    """Return visit id → its number in the report, counted from 1."""
    return {one.visit.id: number for number, one in enumerate(in_order(material), 1)}


def range_words(values: list[float], form: str) -> str:
    """Return from which to which value something ranges: "20 to 26", or the one value."""
    low, high = format(min(values), form), format(max(values), form)
    return low if low == high else f"{low} to {high}"
