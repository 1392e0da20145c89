"""Discharge and section properties of many gaugings, as `gauging.compute` works them out.

The functions call the kernel's own and add up channels in their order, as `compute` does. What
cannot be told is NaN here, and absent in every table that is written.
"""

from __future__ import annotations

import math

from bankside.bulk.columns import Column, Panels, Stations
from bankside.bulk.compiled import compiled
from bankside.kernel.discharge import (
    mean_section_discharge,
    mean_section_panel,
    mid_section_discharge,
)
from bankside.kernel.section import (
    hydraulic_radius,
    mean_depth,
    panel_width,
    section_area,
    water_width,
    wetted_perimeter,
)
from bankside.kernel.totals import has_shares, share_of, without_rounding

__all__ = ["discharges", "mean_sections", "panels", "properties"]


def _discharges(
    first: int, last: int, stations: Stations, discharge: Column, amount: Column, area: Column
) -> None:
    """Discharge by mid-section, what its panels carry either way, and the area of the section."""
    for k in range(first, last):
        start = stations.starts[k]
        total, carried, whole = 0.0, 0.0, 0.0
        for c in range(stations.channels[k], stations.channels[k + 1]):
            stop = start + stations.counts[c]
            x, d, v = (
                stations.tape[start:stop],
                stations.depth[start:stop],
                stations.velocity[start:stop],
            )
            own = 0.0
            for i in range(len(x)):
                flow = abs(panel_width(x, i) * d[i] * v[i])
                own += flow
                carried += flow
            total += without_rounding(mid_section_discharge(x, d, v), own)
            whole += section_area(x, d)
            start = stop
        discharge[k] = without_rounding(total, carried)
        amount[k] = carried
        area[k] = whole


def _properties(
    first: int,
    last: int,
    stations: Stations,
    discharge: Column,
    area: Column,
    width: Column,
    perimeter: Column,
    depth_mean: Column,
    velocity_mean: Column,
    radius: Column,
) -> None:
    """Width, wetted perimeter, and the means over area, width and perimeter."""
    for k in range(first, last):
        start = stations.starts[k]
        across, wetted = 0.0, 0.0
        for c in range(stations.channels[k], stations.channels[k + 1]):
            stop = start + stations.counts[c]
            x, d = stations.tape[start:stop], stations.depth[start:stop]
            across += water_width(x, d)
            wetted += wetted_perimeter(x, d)
            start = stop
        width[k] = across
        perimeter[k] = wetted
        depth_mean[k] = mean_depth(area[k], across) if across > 0.0 else math.nan
        velocity_mean[k] = discharge[k] / area[k] if area[k] > 0.0 else math.nan
        radius[k] = hydraulic_radius(area[k], wetted) if wetted > 0.0 else math.nan


def _mean_sections(first: int, last: int, stations: Stations, discharge: Column) -> None:
    """Discharge by the mean-section method."""
    for k in range(first, last):
        start = stations.starts[k]
        total, carried = 0.0, 0.0
        for c in range(stations.channels[k], stations.channels[k + 1]):
            stop = start + stations.counts[c]
            x, d, v = (
                stations.tape[start:stop],
                stations.depth[start:stop],
                stations.velocity[start:stop],
            )
            own = 0.0
            for i in range(len(x) - 1):
                flow = abs(mean_section_panel(x, d, v, i))
                own += flow
                carried += flow
            total += without_rounding(mean_section_discharge(x, d, v), own)
            start = stop
        discharge[k] = without_rounding(total, carried)


def _panels(
    first: int, last: int, stations: Stations, discharge: Column, amount: Column, made: Panels
) -> None:
    """Width, area, discharge and share of every mid-section panel."""
    for k in range(first, last):
        start = stations.starts[k]
        told = has_shares(discharge[k], amount[k])
        for c in range(stations.channels[k], stations.channels[k + 1]):
            stop = start + stations.counts[c]
            x = stations.tape[start:stop]
            for i in range(len(x)):
                j = start + i
                made.width_m[j] = panel_width(x, i)
                made.area_m2[j] = made.width_m[j] * stations.depth[j]
                made.discharge_m3s[j] = made.area_m2[j] * stations.velocity[j]
                made.share[j] = share_of(made.discharge_m3s[j], discharge[k]) if told else math.nan
            start = stop


discharges = compiled(_discharges)
properties = compiled(_properties)
mean_sections = compiled(_mean_sections)
panels = compiled(_panels)
