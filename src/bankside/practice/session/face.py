"""What a section shows to somebody on the bank: surface, banks, stones, dead water; no depth.

Everything is worked out from the simulated section itself, and nothing is added to it. How dark the
water looks is told in a few steps, as an eye tells it, and never as a figure in metres.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from statistics import pstdev
from typing import Final

import attrs

from bankside.gauging.records import Bank
from bankside.kernel.vertical import velocity_from_surface
from bankside.practice.stream import SimulatedStream

__all__ = ["DARKEST", "Face", "FacePlace", "Stretch", "face_of"]

Stretch = tuple[float, float]
"""From and to, as parts of the width."""

# Places across a section at which it is looked at (ours).
_PLACES: Final = 48
DARKEST: Final = 6
"""How dark water can look, in steps: 0 where the bed shines through."""
_BROWN: Final = DARKEST // 2
# Of light that comes back from the bed of clear water 1/e is left at this depth, in m (assumed).
_LIGHT: Final = 0.45
_GRAVITY: Final = 9.80665
# The bed within so far to either side disturbs the surface at a place, in m (assumed).
_BESIDE: Final = 0.3
# A hump has less than this part of the mean depth within so many m to either side (assumed).
_COVERED: Final = 0.7
_HUMP: Final = 0.6
# Where the flow is nearly critical waves break, and the formula for small ones ends (ours).
_MOST_FROUDE_SQUARED: Final = 0.64
_LEAST_DEPTH: Final = 0.03
# Dead water is slower than this part of the mean velocity (assumed).
_DEAD: Final = 0.15
# Stretches of dead water nearer than this are one, and narrower ones are not seen, in m (assumed).
_SEEN: Final = 0.15


@attrs.frozen
class FacePlace:
    """A place across the section, `at` from 0 at the left bank to 1 at the right.

    `dark` is from 0 to DARKEST, `ripple` the height of the surface's unevenness in m, `speed` the
    velocity of the surface along the flow in m/s (below 0 where it runs back), `angle` its angle
    to the line square to the section in degrees. All but `at` are 0 on dry ground. The surface
    goes at the mean of the vertical over the surface coefficient (`kernel.vertical`, with its
    source).
    """

    at: float
    dry: bool
    dark: int
    ripple: float
    speed: float
    angle: float


@attrs.frozen
class Face:
    """A section as it looks: its width in m, how its water ends, and what is seen across it.

    Stretches run from and to, as parts of the width: `stones` stand out of the water (gravel bars
    too), `under` are stones and humps of the bed close under the surface, `dead` is water that
    stands or runs back, `back` that of it which runs back somewhere.
    """

    width: float
    left_bank: Bank
    right_bank: Bank
    places: tuple[FacePlace, ...]
    stones: tuple[Stretch, ...]
    under: tuple[Stretch, ...]
    dead: tuple[Stretch, ...]
    back: tuple[Stretch, ...]


def face_of(stream: SimulatedStream, *, brown: bool = False) -> Face:
    """Return what a section shows from the bank; the same section always shows the same.

    `brown` water looks alike everywhere, and nothing shows below its surface.
    """
    slow = _DEAD * stream.discharge / stream.area
    wet = [depth > 0.0 for depth in stream.depths]
    stones = _stretches([not there for there in wet])
    dead = _stretches([w and v < slow for w, v in zip(wet, stream.velocities, strict=True)])
    back = _stretches([w and v < 0.0 for w, v in zip(wet, stream.velocities, strict=True)])
    width = stream.right - stream.left
    seen = tuple(_seen(dead, _SEEN / width))
    return Face(
        width=width,
        left_bank=stream.left_bank,
        right_bank=stream.right_bank,
        places=tuple(_place(stream, (i + 0.5) / _PLACES, brown) for i in range(_PLACES)),
        # What is dry at the edges of water is bank, and stands out of nothing.
        stones=tuple(one for one in stones if one[0] > 0.0 and one[1] < 1.0),
        under=() if brown else tuple(_stretches(_humps(stream))),
        dead=seen,
        back=tuple(one for one in seen if any(one[0] <= low <= one[1] for low, _ in back)),
    )


def _place(stream: SimulatedStream, at: float, brown: bool) -> FacePlace:
    y = stream.left + at * (stream.right - stream.left)
    depth = stream.depth_at(y)
    if not depth > 0.0:
        return FacePlace(at, True, 0, 0.0, 0.0, 0.0)
    # What drifts goes with the surface, faster than the mean by the surface coefficient.
    speed = stream.mean_speed_at(y) / velocity_from_surface(1.0)
    dark = _BROWN if brown else round(DARKEST * (1.0 - math.exp(-depth / _LIGHT)))
    return FacePlace(at, False, dark, _ripple(stream, y), speed, stream.angle_at(y))


def _humps(stream: SimulatedStream) -> list[bool]:
    """Return at which nodes the bed stands clearly above the bed beside it, and can be seen."""
    depths, reach = stream.depths, max(1, round(_HUMP / stream.step))
    found = []
    for i, depth in enumerate(depths):
        beside = depths[max(0, i - reach) : i + reach + 1]
        lower = depth < _COVERED * sum(beside) / len(beside)
        found.append(lower and 0.0 < depth < _LIGHT)
    return found


def _ripple(stream: SimulatedStream, y: float) -> float:
    """Return how uneven the surface is at a place, in m.

    Over a low bump of the bed the surface departs by the bump × F² / (1 - F²), F the Froude number
    (steady flow without losses; from memory); the bump is the standard deviation of the bed beside
    the place. Turbulence adds its share of the velocity head, intensity × v²/g (assumed).
    """
    depth, v = max(stream.depth_at(y), _LEAST_DEPTH), stream.velocity_at(y)
    squared = min(_MOST_FROUDE_SQUARED, v * v / (_GRAVITY * depth))
    middle, reach = (y - stream.left) / stream.step, max(1, round(_BESIDE / stream.step))
    low, high = max(0, round(middle) - reach), round(middle) + reach + 1
    bump = pstdev(stream.depths[low:high])
    boiling = stream.drawn["intensity"] * v * v / _GRAVITY
    return bump * squared / (1.0 - squared) + boiling


def _stretches(there: Sequence[bool]) -> list[Stretch]:
    """Return from where to where something is there at the nodes, as parts of the width."""
    last, start = len(there) - 1, None
    found: list[Stretch] = []
    for i, found_here in enumerate([*there, False]):
        if found_here and start is None:
            start = i
        elif not found_here and start is not None:
            found.append((max(0.0, (start - 0.5) / last), min(1.0, (i - 0.5) / last)))
            start = None
    return found


def _seen(found: Sequence[Stretch], least: float) -> list[Stretch]:
    """Return stretches that are wide enough to be seen, those that all but touch as one."""
    merged: list[Stretch] = []
    for low, high in found:
        if merged and low - merged[-1][1] < least:
            low = merged.pop()[0]
        merged.append((low, high))
    return [one for one in merged if one[1] - one[0] >= least]
