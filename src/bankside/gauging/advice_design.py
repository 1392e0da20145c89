"""Designs that nobody has read yet: a section with more verticals, and what would be left then."""

from __future__ import annotations

import heapq
import math
from collections import Counter
from collections.abc import Callable, Sequence
from itertools import pairwise

import attrs

from bankside.gauging.between_section import BetweenSection
from bankside.gauging.between_station import Station
from bankside.gauging.records import Meter
from bankside.gauging.rod import two_points_from
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.kernel.iso_tables import exposure_uncertainty
from bankside.kernel.limits import below

__all__ = [
    "Cut",
    "HowRead",
    "added",
    "at_two_points",
    "cuts",
    "first_of",
    "takes_second_point",
    "with_cuts",
]

_ONE_POINT, _TWO_POINTS = (0.6,), (0.2, 0.8)


@attrs.frozen
class HowRead:
    """How the next vertical is read: its exposure at a point, and from which depth on two points.

    `least_m` is how close to another it may stand.
    """

    seconds: float
    two_points_from_m: float
    least_m: float

    @classmethod
    def by(cls, rules: RuleSet, meter: Meter | None = None) -> HowRead:
        """Return how a rule set has it for a meter's rotor."""
        rotor = None if meter is None else meter.rotor
        return cls(
            seconds=rules.si("exposure"),
            two_points_from_m=two_points_from(rules, rotor).si,
            least_m=rules.si("spacing_least_large" if rotor == "large" else "spacing_least"),
        )

    def points(self, depth_m: float) -> tuple[float, ...]:
        """Return at which fractions of a depth it is read."""
        return _ONE_POINT if below(depth_m, self.two_points_from_m) else _TWO_POINTS

    def station(self, tape_m: float, depth_m: float, velocity_ms: float) -> Station:
        """Return a station of this depth and velocity, read like that."""
        points = self.points(depth_m)
        squares = [
            exposure_uncertainty(abs(velocity_ms), self.seconds, fraction) ** 2
            for fraction in points
        ]
        return Station(
            vertical=None,
            tape_m=tape_m,
            depth_m=depth_m,
            velocity_ms=velocity_ms,
            points=len(points),
            exposure_percent=math.sqrt(math.fsum(squares) / len(points)),
        )


def added(stations: Sequence[Station], tape_m: float, how: HowRead) -> Station:
    """Return a station between two others: depth and unit discharge straight between theirs.

    ValueError beyond the ends.
    """
    for low, high in pairwise(stations):
        if low.tape_m < tape_m < high.tape_m:
            part = (tape_m - low.tape_m) / (high.tape_m - low.tape_m)
            depth = low.depth_m + (high.depth_m - low.depth_m) * part
            flow = low.unit_discharge + (high.unit_discharge - low.unit_discharge) * part
            return how.station(tape_m, depth, flow / depth if depth > 0.0 else 0.0)
    raise ValueError("a new station lies between two others")


@attrs.frozen
class Cut:
    """An interval that gets one more piece: the water's place in the section, where it begins.

    `gain` is what that takes from the variance between verticals, m⁶/s².
    """

    place: int
    start: int
    gain: float


# Where to cut, the likely characters tell: those that weigh less than this of the likeliest
# are not asked (ours).
_LIKELY = 0.03
# By which part two gains may differ that are the same but for rounding.
_ALIKE = 1e-6


def takes_second_point(station: Station, how: HowRead) -> bool:
    """Return whether it was read at one point and is deep enough for two."""
    return station.points == 1 and len(how.points(station.depth_m)) > 1


def at_two_points(
    section: BetweenSection,
    count: int,
    how: HowRead,
    is_open: Callable[[int, Station], bool] = lambda place, station: True,
) -> BetweenSection:
    """Return the section with two points where they tell most, at so many stations at most.

    `is_open` says of a station in a water whether anybody may be sent there.
    """
    deep = [
        (place, one)
        for place, stations in enumerate(section.waters)
        for one in stations
        if takes_second_point(one, how) and is_open(place, one)
    ]
    deep.sort(key=lambda pair: -abs(pair[1].unit_discharge))
    for place in range(len(section.waters)):
        new = [attrs.evolve(one, points=2) for where, one in deep[:count] if where == place]
        if new:
            section = section.with_stations(place, new)
    return section


def cuts(
    section: BetweenSection,
    count: int,
    least_m: float,
    is_open: Callable[[int, int], bool] = lambda place, start: True,
) -> tuple[Cut, ...]:
    """Return which intervals are cut by so many new verticals, one after another.

    Every one goes where it takes most from the variance between verticals, an interval being cut
    into equal pieces of `least_m` or more; fewer where there is no room. `is_open` says of an
    interval, by the water's place and where it begins, whether anybody may be sent into it.
    """
    between = section.between.of_the_likely(_LIKELY)
    emphases = [between.emphases(place) for place in range(len(between.lines))]
    offers: list[tuple[float, int, int, int, float]] = []

    def offer(place: int, i: int, pieces: int, left: float) -> None:
        line = between.lines[place]
        width = line.tape_m[i + 1] - line.tape_m[i]
        if left > 0.0 and width / (pieces + 1) >= least_m:
            then = between.cut_variance(line, i, pieces + 1)
            loss = emphases[place][i] * (then - left)
            heapq.heappush(offers, (loss, place, i, pieces + 1, then))

    for place, line in enumerate(between.lines):
        for i in range(len(line.tape_m) - 1):
            if is_open(place, i):
                offer(place, i, 1, between.cut_variance(line, i, 1))
    found: list[Cut] = []
    while offers and len(found) < count:
        loss, place, i, pieces, left = heapq.heappop(offers)
        found.append(Cut(place, i, -loss))
        offer(place, i, pieces, left)
    return tuple(found)


def first_of(made: Sequence[Cut], count: int) -> tuple[Cut, ...]:
    """Return the first cuts, and those that gain as much as the last of them.

    So that of two sides of a section that are alike none is left out.
    """
    if not 0 < count < len(made):
        return tuple(made[:count])
    least = made[count - 1].gain * (1.0 - _ALIKE)
    return tuple(cut for k, cut in enumerate(made) if k < count or cut.gain >= least)


def with_cuts(section: BetweenSection, made: Sequence[Cut], how: HowRead) -> BetweenSection:
    """Return the section with verticals that cut these intervals into equal pieces."""
    pieces = Counter((cut.place, cut.start) for cut in made)
    for place, stations in enumerate(section.waters):
        new = [
            added((low, high), low.tape_m + (high.tape_m - low.tape_m) * k / (extra + 1), how)
            for i, (low, high) in enumerate(pairwise(stations))
            if (extra := pieces[place, i])
            for k in range(1, extra + 1)
        ]
        if new:
            section = section.with_stations(place, new)
    return section
