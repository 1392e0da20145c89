"""What a crew reads at a section: tape positions, depths and velocities, as people read them.

Depths are read to a hundredth of a metre or of a foot between stones, velocities flutter as water
does over forty seconds, and the verticals stand closer where more water flows.
"""

from __future__ import annotations

import datetime
import math
import random
from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import Final, Literal

import attrs

from bankside.gauging.units import metres_per
from making.basin import SITES, InventedSite, flow_m3s
from making.crews import OFFSET, Crew
from making.section import Section, Water

__all__ = ["Called", "Measured", "Reading", "Visit", "measured"]

_USUAL_DAY: Final = datetime.date(2026, 7, 20)
_FLUTTER: Final = 0.038
_FLUTTER_MS: Final = 0.006
_BY_VISIT: Final = 0.013
"""How a whole visit differs: where exactly the tape hung, how the rod was held."""
_BETWEEN_STONES_M: Final = 0.007
_EVEN: Final = 0.55
"""How far verticals stand at equal distances rather than at equal shares of the water."""


@attrs.frozen
class Visit:
    """That a crew measured at a site, when, and what was odd about it.

    `first` is the bank at which the calling began. `zero` is the bank at which the tape's zero was
    hung, `called_zero` the one at which the crew took it to be. `slow` is by what part the rotor
    was held back. `until` is the part of the width that was read before the crew came out.
    """

    site: str
    crew: Crew
    started: datetime.datetime
    quality: Literal["excellent", "good", "fair", "poor"] | None = "good"
    first: Literal["left", "right"] = "left"
    zero: Literal["left", "right"] = "left"
    called_zero: Literal["left", "right"] | None = None
    slow: float = 0.0
    until: float = 1.0
    verticals: int | None = None
    gauge: bool = True
    remarks: str | None = None
    number: int = 1

    @property
    def key(self) -> str:
        """What tells it from every other visit."""
        return f"{self.site} {self.crew.name} {self.started:%m-%d} {self.number}"


@attrs.frozen
class Reading:
    """A velocity at a fraction of the depth: a figure of the meter, or its counts and seconds."""

    fraction: float
    seconds: int
    value: float | None = None
    counts: int | None = None


@attrs.frozen
class Called:
    """A vertical as it was called: tape and depth in the units of the crew."""

    tape: float
    depth: float
    readings: tuple[Reading, ...] = ()
    edge: Literal["left", "right"] | None = None
    steep: bool = False


@attrs.frozen
class Measured:
    """A visit with everything that was called, and the true discharge behind it."""

    visit: Visit
    site: InventedSite
    true_m3s: float
    called: tuple[Called, ...]
    stage: tuple[float, float] | None
    started: datetime.datetime
    ended: datetime.datetime


def measured(visit: Visit) -> Measured:
    """Return what a crew reads on a visit; equal visits give equal readings."""
    site = SITES[visit.site]
    chance = random.Random(f"visit {visit.key}")
    section = Section(site, flow_m3s(site, _USUAL_DAY))
    true = flow_m3s(site, visit.started.date())
    water = section.water(true)
    stops = _stops(visit, section, water, chance)
    called = _read(visit, section, water, stops, chance)
    minutes = 12 + round(1.6 * len(called))
    stage = (round(water.level, 3), round(water.level - chance.choice((0, 0, 0.001)), 3))
    return Measured(
        visit,
        site,
        true,
        tuple(called),
        stage if visit.gauge else None,
        visit.started.replace(tzinfo=OFFSET),
        (visit.started + datetime.timedelta(minutes=minutes)).replace(tzinfo=OFFSET),
    )


def _stops(visit: Visit, section: Section, water: Water, chance: random.Random) -> list[float]:
    """Return where the verticals stand, in metres from the left mark, from the left edge on."""
    crew = visit.crew
    count = visit.verticals or crew.verticals
    mark = _tape_mark(crew)
    inner = [water.left + (water.right - water.left) * n / 400 for n in range(401)]
    flows = [0.0]
    for a, b in pairwise(inner):
        middle = (a + b) / 2
        flows.append(flows[-1] + section.depth(middle, water) * section.velocity(middle, water))
    places = [_EVEN * n / 400 + (1 - _EVEN) * flow / flows[-1] for n, flow in enumerate(flows)]
    wanted = [(n + 0.5 + chance.uniform(-0.12, 0.12)) / count for n in range(count)]
    stops: list[float] = []
    for part in wanted:
        n = next(n for n, place in enumerate(places) if place >= part)
        stop = round(inner[n] / mark) * mark
        apart = stop - (stops[-1] if stops else water.left)
        if apart > 0.9 * mark and water.right - stop > 0.9 * mark:
            stops.append(stop)
    return stops


def _tape_mark(crew: Crew) -> float:
    """Return in metres to what crews set out: a tenth of a foot, or five centimetres."""
    return 0.1 * metres_per("ft") if crew.length == "ft" else 0.05


def _read(
    visit: Visit, section: Section, water: Water, stops: Sequence[float], chance: random.Random
) -> list[Called]:
    crew, site = visit.crew, SITES[visit.site]
    hung = 0.3 + round(chance.uniform(0, 0.8), 1)
    tape = _tape_of(visit, water, hung)
    off = (1 + crew.off) * (1 - visit.slow) * (1 + chance.gauss(0, _BY_VISIT))
    reads = crew.counts or ()
    called = []
    for x, edge in ((water.left, "left"), *((x, None) for x in stops), (water.right, "right")):
        steep = edge is not None and site.steep == edge
        inside = x + (0.01 if edge == "left" else -0.01 if edge == "right" else 0.0)
        depth = section.depth(inside, water) if edge is None or steep else 0.0
        if depth > 0:
            depth = max(0.02, depth + chance.gauss(0, _BETWEEN_STONES_M))
        velocities: tuple[Reading, ...] = ()
        if edge is None:
            deep = depth >= crew.two_points_m
            velocities = tuple(
                _reading(crew, off * section.velocity(x, water, fraction), fraction, reads, chance)
                for fraction in ((0.2, 0.8) if deep else (0.6,))
            )
        called.append(Called(tape(x), _shown(depth, crew.depth), velocities, edge, steep))  # type: ignore[arg-type]
    if visit.called_zero is not None:
        called = [_as_called(one, visit) for one in called]
    ordered = called if visit.first == "left" else called[::-1]
    return ordered[: math.ceil(visit.until * len(ordered))]


def _as_called(one: Called, visit: Visit) -> Called:
    """Return a vertical with its bank as the crew took it to be."""
    if one.edge is None or visit.called_zero == visit.zero:
        return one
    return attrs.evolve(one, edge="right" if one.edge == "left" else "left")


def _tape_of(visit: Visit, water: Water, hung: float) -> Callable[[float], float]:
    """Return how a place reads on the tape, whose zero hangs on one of the banks."""
    unit = metres_per(visit.crew.length)
    digits = 1 if visit.crew.length == "ft" else 2
    if visit.zero == "left":
        return lambda x: round((x - water.left + hung) / unit, digits)
    return lambda x: round((water.right - x + hung) / unit, digits)


def _shown(depth_m: float, unit: Literal["ft", "m", "cm"]) -> float:
    return round(depth_m / metres_per(unit), {"ft": 2, "m": 2, "cm": 0}[unit])


def _reading(
    crew: Crew,
    steady_ms: float,
    fraction: float,
    rating: tuple[float, ...],
    chance: random.Random,
) -> Reading:
    read = steady_ms * (1 + chance.gauss(0, _FLUTTER))
    read = max(0.0, read + chance.gauss(0, _FLUTTER_MS))
    if rating:
        slope, intercept = rating
        per_second = max(0.0, (read - intercept) / slope)
        if per_second == 0.0:
            return Reading(fraction, 40, counts=0)
        counts = math.ceil(40 * per_second)
        return Reading(fraction, round(counts / per_second), counts=counts)
    unit = metres_per(crew.length)
    return Reading(fraction, 40, value=round(read / unit, 2))
