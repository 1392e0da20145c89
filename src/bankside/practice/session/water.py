"""The water at a section at any second of a session, also where its level rises."""

from __future__ import annotations

import attrs

from bankside.practice.stream import SimulatedStream

__all__ = ["Water"]


@attrs.frozen(eq=False)
class Water:
    """A simulated section whose depth and velocity grow evenly with the seconds of a session.

    `rise` is in m/s of depth, wherever there is water; `quicken` is the part of the velocity that
    is gained in a second. The edges of water stay where they are (a simplification of ours).
    """

    stream: SimulatedStream
    rise: float = 0.0
    quicken: float = 0.0

    def depth_at(self, y: float, seconds: float) -> float:
        """Return the true depth at a position, in m; 0 on dry ground."""
        depth = self.stream.depth_at(y)
        return depth + self.rise * seconds if depth > 0.0 else 0.0

    def faster(self, seconds: float) -> float:
        """Return by which factor the water is faster than at the start."""
        return 1.0 + self.quicken * seconds

    def mean_speed_at(self, y: float, seconds: float) -> float:
        """Return the mean velocity of the vertical along the flow, in m/s."""
        return self.stream.mean_speed_at(y) * self.faster(seconds)

    def speed_at(self, y: float, fraction: float, seconds: float) -> float:
        """Return the velocity along the flow at a fraction of the depth, its mean in time, m/s."""
        return self.stream.speed_at(y, fraction) * self.faster(seconds)

    def velocity_at(self, y: float, seconds: float) -> float:
        """Return the mean velocity of the vertical square to the section, in m/s."""
        return self.stream.velocity_at(y) * self.faster(seconds)

    def discharge(self, seconds: float) -> float:
        """Return the true discharge at a second of the session, in m³/s.

        The integral of (d + r t) v (1 + q t) over the wet width: that of d v, and r t times that
        of v over every node distance that has water at either end.
        """
        deeper = self.rise * seconds
        found = self.stream.discharge
        if deeper:
            found += deeper * _wet_velocities(self.stream)
        return found * self.faster(seconds)

    def ripple_at(self, y: float) -> float:
        """Return how far the surface at a rod swings up and down, in m.

        Half the velocity head and 3 mm (assumed).
        """
        v = self.stream.velocity_at(y)
        return 0.003 + 0.5 * v * v / (2.0 * 9.80665)


def _wet_velocities(stream: SimulatedStream) -> float:
    """Return the integral of the velocity over the wet width, in m²/s."""
    total = 0.0
    for i in range(len(stream.depths) - 1):
        if stream.depths[i] > 0.0 or stream.depths[i + 1] > 0.0:
            total += 0.5 * (stream.velocities[i] + stream.velocities[i + 1])
    return total * stream.step
