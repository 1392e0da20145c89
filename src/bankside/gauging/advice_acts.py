"""The acts that a crew can do next, each with what it costs and what it would leave open."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from itertools import pairwise
from typing import Final, Literal

import attrs

from bankside.gauging.advice_design import Cut, HowRead, added, takes_second_point
from bankside.gauging.between_section import BetweenSection
from bankside.gauging.between_station import Station
from bankside.gauging.called_marks import mark_between
from bankside.gauging.plan_timing import USUAL_TIMING
from bankside.gauging.records import Gauging, Vertical
from bankside.gauging.units import metres_per
from bankside.kernel.iso_tables import exposure_uncertainty

__all__ = ["SECONDS_TO_MOVE", "Kind", "Possible", "possible_acts"]

Kind = Literal["vertical", "second point", "longer exposure"]

SECONDS_TO_MOVE: Final = USUAL_TIMING.moving_seconds
"""What it takes to go to a vertical and set the meter (assumed, as in a plan); exposure on top."""

# So many of each kind are worked out, those that promise most (ours: the rest never came first).
_MOST_OPEN: Final = 4
_MOST_FLOW: Final = 2
_MOST_STATIONS: Final = 2


@attrs.frozen
class Possible:
    """One act: at `tape` of a channel of the record, as called, and the section as it leaves it.

    `between` are the tape positions of the stations on either side of a new vertical, and `share`
    the part of what is open between verticals that lies between these.
    """

    kind: Kind
    channel: int
    tape: float
    seconds: float
    after: BetweenSection
    between: tuple[float, float] | None = None
    share: float = 0.0


def possible_acts(
    gauging: Gauging,
    section: BetweenSection,
    how: HowRead,
    shut: Collection[tuple[int, float]],
    planned: Sequence[Cut],
) -> Iterator[Possible]:
    """Yield the acts that promise most, of every kind.

    `shut` are verticals, each a channel and a tape position, at and beside which nobody is sent.
    `planned` are the cuts of which a new vertical is to be the first, so that what comes later
    finds its place beside it. It stands at a mark of the tape, no closer to any vertical of the
    record than is asked.
    """
    yield from _verticals(gauging, section, how, shut, planned)
    for place, index in enumerate(section.channels):
        called = gauging.channels[index].verticals
        read = [
            (one, called[one.vertical].tape)
            for one in section.waters[place]
            if one.vertical is not None and one.measured and one.depth_m > 0.0
        ]
        read = [(one, tape) for one, tape in read if (index, tape) not in shut]
        for one, tape in sorted(read, key=lambda pair: -_by_profile(pair[0]))[:_MOST_STATIONS]:
            if takes_second_point(one) and _at_one_point(called, one):
                yield Possible(
                    "second point",
                    index,
                    tape,
                    SECONDS_TO_MOVE + 2.0 * how.seconds,
                    section.with_stations(place, [attrs.evolve(one, points=2)]),
                )
        for one, tape in sorted(read, key=lambda pair: -pair[0].reading_variance)[:_MOST_STATIONS]:
            longer = _read_longer(called, one, how.seconds)
            if longer is not None:
                yield Possible(
                    "longer exposure",
                    index,
                    tape,
                    SECONDS_TO_MOVE + one.points * how.seconds,
                    section.with_stations(place, [longer]),
                )


def _at_one_point(called: Sequence[Vertical], station: Station) -> bool:
    """Return whether 0.6 of the depth was read, and so 0.2 and 0.8 may be added to it."""
    assert station.vertical is not None
    return {reading.fraction for reading in called[station.vertical].velocity} == {0.6}


def _by_profile(station: Station) -> float:
    return abs(station.unit_discharge) * station.profile_share


def _read_longer(called: Sequence[Vertical], station: Station, seconds: float) -> Station | None:
    """Return a station with so many seconds more at each point, by the table of exposures.

    None where nobody wrote for how long it was read, as of a float.
    """
    assert station.vertical is not None
    taken = [reading.seconds for reading in called[station.vertical].velocity]
    known = [value for value in taken if value is not None]
    if len(known) < len(taken):
        return None
    speed, so_far = abs(station.velocity_ms), math.fsum(known) / station.points
    before, then = (exposure_uncertainty(speed, time, 0.6) for time in (so_far, so_far + seconds))
    return attrs.evolve(station, exposure_percent=station.exposure_percent * then / before)


def _verticals(
    gauging: Gauging,
    section: BetweenSection,
    how: HowRead,
    shut: Collection[tuple[int, float]],
    planned: Sequence[Cut],
) -> Iterator[Possible]:
    metres = metres_per(gauging.units.length)
    extra = Counter((cut.place, cut.start) for cut in planned)
    for place, i, share, emphasis in _promising(section):
        low, high = section.waters[place][i : i + 2]
        index = section.channels[place]
        called = gauging.channels[index].verticals
        ends = (_tape(called, low), _tape(called, high))
        if any((index, tape) in shut for tape in ends):
            continue
        cut = max(extra[place, i], 1) + 1
        part = (cut // 2) / cut
        if abs(high.unit_discharge) > abs(low.unit_discharge):
            part = 1.0 - part  # of two that are to come, first the one where more flows
        tape = _mark(gauging, index, ends, part, how.least_m)
        if tape is not None:
            station = added(section.waters[place], tape * metres, how)
            yield Possible(
                "vertical",
                index,
                tape,
                SECONDS_TO_MOVE + station.points * how.seconds,
                section.less_between(section.with_stations(place, [station]), emphasis),
                between=ends,
                share=share,
            )


def _promising(section: BetweenSection) -> Iterator[tuple[int, int, float, float]]:
    """Yield intervals that leave most open, and those in which most flows.

    Each by its water and where it begins, with its share of what is open and its emphasis. Where
    most flows counts for what is read vertical by vertical.
    """
    between = section.between
    found = []
    for place, line in enumerate(between.lines):
        pairs = zip(between.interval_shares[place], between.emphases(place), strict=True)
        for i, (share, emphasis) in enumerate(pairs):
            width = line.tape_m[i + 1] - line.tape_m[i]
            flow = width * (abs(line.unit_discharge[i]) + abs(line.unit_discharge[i + 1]))
            if flow > 0.0:
                found.append((flow, (place, i, share * emphasis, emphasis)))
    open_ = sorted(found, key=lambda one: -one[1][2])[:_MOST_OPEN]
    most_flow = sorted(found, key=lambda one: -one[0])[:_MOST_FLOW]
    yield from sorted({one for _, one in (*open_, *most_flow)})


def _tape(called: Sequence[Vertical], station: Station) -> float:
    """Return a tape position as called, of a station of the record."""
    assert station.vertical is not None
    return called[station.vertical].tape


def _mark(
    gauging: Gauging, channel: int, ends: tuple[float, float], part: float, least_m: float
) -> float | None:
    """Return the mark for a new vertical between two stations, None without room.

    Soundings between the two keep their places; where one stands in the way, the vertical goes
    into the widest gap beside it.
    """
    low, high = ends
    wanted = low + (high - low) * part
    unit = gauging.units.length
    tapes = sorted(
        one.tape for one in gauging.channels[channel].verticals if low <= one.tape <= high
    )
    gaps = list(pairwise(tapes))
    around = next(((a, b) for a, b in gaps if a < wanted < b), None)
    if around is not None:
        a, b = around
        place = mark_between(unit, a, b, least_m, (wanted - a) / (b - a))
        if place is not None:
            return place
    return mark_between(unit, *max(gaps, key=lambda gap: gap[1] - gap[0]), least_m)
