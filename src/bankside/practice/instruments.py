"""Tape, rod, meter, float and eye of a crew on one visit: what is called where something is true.

Every function takes its random numbers from the generator that it is handed, so many a call
whatever it gives.
"""

import math
import random

import attrs

from bankside.gauging.units import metres_per, metres_per_second_per
from bankside.practice.crew import Crew
from bankside.practice.parameters import normal
from bankside.practice.stream import SimulatedStream

__all__ = ["Instruments", "rounded"]

_GRAVITY = 9.80665
# A meter is set no nearer to surface and bed than this, as fractions of the depth (ours).
_HIGHEST, _LOWEST = 0.02, 0.97


def rounded(value: float, resolution: float) -> float:
    """Return the nearest multiple of the resolution, as a crew calls it; 0 leaves the value."""
    return round(round(value / resolution) * resolution, 6) if resolution else value


@attrs.frozen
class Instruments:
    """The instruments of a visit; `gain` and `zero` (m/s) are the meter's, common to all readings.

    `sees_angles` says whether the crew looks at the angle of the flow at all.
    """

    stream: SimulatedStream
    crew: Crew
    gain: float
    zero: float
    sees_angles: bool
    metre: float
    metre_a_second: float

    @classmethod
    def of(cls, stream: SimulatedStream, crew: Crew, rng: random.Random) -> "Instruments":
        """Return the instruments of one visit, its common errors drawn."""
        return cls(
            stream=stream,
            crew=crew,
            gain=1.0 + crew.calibration * normal(rng),
            zero=crew.zero * normal(rng),
            sees_angles=rng.random() >= crew.angle_overlooked,
            metre=metres_per(crew.length_unit),
            metre_a_second=metres_per_second_per(crew.velocity_unit),
        )

    def depth(self, y: float, rng: random.Random) -> float:
        """Return the depth as called at a true position; 0 on dry ground.

        A tilted rod reads 1 / cos of its tilt too much, a soft bed lets it sink, and water piles up
        on it by a part of v²/2g.
        """
        crew, stream = self.crew, self.stream
        true = stream.depth_at(y)
        tilt, sunk, error = normal(rng), rng.random(), normal(rng)
        if true <= 0.0:
            return 0.0
        v = stream.velocity_at(y)
        read = (
            true / math.cos(math.radians(crew.rod_tilt * tilt))
            + crew.rod_lean * stream.drawn["softness"] * sunk
            + crew.pile_up * v * v / (2.0 * _GRAVITY)
            + crew.rod_reading * error
        )
        return max(0.0, rounded(read / self.metre, crew.rod_resolution))

    def angle(self, y: float, rng: random.Random) -> float | None:
        """Return the angle as called at a true position, in degrees; None where none is noted."""
        crew = self.crew
        read = self.stream.angle_at(y) + crew.angle_reading * normal(rng)
        if not self.sees_angles or abs(read) < crew.angle_least:
            return None
        return rounded(read, crew.angle_resolution)

    def velocity(
        self, y: float, fraction: float | None, seconds: float, rng: random.Random
    ) -> float:
        """Return the velocity as called, of a meter turned into the flow and held for `seconds`.

        `fraction` None is a meter that is drawn through the whole depth.
        """
        crew, stream = self.crew, self.stream
        setting, pulse, noise = normal(rng), normal(rng), normal(rng)
        if fraction is None:
            true = stream.mean_speed_at(y)
        else:
            set_at = fraction + crew.setting * setting
            true = stream.speed_at(y, min(_LOWEST, max(_HIGHEST, set_at)))
        if not crew.settled:
            true += stream.exposure_deviation(y, seconds) * pulse
        return self._called(true * self.gain + self.zero + crew.meter_noise * noise)

    def float_velocity(self, y: float, rng: random.Random) -> float:
        """Return the surface velocity as called, by a float."""
        surface = self.stream.speed_at(y, 0.0)
        return self._called(surface * (1.0 + self.crew.float_error * normal(rng)))

    def _called(self, velocity_ms: float) -> float:
        return rounded(velocity_ms / self.metre_a_second, self.crew.velocity_resolution)
