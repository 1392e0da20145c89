"""A station as the model between verticals sees it, and what is assumed of how it was read."""

from __future__ import annotations

import math

import attrs

from bankside.gauging import between_assumed as assumed

__all__ = ["Station", "profile_deviation"]


def profile_deviation(unevenness: float) -> float:
    """Return how far one point departs from the mean of its vertical, over the velocity."""
    return assumed.PROFILE_SMOOTH + assumed.PROFILE_UNEVEN * math.sqrt(unevenness)


@attrs.frozen
class Station:
    """A station of a channel: where it stands, what it carries, and how it was read.

    `vertical` is its index in the record, None for one that nobody has read yet. `exposure_percent`
    is what its exposure leaves of the velocity of each of its `points`. `measured` says whether the
    velocity was read there; where there is water and it was not, another stands in.
    """

    vertical: int | None
    tape_m: float
    depth_m: float
    velocity_ms: float
    points: int
    exposure_percent: float
    measured: bool = True

    @property
    def unit_discharge(self) -> float:
        """Depth times velocity, m²/s."""
        return self.depth_m * self.velocity_ms

    @property
    def reading_variance(self) -> float:
        """By exposure and depth, each station by itself, in m⁴/s²."""
        if self.depth_m == 0.0:
            return 0.0
        if not self.measured:
            return (assumed.STANDS_IN * self.unit_discharge) ** 2
        exposure = self.exposure_percent / 100.0 / math.sqrt(max(self.points, 1))
        by_depth = assumed.DEPTH_READING_M * self.velocity_ms
        return (exposure * self.unit_discharge) ** 2 + by_depth * by_depth

    @property
    def profile_share(self) -> float:
        """How much of one point's departure from the mean of the vertical counts here."""
        return assumed.TWO_POINTS if self.points > 1 else 1.0
