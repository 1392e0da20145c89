"""The acts that a crew can do next, each with what it costs and what it would leave open."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final, Literal

import attrs

from bankside.gauging.advice_design import Cut, added, takes_second_point
from bankside.gauging.advice_grounds import Grounds
from bankside.gauging.between_section import BetweenSection
from bankside.gauging.between_station import Station
from bankside.gauging.called_marks import mark_between
from bankside.gauging.plan_timing import USUAL_TIMING
from bankside.gauging.records import Gauging, Vertical
from bankside.gauging.units import metres_per
from bankside.kernel.iso_tables import exposure_uncertainty
from bankside.kernel.limits import below

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

    `between` are the tape positions of the stations on either side of a new vertical, `share` the
    part of what is open between verticals that lies between these, and `emphasis` how many times
    what it takes from there counts where places are held against each other. `relieves` says
    whether it takes water off a heavy panel, `beyond` whether the rule set has all that it asks for
    there, and `safe` whether anybody may be sent there.
    """

    kind: Kind
    channel: int
    tape: float
    seconds: float
    after: BetweenSection
    between: tuple[float, float] | None = None
    share: float = 0.0
    emphasis: float = 1.0
    relieves: bool = False
    beyond: bool = False
    safe: bool = True


def possible_acts(grounds: Grounds, planned: Sequence[Cut]) -> Iterator[Possible]:
    """Yield the acts that promise most, of every kind.

    `planned` are the cuts of which a new vertical is to be the first, so that what comes later
    finds its place beside it. It stands at a mark of the tape, no closer to any vertical of the
    record than is asked. Where nobody may be sent, only what a new vertical would bring is told.
    """
    yield from _verticals(grounds, planned)
    for place in range(len(grounds.section.waters)):
        read = [
            one
            for one in grounds.section.waters[place]
            if one.vertical is not None and one.measured and one.depth_m > 0.0
            if grounds.open_again(place, one)
        ]
        yield from _second_points(grounds, place, read)
        yield from _longer_exposures(grounds, place, read)


def _second_points(grounds: Grounds, place: int, read: Sequence[Station]) -> Iterator[Possible]:
    how = grounds.how
    for one in sorted(read, key=lambda one: -_by_profile(one))[:_MOST_STATIONS]:
        if takes_second_point(one, how) and _at_one_point(grounds.verticals(place), one):
            yield Possible(
                "second point",
                grounds.section.channels[place],
                grounds.tape(place, one),
                SECONDS_TO_MOVE + 2.0 * how.seconds,
                grounds.section.with_stations(place, [attrs.evolve(one, points=2)]),
            )


def _longer_exposures(grounds: Grounds, place: int, read: Sequence[Station]) -> Iterator[Possible]:
    seconds = grounds.how.seconds
    for one in sorted(read, key=lambda one: -one.reading_variance)[:_MOST_STATIONS]:
        so_far = _seconds_a_point(grounds.verticals(place), one)
        if so_far is not None:
            yield Possible(
                "longer exposure",
                grounds.section.channels[place],
                grounds.tape(place, one),
                SECONDS_TO_MOVE + one.points * seconds,
                grounds.section.with_stations(place, [_read_longer(one, so_far, seconds)]),
                beyond=not below(so_far, seconds),
            )


def _at_one_point(called: Sequence[Vertical], station: Station) -> bool:
    """Return whether 0.6 of the depth was read, and so 0.2 and 0.8 may be added to it."""
    assert station.vertical is not None
    return {reading.fraction for reading in called[station.vertical].velocity} == {0.6}


def _by_profile(station: Station) -> float:
    return abs(station.unit_discharge) * station.profile_share


def _seconds_a_point(called: Sequence[Vertical], station: Station) -> float | None:
    """Return for how long each point was read; None where nobody wrote that, as of a float."""
    assert station.vertical is not None
    taken = [reading.seconds for reading in called[station.vertical].velocity]
    known = [value for value in taken if value is not None]
    return None if len(known) < len(taken) else math.fsum(known) / station.points


def _read_longer(station: Station, so_far: float, more: float) -> Station:
    """Return a station with so many seconds more at each point, by the table of exposures."""
    speed = abs(station.velocity_ms)
    before, then = (exposure_uncertainty(speed, time, 0.6) for time in (so_far, so_far + more))
    return attrs.evolve(station, exposure_percent=station.exposure_percent * then / before)


def _verticals(grounds: Grounds, planned: Sequence[Cut]) -> Iterator[Possible]:
    section, how = grounds.section, grounds.how
    metres = metres_per(grounds.gauging.units.length)
    extra = Counter((cut.place, cut.start) for cut in planned)
    for place, i, share, emphasis in _promising(grounds):
        low, high = section.waters[place][i : i + 2]
        index = section.channels[place]
        ends = (grounds.tape(place, low), grounds.tape(place, high))
        cut = max(extra[place, i], 1) + 1
        part = (cut // 2) / cut
        if abs(high.unit_discharge) > abs(low.unit_discharge):
            part = 1.0 - part  # of two that are to come, first the one where more flows
        tape = _mark(grounds.gauging, index, ends, part, how.least_m)
        if tape is not None:
            station = added(section.waters[place], tape * metres, how)
            yield Possible(
                "vertical",
                index,
                tape,
                SECONDS_TO_MOVE + station.points * how.seconds,
                section.with_stations(place, [station]),
                between=ends,
                share=share,
                emphasis=emphasis,
                relieves=any((index, end) in grounds.heavy for end in ends),
                safe=grounds.wades(place).anew(tape * metres),
            )


def _promising(grounds: Grounds) -> Iterator[tuple[int, int, float, float]]:
    """Yield intervals that leave most open, in which most flows, and those beside heavy panels.

    Each by its water and where it begins, with its share of what is open and its emphasis. Where
    most flows counts for what is read vertical by vertical. Of those where nobody may be sent, the
    one that leaves most open is among them.
    """
    between = grounds.section.between
    found = []
    for place, line in enumerate(between.lines):
        pairs = zip(between.interval_shares[place], between.emphases(place), strict=True)
        for i, (share, emphasis) in enumerate(pairs):
            width = line.tape_m[i + 1] - line.tape_m[i]
            flow = width * (abs(line.unit_discharge[i]) + abs(line.unit_discharge[i + 1]))
            if flow > 0.0:
                found.append((flow, (place, i, share, emphasis)))
    found.sort(key=lambda one: -one[1][2] * one[1][3])
    open_ = [one for one in found if grounds.open_to_cuts(*one[1][:2])]
    shut = [one for one in found if one not in open_][:1]
    most_flow = sorted(open_, key=lambda one: -one[0])[:_MOST_FLOW]
    beside = [one for one in open_ if _is_beside_heavy(grounds, *one[1][:2])]
    yield from sorted({one for _, one in (*open_[:_MOST_OPEN], *shut, *most_flow, *beside)})


def _is_beside_heavy(grounds: Grounds, place: int, i: int) -> bool:
    ends = grounds.section.waters[place][i : i + 2]
    index = grounds.section.channels[place]
    return any((index, grounds.tape(place, one)) in grounds.heavy for one in ends)


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
