"""What lies between verticals, over many gaugings, as `gauging.uncertainty_between` has it.

What cannot be stated is NaN here, and absent in every table that is written. `room` are rows to
work in, each as long as the gauging with most stations, and `characters` rows for the characters
of the model: compiled code asks for no memory (`compiled`).
"""

from __future__ import annotations

import math

from bankside.bulk.between_judged import read_and_beyond
from bankside.bulk.columns import Column, Read, Stations, Whole
from bankside.bulk.compiled import compiled, helping
from bankside.bulk.stretches import panel_flows, wet_stretches
from bankside.kernel.between import (
    between_evidence,
    between_variance,
    local_scale,
    mixture_half_width,
    shared_variance,
)
from bankside.kernel.between_assumed import FLOAT
from bankside.kernel.between_parts import (
    common_profile_variance,
    mean_unit_discharge,
    meter_variance,
    profile_deviation,
    profile_length,
    profile_share,
    reading_variance_of,
    readings_variance,
    rod_variance,
    widths_variance,
    zero_variance,
)
from bankside.kernel.between_prior import (
    SHAPE_DEVIATION,
    SHAPE_LENGTHS,
    UNEVENNESS,
    UNEVENNESS_LENGTHS_M,
    least_variance,
    prior_weight,
    shape_length_of,
    unevenness_length_of,
    unevenness_of,
    weight_of,
    weighted_sum,
)
from bankside.kernel.section import panel_width
from bankside.kernel.totals import amount_of, has_shares, total_of
from bankside.kernel.uncertainty import root_sum_of_squares

__all__ = ["CHARACTERS", "OF_CHARACTERS", "between"]

CHARACTERS = len(SHAPE_LENGTHS) * len(UNEVENNESS) * len(UNEVENNESS_LENGTHS_M)
"""How many characters are weighed."""

OF_CHARACTERS = 5
"""How many rows for them are needed."""

# Rows of `room`, once a gauging's stations as read are laid out.
_TAPE, _DEPTH, _VELOCITY, _FLOW, _VARIANCE, _READ_VARIANCE, _SCALE, _PANEL, _PROFILE = range(9)
_BY_SURFACE = 9
_WAS_READ = 10
# What `at_surface` says of a float.
_FLOATED = 2.0
# Rows of `characters`.
_LOG, _WEIGHT, _BETWEEN, _HEARD, _DEVIATION = range(5)


@helping
def _laid_out(
    stretches: int,
    first: Whole,
    last: Whole,
    stations: Stations,
    read: Read,
    room: Column,
    ends: Whole,
) -> int:
    """Fill in the stations that were read, water by water; return how many waters flow."""
    waters, count = 0, 0
    for s in range(stretches):
        begin = count
        flows = False
        for j in range(first[s], last[s] + 1):
            if j == first[s] or j == last[s] or stations.measured[j] or stations.depth[j] == 0.0:
                room[_TAPE, count] = stations.tape[j]
                room[_DEPTH, count] = stations.depth[j]
                room[_VELOCITY, count] = stations.velocity[j]
                room[_FLOW, count] = stations.depth[j] * stations.velocity[j]
                exposed = (
                    100.0 * FLOAT if read.at_surface[j] == _FLOATED else read.exposure_percent[j]
                )
                room[_READ_VARIANCE, count] = reading_variance_of(
                    stations.depth[j],
                    stations.velocity[j],
                    read.points[j],
                    exposed,
                    stations.measured[j],
                )
                by_surface = read.at_surface[j] != 0.0 and read.points[j] == 1.0
                room[_BY_SURFACE, count] = 1.0 if by_surface else 0.0
                was_read = stations.measured[j] and stations.depth[j] > 0.0
                room[_WAS_READ, count] = 1.0 if was_read else 0.0
                room[_PROFILE, count] = profile_share(read.points[j], by_surface)
                flows = flows or room[_FLOW, count] != 0.0
                count += 1
        if flows:
            ends[waters] = count
            waters += 1
        else:
            count = begin
    return waters


@helping
def _prepared(waters: int, ends: Whole, room: Column) -> float:
    """Fill in scale, panel and least variance of every station; return the variance by profiles."""
    begin = 0
    profile = 0.0
    for w in range(waters):
        end = ends[w]
        x, d, q = room[_TAPE, begin:end], room[_DEPTH, begin:end], room[_FLOW, begin:end]
        panels, shared = room[_PANEL, begin:end], room[_PROFILE, begin:end]
        least = least_variance(mean_unit_discharge(x, q))
        for i in range(len(x)):
            room[_SCALE, begin + i] = local_scale(x, q, i)
            room[_VARIANCE, begin + i] = room[_READ_VARIANCE, begin + i] + least
            panels[i] = panel_width(x, i)
            shared[i] = abs(panels[i] * q[i] * shared[i])
        profile += shared_variance(x, shared, profile_length(panels, d))
        begin = end
    return profile


@helping
def _weighed(waters: int, ends: Whole, room: Column, characters: Column) -> None:
    """Fill in how likely each character is, and what mid-section errs by if it is so."""
    logs, weights, variances = characters[_LOG], characters[_WEIGHT], characters[_BETWEEN]
    best = -math.inf
    for k in range(CHARACTERS):
        begin, evidence = 0, 0.0
        for w in range(waters):
            end = ends[w]
            x, q = room[_TAPE, begin:end], room[_FLOW, begin:end]
            evidence += between_evidence(
                x,
                q,
                room[_VARIANCE, begin:end],
                room[_SCALE, begin:end],
                SHAPE_DEVIATION * mean_unit_discharge(x, q),
                shape_length_of(k) * (x[len(x) - 1] - x[0]),
                unevenness_of(k),
                unevenness_length_of(k),
            )
            begin = end
        logs[k] = evidence + math.log(prior_weight(k))
        best = max(best, logs[k])
    for k in range(CHARACTERS):
        weights[k] = weight_of(logs[k], best)
    whole = total_of(weights[:CHARACTERS])
    for k in range(CHARACTERS):
        weights[k] = weights[k] / whole
        begin, variance = 0, 0.0
        for w in range(waters):
            end = ends[w]
            x, q = room[_TAPE, begin:end], room[_FLOW, begin:end]
            if weights[k] > 0.0:
                variance += between_variance(
                    x,
                    q,
                    room[_SCALE, begin:end],
                    SHAPE_DEVIATION * mean_unit_discharge(x, q),
                    shape_length_of(k) * (x[len(x) - 1] - x[0]),
                    unevenness_of(k),
                    unevenness_length_of(k),
                    0,
                    len(x) - 1,
                )
            begin = end
        variances[k] = variance


@helping
def _percent(variance: float, total: float) -> float:
    return 100.0 * math.sqrt(variance) / total


@helping
def _stated(
    total: float,
    profile: float,
    n: int,
    width_percent: float,
    own_rating: bool,
    room: Column,
    characters: Column,
) -> tuple[float, float]:
    """Return the standard uncertainty in percent, and the variance that hangs on no character."""
    panels = room[_PANEL, :n]
    readings = readings_variance(panels, room[_READ_VARIANCE, :n])
    widths = widths_variance(panels, room[_FLOW, :n], width_percent)
    rod = rod_variance(panels, room[_VELOCITY, :n])
    zero = zero_variance(panels, room[_DEPTH, :n])
    meter = meter_variance(panels, room[_FLOW, :n], room[_VELOCITY, :n], own_rating)
    systematic = common_profile_variance(panels, room[_FLOW, :n], room[_BY_SURFACE, :n])
    weights, squares = characters[_WEIGHT, :CHARACTERS], characters[_LOG, :CHARACTERS]
    for c in range(CHARACTERS):
        off = profile_deviation(unevenness_of(c))
        squares[c] = off * off
    standard = root_sum_of_squares(
        (
            _percent(weighted_sum(weights, characters[_BETWEEN, :CHARACTERS]), total),
            _percent(readings, total),
            _percent(weighted_sum(weights, squares) * profile, total),
            _percent(widths, total),
            _percent(rod, total),
            _percent(zero, total),
            _percent(meter, total),
            _percent(systematic, total),
        )
    )
    return standard, (readings + widths) + (rod + zero + meter + systematic)


@helping
def _half_width(
    probability: float, total: float, fixed: float, profile: float, characters: Column
) -> float:
    """Return half the interval that holds the discharge so often, in percent of it."""
    heard, deviations = characters[_HEARD], characters[_DEVIATION]
    n = 0
    for c in range(CHARACTERS):
        if characters[_WEIGHT, c] > 0.0:
            off = profile_deviation(unevenness_of(c))
            heard[n] = characters[_WEIGHT, c]
            deviations[n] = math.sqrt(fixed + (characters[_BETWEEN, c] + off * off * profile))
            n += 1
    return 100.0 / total * mixture_half_width(heard[:n], deviations[:n], probability)


def _between(
    begin: int,
    end: int,
    stations: Stations,
    read: Read,
    width_percent: float,
    standard: Column,
    half_95: Column,
    half_68: Column,
    verticals: Column,
    beyond: Column,
    room: Column,
    places: Whole,
    characters: Column,
) -> None:
    """Standard uncertainty, and half the intervals of 95 and 68 %, in percent.

    And what they rest on: verticals that were read, and how many ranges the stream is beyond.
    """
    for k in range(begin, end):
        verticals[k], beyond[k] = math.nan, math.nan
        standard[k], half_95[k], half_68[k] = math.nan, math.nan, math.nan
        count = stations.starts[k + 1] - stations.starts[k]
        total = panel_flows(k, stations, room[0], room[1])
        if not has_shares(total, amount_of(room[1, :count])):
            continue
        total = abs(total)
        stretches = wet_stretches(k, stations, places[0], places[1])
        ends = places[2]
        waters = _laid_out(
            stretches,
            places[0],
            places[1],
            stations,
            read,
            room,
            ends,
        )
        if waters == 0:
            continue
        profile = _prepared(waters, ends, room)
        _weighed(waters, ends, room, characters)
        n = ends[waters - 1]
        own = read.own_rating[stations.starts[k]] != 0.0
        standard[k], fixed = _stated(total, profile, n, width_percent, own, room, characters)
        half_95[k] = _half_width(0.95, total, fixed, profile, characters)
        half_68[k] = _half_width(0.68, total, fixed, profile, characters)
        if not math.isfinite(standard[k]):
            standard[k], half_95[k], half_68[k] = math.nan, math.nan, math.nan
            continue
        verticals[k], beyond[k] = read_and_beyond(
            *(waters, ends, total, room[_TAPE], room[_DEPTH], room[_PANEL], room[_WAS_READ])
        )


between = compiled(_between)
