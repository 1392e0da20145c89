"""The published methods of uncertainty over many gaugings, as `gauging.uncertainty` has them.

What a method cannot state is NaN here, and absent in every table that is written. `room` and
`places` are rows to work in, each as long as the gauging with most stations: compiled code asks for
no memory (`compiled`).
"""

from __future__ import annotations

import math

from bankside.bulk.columns import Column, Read, Stations, Whole
from bankside.bulk.compiled import compiled, helping
from bankside.bulk.stretches import panel_flows, wet_stretches
from bankside.kernel.iso_tables import (
    exposure_uncertainty,
    meter_uncertainty_group,
    profile_uncertainty,
    verticals_uncertainty,
)
from bankside.kernel.scatter import (
    FEWEST_RESIDUALS,
    WITHOUT_RESIDUAL,
    interpolated_variance,
    interpolated_variance_uncertainty,
)
from bankside.kernel.totals import amount_of, has_shares
from bankside.kernel.uncertainty import (
    components_uncertainty,
    panels_uncertainty,
    velocity_area_uncertainty,
    verticals_component,
)

__all__ = ["PLACES", "ROOM", "how_read", "iso", "scatter"]

ROOM, PLACES = 12, 3
"""How many rows of either are needed."""

# As `gauging.uncertainty_points`: a velocity without its point is taken as read at 0.6.
_ONE_POINT = 0.6


def _how_read(first: int, last: int, velocity: Column, exposure_seconds: float, read: Read) -> None:
    """Stations of which nothing is written: read at one point, by a meter of a group rating."""
    for j in range(first, last):
        speed = abs(velocity[j])
        read.points[j] = 1.0
        read.meter_percent[j] = meter_uncertainty_group(speed)
        read.exposure_percent[j] = exposure_uncertainty(speed, exposure_seconds, _ONE_POINT)


@helping
def _by_number(
    stretches: int,
    first: Whole,
    last: Whole,
    begin: int,
    stations: Stations,
    flows: Column,
    amounts: Column,
    by_table: Column,
    by_power: Column,
) -> None:
    """Fill in what each stretch carries, and what its number of verticals makes uncertain."""
    for s in range(stretches):
        read = 0
        for j in range(first[s], last[s] + 1):
            if stations.depth[j] > 0.0 and stations.measured[j]:
                read += 1
        amounts[s] = amount_of(flows[first[s] - begin : last[s] + 1 - begin])
        by_table[s] = verticals_uncertainty(float(read))
        by_power[s] = verticals_component(float(read))


@helping
def _pooled(
    stretches: int,
    first: Whole,
    last: Whole,
    stations: Stations,
    values: Column,
    only_measured: bool,
    kept_tape: Column,
    kept: Column,
) -> tuple[float, int]:
    """Return the interpolated variance over all stretches, and from how many residuals it comes.

    Between the ends of a stretch those verticals count that have water; where a velocity is meant,
    those whose velocity was read.
    """
    total, residuals = 0.0, 0
    for s in range(stretches):
        count = 0
        for j in range(first[s], last[s] + 1):
            counts = stations.depth[j] > 0.0 and (stations.measured[j] or not only_measured)
            if j == first[s] or j == last[s] or counts:
                kept_tape[count] = stations.tape[j]
                kept[count] = values[j]
                count += 1
        here = count - WITHOUT_RESIDUAL
        if here > 0:
            total += interpolated_variance(kept_tape[:count], kept[:count]) * here
            residuals += here
    return (total / residuals if residuals > 0 else 0.0), residuals


def _iso(
    first: int,
    last: int,
    stations: Stations,
    read: Read,
    width_percent: float,
    depth_percent: float,
    systematic_percent: float,
    iso: Column,
    components: Column,
    room: Column,
    places: Whole,
) -> None:
    """Standard uncertainties by ISO 748 and by components, in percent."""
    widths, flows, wet_flows = room[0], room[1], room[2]
    amounts, by_table, by_power = room[3], room[4], room[5]
    of_points, of_profile, of_meter, of_exposure = room[6], room[7], room[8], room[9]
    of_width, of_depth = room[10], room[11]
    for i in range(len(of_width)):
        of_width[i] = width_percent
        of_depth[i] = depth_percent
    firsts, lasts = places[0], places[1]
    for k in range(first, last):
        begin, end = stations.starts[k], stations.starts[k + 1]
        total = panel_flows(k, stations, widths, flows)
        iso[k], components[k] = math.nan, math.nan
        if not has_shares(total, amount_of(flows[: end - begin])):
            continue
        m = wet_stretches(k, stations, firsts, lasts)
        _by_number(m, firsts, lasts, begin, stations, flows, amounts, by_table, by_power)
        n = 0
        for j in range(begin, end):
            if widths[j - begin] * stations.depth[j] > 0.0:
                wet_flows[n] = flows[j - begin]
                of_points[n] = read.points[j]
                of_profile[n] = profile_uncertainty(read.points[j])
                of_meter[n] = read.meter_percent[j]
                of_exposure[n] = read.exposure_percent[j]
                n += 1
        iso[k] = velocity_area_uncertainty(
            wet_flows[:n],
            of_points[:n],
            of_width[:n],
            of_depth[:n],
            of_profile[:n],
            of_meter[:n],
            of_exposure[:n],
            panels_uncertainty(amounts[:m], by_table[:m], total),
            systematic_percent,
        )
        components[k] = components_uncertainty(panels_uncertainty(amounts[:m], by_power[:m], total))


def _scatter(
    first: int,
    last: int,
    stations: Stations,
    width_percent: float,
    systematic_percent: float,
    scatter: Column,
    room: Column,
    places: Whole,
) -> None:
    """Standard uncertainty by interpolated variance, in percent."""
    widths, flows, kept_tape, kept = room[0], room[1], room[2], room[3]
    firsts, lasts = places[0], places[1]
    for k in range(first, last):
        begin, end = stations.starts[k], stations.starts[k + 1]
        total = panel_flows(k, stations, widths, flows)
        scatter[k] = math.nan
        if not has_shares(total, amount_of(flows[: end - begin])):
            continue
        m = wet_stretches(k, stations, firsts, lasts)
        of_depth, depths = _pooled(
            m, firsts, lasts, stations, stations.depth, False, kept_tape, kept
        )
        of_velocity, velocities = _pooled(
            m, firsts, lasts, stations, stations.velocity, True, kept_tape, kept
        )
        if min(depths, velocities) >= FEWEST_RESIDUALS:
            scatter[k] = interpolated_variance_uncertainty(
                widths[: end - begin],
                stations.depth[begin:end],
                stations.velocity[begin:end],
                of_depth,
                of_velocity,
                width_percent,
                systematic_percent,
            )


how_read = compiled(_how_read)
iso = compiled(_iso)
scatter = compiled(_scatter)
