"""What readings, profiles, widths, rod and meter leave open of a discharge, by its stations.

All but what lies between verticals, each part as a variance of the discharge.
"""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from bankside.gauging.between_station import Station
from bankside.kernel.between import shared_variance
from bankside.kernel.between_parts import (
    common_profile_variance,
    meter_variance,
    profile_length,
    readings_variance,
    rod_variance,
    widths_variance,
    zero_variance,
)
from bankside.kernel.totals import total_of

__all__ = ["Variances", "panel_m", "variances_over"]


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
    panels = [panel_m(water, i) for water in waters for i in range(len(water))]
    stations = [one for water in waters for one in water]
    flows = [one.unit_discharge for one in stations]
    velocities = [one.velocity_ms for one in stations]
    by_surface = [float(one.by_surface) for one in stations]
    return Variances(
        readings=readings_variance(panels, [one.reading_variance for one in stations]),
        profile=total_of([_profile_variance(water) for water in waters]),
        width=widths_variance(panels, flows, width_percent),
        rod=rod_variance(panels, velocities),
        zero=zero_variance(panels, [one.depth_m for one in stations]),
        meter=meter_variance(panels, flows, velocities, own_rating),
        systematic=common_profile_variance(panels, flows, by_surface),
    )


def panel_m(stations: Sequence[Station], i: int) -> float:
    """Return the width of a panel in m: half the distance between both neighbours."""
    low, high = stations[max(i - 1, 0)], stations[min(i + 1, len(stations) - 1)]
    return (high.tape_m - low.tape_m) / 2.0


def _profile_variance(stations: Sequence[Station]) -> float:
    """Return what the profiles of single verticals leave open, near ones together.

    For profiles that are off by as much as the velocity.
    """
    panels = [panel_m(stations, i) for i in range(len(stations))]
    return shared_variance(
        [one.tape_m for one in stations],
        [
            abs(panel * one.unit_discharge * one.profile_share)
            for panel, one in zip(panels, stations, strict=True)
        ],
        profile_length(panels, [one.depth_m for one in stations]),
    )
