"""What a practice stream shows to whoever acts, and what is true behind it."""

from __future__ import annotations

import attrs

from bankside.gauging.records import Bank, Edge

__all__ = ["Shown", "ShownDepth", "ShownEdge", "ShownPoint", "ShownStage"]


@attrs.frozen
class ShownStage:
    """A staff gauge: its reading in m at a second of the session."""

    at: float
    value: float


@attrs.frozen
class ShownEdge:
    """An edge of water: its tape mark in m and how the water ends there; `y` is the true place."""

    at: float
    side: Edge
    tape: float
    depth: float
    bank: Bank
    y: float


@attrs.frozen
class ShownDepth:
    """A rod on the bed: between which depths the surface swings, in m, and the true mean depth.

    `swing` is the depth every half second, for a page that draws the rod.
    """

    at: float
    tape: float
    depth: float
    low: float
    high: float
    swing: tuple[float, ...]
    y: float


@attrs.frozen
class ShownPoint:
    """A meter at a point.

    `display` is what it shows after each second, in the unit it is set to, and `called` its last
    figure; None where too little water covers it. In m/s, `meant` is the mean velocity in time
    where it was meant to be, `true` that where it was (`held`, as a part of the depth), and
    `deviation` what the exposure adds; `gain` is what the meter makes of one m/s. `angle` is the
    angle of the flow to the square line in degrees, `angle_seen` to the tape as it hangs, as an eye
    reads it.
    """

    at: float
    tape: float
    fraction: float
    held: float
    seconds: int
    display: tuple[float, ...]
    called: float | None
    gain: float
    meant: float
    true: float
    deviation: float
    angle: float
    angle_seen: float
    y: float


Shown = ShownStage | ShownEdge | ShownDepth | ShownPoint
