"""A simulated stream at one section: everything that is true about it, at any tape position.

Depth and mean velocity stand at nodes a few centimetres apart and run straight between them. So
their product is a parabola from node to node, and the true discharge is its exact integral, not an
approximation that a finer grid would change.
"""

import math
from collections.abc import Mapping, Sequence

import attrs

from bankside.gauging.records import Bank
from bankside.practice.profile import Profile
from bankside.practice.turbulence import exposure_variance

__all__ = ["SimulatedStream"]

# In dead water the fluctuations are still those of this part of the mean velocity (assumed).
_STILL = 0.3
# Bounds of the integral time scale of turbulence, in s (assumed).
_SHORTEST, _LONGEST = 0.2, 15.0
# The velocity below which turbulence turns over no slower, in m/s (assumed).
_SLOWEST = 0.05
# How far beyond an edge of water, in nodes, is still the edge: what rounding leaves.
_AT_EDGE = 1e-6


@attrs.frozen(eq=False)
class SimulatedStream:
    """A section of a stream in metres and seconds; `drawn` are its parameters by name.

    Tape positions grow from the left bank, whose edge of water is at `left`. Of `depths`,
    `velocities` (mean of the vertical, square to the tape), `angles` (degrees) and `modes` (of
    the vertical profile) there is one for every node, `step` from the next.
    """

    kind: str
    seed: int
    drawn: Mapping[str, float]
    left: float
    step: float
    depths: Sequence[float]
    velocities: Sequence[float]
    angles: Sequence[float]
    modes: tuple[Sequence[float], Sequence[float], Sequence[float]]
    profile: Profile
    left_bank: Bank
    right_bank: Bank

    @property
    def right(self) -> float:
        """Tape position of the right edge of water, in m."""
        return self.left + self.step * (len(self.depths) - 1)

    def _between(self, values: Sequence[float], y: float) -> float:
        """Return a value that runs straight between the nodes; 0 beyond the edges."""
        x = (y - self.left) / self.step
        last = len(values) - 1
        i = int(x)
        if x < 0.0 or i >= last:
            if -_AT_EDGE < x < 0.0:
                return values[0]
            return values[last] if last <= x < last + _AT_EDGE else 0.0
        low = values[i]
        return low + (values[i + 1] - low) * (x - i)

    def depth_at(self, y: float) -> float:
        """Return the true depth at a tape position, in m; 0 on dry ground."""
        return self._between(self.depths, y)

    def velocity_at(self, y: float) -> float:
        """Return the true mean velocity of the vertical square to the tape, in m/s."""
        return self._between(self.velocities, y)

    def angle_at(self, y: float) -> float:
        """Return the angle between the flow and the line square to the tape, in degrees."""
        return self._between(self.angles, y)

    def mean_speed_at(self, y: float) -> float:
        """Return the mean velocity of the vertical along the flow, in m/s."""
        return self.velocity_at(y) / math.cos(math.radians(self.angle_at(y)))

    def speed_at(self, y: float, fraction: float) -> float:
        """Return the velocity along the flow at a fraction of the depth, its mean in time, m/s.

        A meter that is turned into the flow reads this; `velocity_at` is its part square to the
        tape, averaged over the depth.
        """
        shear, bend, wave = self.modes
        modes = (self._between(shear, y), self._between(bend, y), self._between(wave, y))
        return self.mean_speed_at(y) * self.profile.at(fraction, modes)

    def exposure_deviation(self, y: float, seconds: float) -> float:
        """Return the standard deviation of a mean over `seconds` at a point, in m/s.

        Turbulence, which turns over faster where water is shallow and fast, and slow pulsation.
        """
        turbulence, slow = self.fluctuations(y)
        return math.sqrt(
            exposure_variance(*turbulence, seconds) + exposure_variance(*slow, seconds)
        )

    def fluctuations(self, y: float) -> tuple[tuple[float, float], tuple[float, float]]:
        """Return deviation (m/s) and time scale (s) of turbulence and of slow pulsation."""
        drawn = self.drawn
        v = abs(self.velocity_at(y))
        scale = math.sqrt(v * v + (_STILL * drawn["velocity"]) ** 2)
        turnover = drawn["turnover"] * self.depth_at(y) / max(v, _SLOWEST)
        return (
            (drawn["intensity"] * scale, min(_LONGEST, max(_SHORTEST, turnover))),
            (drawn["pulsation"] * scale, drawn["pulsation_time"]),
        )

    def discharge_between(self, low: float, high: float) -> float:
        """Return the true discharge between two tape positions, in m³/s."""
        last = len(self.depths) - 1
        x = max(0.0, (low - self.left) / self.step)
        to = min(float(last), (high - self.left) / self.step)
        total = 0.0
        while x < to:
            i = int(x)
            end = min(to, i + 1.0)
            d0, d1 = _along(self.depths, i, x - i), _along(self.depths, i, end - i)
            v0, v1 = _along(self.velocities, i, x - i), _along(self.velocities, i, end - i)
            total += (end - x) * (d0 * (2.0 * v0 + v1) + d1 * (v0 + 2.0 * v1))
            x = end
        return total * self.step / 6.0

    @property
    def discharge(self) -> float:
        """True discharge, in m³/s."""
        d, v = self.depths, self.velocities
        total = 0.0
        for i in range(len(d) - 1):
            d0, d1, v0, v1 = d[i], d[i + 1], v[i], v[i + 1]
            total += d0 * (2.0 * v0 + v1) + d1 * (v0 + 2.0 * v1)
        return total * self.step / 6.0

    @property
    def area(self) -> float:
        """True area of the section, in m²."""
        d = self.depths
        total = 0.5 * (d[0] + d[-1])
        for depth in d[1:-1]:
            total += depth
        return total * self.step

    @property
    def wet_stretches(self) -> list[tuple[float, float]]:
        """Where there is water: from and to, by tape position; more than one where gaps are dry."""
        stretches: list[tuple[float, float]] = []
        start: float | None = None
        for i in range(len(self.depths) - 1):
            here = self.left + i * self.step
            if self.depths[i] > 0.0 or self.depths[i + 1] > 0.0:
                start = here if start is None else start
                if self.depths[i + 1] == 0.0:
                    stretches.append((start, here + self.step))
                    start = None
        if start is not None:
            stretches.append((start, self.right))
        return stretches


def _along(values: Sequence[float], i: int, part: float) -> float:
    """Return the value at this part of the way from node `i` to the next."""
    return values[i] + (values[i + 1] - values[i]) * part
