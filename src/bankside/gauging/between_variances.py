"""What readings, profiles, widths, rod and meter leave open of a discharge, by its stations.

All but what lies between verticals, each part as a variance of the discharge.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import attrs

from bankside.gauging import between_assumed as assumed
from bankside.gauging.between_station import Station
from bankside.kernel.between import shared_variance
from bankside.kernel.iso_tables import meter_uncertainty_group, meter_uncertainty_individual
from bankside.kernel.section import STANDARD_GRAVITY

__all__ = ["Variances", "panel_m", "variances_over"]

# The width of a panel in m, and its station.
_Panels = Sequence[tuple[float, Station]]


@attrs.frozen
class Variances:
    """What each part leaves open, in m⁶/s²; `profile` for profiles off by as much as the velocity.

    Readings, profiles and the widths of panels count vertical by vertical, and more verticals make
    them less; the rod, the meter's zero and calibration, and what is systematic, the profile of the
    whole section, are the same at all of them.
    """

    readings: float
    profile: float
    width: float
    rod: float
    zero: float
    meter: float
    systematic: float

    @property
    def common(self) -> float:
        """Of what is the same at all verticals, whatever their number."""
        return self.rod + self.zero + self.meter + self.systematic

    @property
    def by_vertical(self) -> float:
        """Of what counts vertical by vertical, but for profiles."""
        return self.readings + self.width

    @property
    def fixed(self) -> float:
        """Of all that does not hang on the character of the section."""
        return self.by_vertical + self.common


def variances_over(
    waters: Sequence[Sequence[Station]], width_percent: float, *, own_rating: bool
) -> Variances:
    """Return what each part leaves open of the water along these stations.

    `width_percent` is what a panel's width is uncertain by, `own_rating` whether the meter was
    calibrated itself.
    """
    panels = [(panel_m(water, i), one) for water in waters for i, one in enumerate(water)]
    by_depth = math.fsum(panel * abs(one.velocity_ms) for panel, one in panels)
    by_velocity = math.fsum(panel * one.depth_m for panel, one in panels)
    head = math.fsum(
        panel * abs(one.velocity_ms) ** 3 / (2.0 * STANDARD_GRAVITY) for panel, one in panels
    )
    width = width_percent / 100.0
    return Variances(
        readings=math.fsum(panel * panel * one.reading_variance for panel, one in panels),
        profile=math.fsum(map(_profile_variance, waters)),
        width=math.fsum((width * panel * one.unit_discharge) ** 2 for panel, one in panels),
        rod=(assumed.ROD_M * by_depth) ** 2 + (assumed.PILE_UP * head) ** 2,
        zero=(assumed.ZERO_MS * by_velocity) ** 2,
        meter=_meter_variance(panels, own_rating=own_rating),
        systematic=_common_profile_variance(panels),
    )


def panel_m(stations: Sequence[Station], i: int) -> float:
    """Return the width of a panel in m: half the distance between both neighbours."""
    low, high = stations[max(i - 1, 0)], stations[min(i + 1, len(stations) - 1)]
    return (high.tape_m - low.tape_m) / 2.0


def _meter_variance(panels: _Panels, *, own_rating: bool) -> float:
    """Return what the rating leaves open, by ISO 748's table for the velocity of each vertical.

    It is one meter, so it errs the same way at all velocities (ours): what it makes of the panels
    is added up, not its squares.
    """
    table = meter_uncertainty_individual if own_rating else meter_uncertainty_group
    off = math.fsum(
        panel * one.unit_discharge * table(abs(one.velocity_ms)) / 100.0 for panel, one in panels
    )
    return off * off


def _common_profile_variance(panels: _Panels) -> float:
    """Return what the profile of the whole section leaves open.

    Verticals with the same departure go together, those by the surface apart from all others.
    """
    flows: dict[float, float] = {}
    for panel, one in panels:
        departure = one.common_profile
        flows[departure] = flows.get(departure, 0.0) + panel * one.unit_discharge
    return math.fsum((departure * flow) ** 2 for departure, flow in flows.items())


def _profile_variance(stations: Sequence[Station]) -> float:
    """Return what the profiles of single verticals leave open, near ones together.

    For profiles that are off by as much as the velocity.
    """
    panels = [panel_m(stations, i) for i in range(len(stations))]
    area = math.fsum(panel * one.depth_m for panel, one in zip(panels, stations, strict=True))
    return shared_variance(
        [one.tape_m for one in stations],
        [
            abs(panel * one.unit_discharge * one.profile_share)
            for panel, one in zip(panels, stations, strict=True)
        ],
        assumed.PROFILE_LENGTH * area / math.fsum(panels),
    )
