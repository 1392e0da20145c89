"""The published methods of uncertainty over many gaugings, as `gauging.uncertainty` has them.

What a method cannot state is NaN here, and absent in every table that is written. `room` and
`places` are rows to work in, each as long as the gauging with most stations: compiled code asks for
no memory (`compiled`).
"""

from __future__ import annotations

import math

from bankside.bulk.columns import Column, Flags, Whole
from bankside.bulk.compiled import compiled, helping
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
from bankside.kernel.section import panel_width, stretch_end
from bankside.kernel.totals import amount_of, has_shares
from bankside.kernel.uncertainty import (
    components_uncertainty,
    panels_uncertainty,
    velocity_area_uncertainty,
    verticals_component,
)

__all__ = ["PLACES", "ROOM", "how_read", "iso", "panel_flows", "scatter", "wet_stretches"]

ROOM, PLACES = 12, 3
"""How many rows of either are needed."""

# As `gauging.uncertainty_points`: a velocity without its point is taken as read at 0.6.
_ONE_POINT = 0.6


def _how_read(
    first: int,
    last: int,
    velocity: Column,
    exposure_seconds: float,
    points: Column,
    meter: Column,
    exposure: Column,
) -> None:
    """Stations of which nothing is written: read at one point, by a meter of a group rating."""
    for j in range(first, last):
        speed = abs(velocity[j])
        points[j] = 1.0
        meter[j] = meter_uncertainty_group(speed)
        exposure[j] = exposure_uncertainty(speed, exposure_seconds, _ONE_POINT)


@helping
def panel_flows(
    k: int,
    starts: Whole,
    channels: Whole,
    counts: Whole,
    tape: Column,
    depth: Column,
    velocity: Column,
    widths: Column,
    flows: Column,
) -> float:
    """Fill in width and discharge of the panels of gauging k; return their total."""
    begin, start = starts[k], starts[k]
    total = 0.0
    for c in range(channels[k], channels[k + 1]):
        x = tape[start : start + counts[c]]
        for i in range(len(x)):
            j = start + i
            widths[j - begin] = panel_width(x, i)
            flows[j - begin] = widths[j - begin] * depth[j] * velocity[j]
            total += flows[j - begin]
        start += counts[c]
    return total


@helping
def wet_stretches(
    k: int,
    starts: Whole,
    channels: Whole,
    counts: Whole,
    depth: Column,
    first: Whole,
    last: Whole,
) -> int:
    """Fill in the first and the last station of each stretch with water; return how many."""
    count, start = 0, starts[k]
    for c in range(channels[k], channels[k + 1]):
        d = depth[start : start + counts[c]]
        at = 0
        while at < len(d) - 1:
            until = stretch_end(d, at)
            if amount_of(d[at : until + 1]) > 0.0:
                first[count] = start + at
                last[count] = start + until
                count += 1
            at = until
        start += counts[c]
    return count


@helping
def _by_number(
    stretches: int,
    first: Whole,
    last: Whole,
    begin: int,
    depth: Column,
    measured: Flags,
    flows: Column,
    amounts: Column,
    by_table: Column,
    by_power: Column,
) -> None:
    """Fill in what each stretch carries, and what its number of verticals makes uncertain."""
    for s in range(stretches):
        read = 0
        for j in range(first[s], last[s] + 1):
            if depth[j] > 0.0 and measured[j]:
                read += 1
        amounts[s] = amount_of(flows[first[s] - begin : last[s] + 1 - begin])
        by_table[s] = verticals_uncertainty(float(read))
        by_power[s] = verticals_component(float(read))


@helping
def _pooled(
    stretches: int,
    first: Whole,
    last: Whole,
    tape: Column,
    values: Column,
    depth: Column,
    measured: Flags,
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
            counts = depth[j] > 0.0 and (measured[j] or not only_measured)
            if j == first[s] or j == last[s] or counts:
                kept_tape[count] = tape[j]
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
    starts: Whole,
    channels: Whole,
    counts: Whole,
    tape: Column,
    depth: Column,
    velocity: Column,
    measured: Flags,
    points: Column,
    meter: Column,
    exposure: Column,
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
        begin, end = starts[k], starts[k + 1]
        total = panel_flows(k, starts, channels, counts, tape, depth, velocity, widths, flows)
        iso[k], components[k] = math.nan, math.nan
        if not has_shares(total, amount_of(flows[: end - begin])):
            continue
        m = wet_stretches(k, starts, channels, counts, depth, firsts, lasts)
        _by_number(m, firsts, lasts, begin, depth, measured, flows, amounts, by_table, by_power)
        n = 0
        for j in range(begin, end):
            if widths[j - begin] * depth[j] > 0.0:
                wet_flows[n] = flows[j - begin]
                of_points[n] = points[j]
                of_profile[n] = profile_uncertainty(points[j])
                of_meter[n] = meter[j]
                of_exposure[n] = exposure[j]
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
    starts: Whole,
    channels: Whole,
    counts: Whole,
    tape: Column,
    depth: Column,
    velocity: Column,
    measured: Flags,
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
        begin, end = starts[k], starts[k + 1]
        total = panel_flows(k, starts, channels, counts, tape, depth, velocity, widths, flows)
        scatter[k] = math.nan
        if not has_shares(total, amount_of(flows[: end - begin])):
            continue
        m = wet_stretches(k, starts, channels, counts, depth, firsts, lasts)
        of_depth, depths = _pooled(
            m, firsts, lasts, tape, depth, depth, measured, False, kept_tape, kept
        )
        of_velocity, velocities = _pooled(
            m, firsts, lasts, tape, velocity, depth, measured, True, kept_tape, kept
        )
        if min(depths, velocities) >= FEWEST_RESIDUALS:
            scatter[k] = interpolated_variance_uncertainty(
                widths[: end - begin],
                depth[begin:end],
                velocity[begin:end],
                of_depth,
                of_velocity,
                width_percent,
                systematic_percent,
            )


how_read = compiled(_how_read)
iso = compiled(_iso)
scatter = compiled(_scatter)
