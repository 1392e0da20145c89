"""What drains between the sites of a closure, and what that land would give on the day.

More water below than above is no riddle where rain and soil between the sites yield as much: a
spring or a slip is to be looked for only beyond that.
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Sequence

import attrs

from bankside.survey.records import SurveySite
from bankside.survey.synoptic import Synoptic
from bankside.survey.unit_discharge import median_of_others

__all__ = ["LandBetween", "land_between"]


@attrs.frozen
class LandBetween:
    """The area in km² that drains in between, and what it would give in m³/s.

    `gives_m3s` goes by the median unit discharge of the sites other than the one below, None where
    fewer than two of them were gauged near that day. It states no uncertainty: a median is no
    gauging.
    """

    km2: float
    gives_m3s: float | None


def land_between(
    above: Sequence[SurveySite], below: SurveySite, day: datetime.date, synoptic: Synoptic
) -> LandBetween | None:
    """Return the land between sites above, each with an area of its own, and one below.

    None where an area is not known, or those above drain as much as the one below, so that an area
    is wrong or is counted twice.
    """
    areas = [site.drainage_area_km2 for site in above]
    known = [area for area in areas if area is not None]
    if below.drainage_area_km2 is None or len(known) < len(areas):
        return None
    km2 = below.drainage_area_km2 - math.fsum(known)
    if km2 <= 0:
        return None
    _, median = median_of_others(below, day, synoptic)
    return LandBetween(km2, None if median is None else median * km2 / 1000)
