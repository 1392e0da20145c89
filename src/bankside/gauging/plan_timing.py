"""How long a crew stands in the water."""

import math
from decimal import Decimal
from typing import Final

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.tape_marks import is_length
from bankside.gauging.units import LengthUnit, metres_per

__all__ = ["USUAL_TIMING", "Timing", "points_for_depth"]

# From 2.5 ft on, two points: US Army manual on coastal and hydraulic work, p. 2.60.
_TWO_POINT_DEPTH_M: Final = 2.5 * 0.3048


@attrs.frozen
class Timing:
    """How long the water is occupied, in seconds; what moving and crossing take is assumed.

    `exposure_seconds` is spent at each of the `points` of a vertical, `moving_seconds` once a
    vertical to step on, read the tape and the depth and set the rod, `crossing_seconds` once for
    both edges and the way.
    """

    exposure_seconds: float = 40.0
    points: int = 1
    moving_seconds: float = 20.0
    crossing_seconds: float = 60.0

    def __attrs_post_init__(self) -> None:
        seconds = (self.exposure_seconds, self.moving_seconds, self.crossing_seconds)
        if not all(math.isfinite(value) and 0.0 <= value <= 3600.0 for value in seconds):
            raise InputRefused(
                [Fault("exposure, moving and crossing must each take 0 to 3600 seconds")]
            )
        if not 1 <= self.points <= 6:
            raise InputRefused([Fault(f"a vertical must have 1 to 6 points (got {self.points})")])

    def seconds(self, verticals: int) -> float:
        """Return the seconds expected in the water for so many verticals."""
        each = self.exposure_seconds * self.points + self.moving_seconds
        return verticals * each + self.crossing_seconds


USUAL_TIMING: Final = Timing()


def points_for_depth(depth: Decimal, unit: LengthUnit) -> int:
    """Return how many points a vertical of this depth needs: 1, or 2 from 2.5 ft (0.76 m) on.

    InputRefused for a depth that is none. Source: US Army manual on coastal and hydraulic work,
    p. 2.60.
    """
    if not is_length(depth) or depth < 0:
        raise InputRefused([Fault(f"a depth must be a length of at least 0 (got {depth})")])
    return 2 if float(depth) * metres_per(unit) >= _TWO_POINT_DEPTH_M - 1e-9 else 1
