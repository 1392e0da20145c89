"""The invented crews: their people, their meters, and in which units they call."""

from __future__ import annotations

import datetime
from typing import Final, Literal

import attrs

__all__ = ["NORTH", "OFFSET", "SOUTH", "WEST", "Crew"]

OFFSET: Final = datetime.timezone(datetime.timedelta(hours=1))


@attrs.frozen
class Crew:
    """A crew of three and how it measures.

    `length` is the unit of the tape and `depth` that of depths; from `two_points_m` of depth on it
    reads two points. `off` is by what part its meter reads too much. With `counts` the meter is
    called by revolutions, v = slope n + intercept in m/s.
    """

    name: str
    people: tuple[str, str, str]
    length: Literal["ft", "m"]
    depth: Literal["ft", "m", "cm"]
    meter: str
    serial: str
    off: float
    two_points_m: float
    verticals: int
    calibrated: datetime.date
    due: datetime.date
    counts: tuple[float, float] | None = None


NORTH: Final = Crew(
    "north",
    ("I. Marrow", "T. Quayle", "J. Ostrander"),
    "ft",
    "ft",
    "electromagnetic",
    "EM-07",
    0.004,
    0.76,
    26,
    datetime.date(2026, 3, 9),
    datetime.date(2027, 3, 9),
)
SOUTH: Final = Crew(
    "south",
    ("P. Sallow", "D. Wrenfield", "K. Ashdown"),
    "m",
    "cm",
    "rotating element",
    "P-12",
    -0.006,
    0.46,
    25,
    datetime.date(2025, 7, 22),
    datetime.date(2026, 7, 22),
    (0.2950, 0.0095),
)
WEST: Final = Crew(
    "west",
    ("R. Fenwright", "A. Hollins", "M. Tarrow"),
    "m",
    "m",
    "electromagnetic",
    "EM-11",
    0.003,
    0.60,
    25,
    datetime.date(2026, 4, 20),
    datetime.date(2027, 4, 20),
)
