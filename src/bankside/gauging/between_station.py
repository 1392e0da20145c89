"""A station as the model between verticals sees it, and how it was read."""

from __future__ import annotations

import attrs

from bankside.kernel.between_parts import profile_share, reading_variance_of

__all__ = ["Station"]


@attrs.frozen
class Station:
    """A station of a channel: where it stands, what it carries, and how it was read.

    `vertical` is its index in the record, None for one that nobody has read yet. `exposure_percent`
    is what its exposure leaves of the velocity of each of its `points`. `measured` says whether the
    velocity was read there; where there is water and it was not, another stands in. `at_surface`
    says whether its one point was at the surface; with more points it says nothing.
    """

    vertical: int | None
    tape_m: float
    depth_m: float
    velocity_ms: float
    points: int
    exposure_percent: float
    measured: bool = True
    at_surface: bool = False

    @property
    def unit_discharge(self) -> float:
        """Depth times velocity, m²/s."""
        return self.depth_m * self.velocity_ms

    @property
    def reading_variance(self) -> float:
        """By exposure and depth, each station by itself, in m⁴/s²."""
        return reading_variance_of(
            self.depth_m,
            self.velocity_ms,
            float(self.points),
            self.exposure_percent,
            self.measured,
        )

    @property
    def profile_share(self) -> float:
        """How much of the departure of a point at 0.6 from the mean of the vertical counts here."""
        return profile_share(float(self.points), self.by_surface)

    @property
    def by_surface(self) -> bool:
        """Whether a coefficient makes its mean velocity of that at the surface."""
        return self.at_surface and self.points == 1
