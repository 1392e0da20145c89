"""The rules by which totals are filed: what each makes of the verticals of a sheet.

Everything is in SI. How well a rule gives what was filed is told in `filed_fits`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

import attrs

from bankside.gauging.records import Gauging, Vertical
from bankside.gauging.result import Panel, Result
from bankside.gauging.units import metres_per
from bankside.kernel.section import panel_width, panel_width_full_end, panel_width_triangular
from bankside.kernel.vertical import normal_velocity

__all__ = [
    "MEAN_SECTION",
    "OWN_WIDTHS",
    "RULES",
    "Station",
    "channel_runs",
    "in_order_sum",
    "placed_products",
    "products_by_rule",
    "stations_of_sheet",
    "widths_by_rule",
    "without_angles",
]


RULES = (
    "mid-section",
    "distance to next vertical",
    "distance from last vertical",
    "full cell at the edges",
    "mid-section with triangular edges",
    "mean-section",
    "the sheet's own widths",
)
"""Rules by which totals are filed. The first, fifth and sixth are published (docs/method.md); the
others are habits and slips of spreadsheets: common practice, no source."""


MEAN_SECTION = RULES[5]
"""The rule whose products lie between two verticals."""


OWN_WIDTHS = RULES[6]
"""The rule that needs widths on the sheet."""


@attrs.frozen
class Station:
    """A vertical in the order in which it stands on the sheet, in SI units, with what was filed.

    `velocity_ms` is 0 where none was read, for a spreadsheet multiplies by an empty cell so;
    `used_ms` is the velocity with which we compute, `angle_factor` what the angle of the flow
    takes off in both.
    """

    channel: int
    tape: float
    tape_m: float
    depth_m: float
    velocity_ms: float
    used_ms: float
    angle_factor: float
    read: bool
    ours_m3s: float | None
    width: float | None
    product: float | None


def in_order_sum(values: Sequence[float]) -> float:
    """Return the sum added in order; `sum()` rounds differently from Python 3.12 on."""
    total = 0.0
    for value in values:
        total += value
    return total


def stations_of_sheet(gauging: Gauging, result: Result) -> list[Station]:
    """Return the verticals in the order of the sheet."""
    ours: dict[tuple[int, int], Panel] = {
        (p.channel, p.vertical): p for p in result.panels if p.tape_to is None
    }
    filed = {(p.channel, p.vertical): p for p in (gauging.filed.panels if gauging.filed else ())}
    per_metre = metres_per(gauging.units.length)
    found = []
    for vertical in sorted(result.verticals, key=lambda v: (v.channel, v.vertical)):
        key = (vertical.channel, vertical.vertical)
        panel, mine = ours.get(key), filed.get(key)
        called = gauging.channels[vertical.channel].verticals[vertical.vertical]
        found.append(
            Station(
                channel=vertical.channel,
                tape=vertical.tape,
                tape_m=vertical.tape * per_metre,
                depth_m=vertical.depth_m,
                velocity_ms=vertical.velocity_ms if vertical.measured else 0.0,
                used_ms=vertical.velocity_ms,
                angle_factor=_angle_factor(called) if vertical.measured else 1.0,
                read=vertical.measured,
                ours_m3s=None if panel is None else panel.discharge_m3s,
                width=None if mine is None or mine.width is None else mine.width * per_metre,
                product=None if mine is None else mine.discharge,
            )
        )
    return found


def _angle_factor(vertical: Vertical) -> float:
    if vertical.angle is not None:
        return normal_velocity(1.0, vertical.angle)
    return 1.0 if vertical.angle_coefficient is None else vertical.angle_coefficient


def without_angles(stations: Sequence[Station]) -> list[Station] | None:
    """Return the stations with velocities as read, None where no angle changes any of them."""
    if all(s.angle_factor == 1.0 or s.velocity_ms == 0.0 for s in stations):
        return None
    return [attrs.evolve(s, velocity_ms=s.velocity_ms / (s.angle_factor or 1.0)) for s in stations]


def widths_by_rule(rule: str, run: Sequence[Station]) -> list[float | None]:
    """Return the width that a rule gives every vertical of one channel, in sheet order, m."""
    tape = [s.tape_m for s in run]
    up = sorted(tape)
    place = [up.index(t) for t in tape]
    depth = [0.0] * len(run)
    for station, position in zip(run, place, strict=True):
        depth[position] = station.depth_m
    last = len(run) - 1
    if rule == "distance to next vertical":
        return [abs(tape[i + 1] - tape[i]) if i < last else 0.0 for i in range(len(run))]
    if rule == "distance from last vertical":
        return [abs(tape[i] - tape[i - 1]) if i else 0.0 for i in range(len(run))]
    if rule == OWN_WIDTHS:
        return [s.width for s in run]
    by_rule: dict[str, Callable[[int], float]] = {
        "mid-section": lambda i: panel_width(up, i),
        "full cell at the edges": lambda i: panel_width_full_end(up, i),
        "mid-section with triangular edges": lambda i: panel_width_triangular(up, depth, i),
    }
    return [by_rule[rule](position) for position in place]


def products_by_rule(rule: str, stations: Sequence[Station]) -> list[float] | None:
    """Return what a rule gives every vertical (mean-section: the panel after it), m³/s.

    None where the rule cannot be applied (own widths that are not on the sheet, one vertical).
    """
    out: list[float] = []
    for run in channel_runs(stations):
        if len(run) < 2:
            return None
        if rule == MEAN_SECTION:
            for here, there in pairwise(run):
                mean = (here.velocity_ms + there.velocity_ms) / 2.0
                depth = (here.depth_m + there.depth_m) / 2.0
                out.append(mean * depth * abs(there.tape_m - here.tape_m))
            out.append(0.0)
            continue
        widths = widths_by_rule(rule, run)
        if all(width is None for width in widths):
            return None
        out.extend(
            (width or 0.0) * s.depth_m * s.velocity_ms for width, s in zip(widths, run, strict=True)
        )
    return out


def placed_products(rule: str, stations: Sequence[Station]) -> list[tuple[bool, list[float]]]:
    """Return the products of a rule as they may stand on the rows: (on the later row, products).

    A mean-section product belongs to two verticals and is written beside the one or the other.
    """
    products = products_by_rule(rule, stations)
    if products is None:
        return []
    placed = [(False, products)]
    if rule == MEAN_SECTION:
        later: list[float] = []
        for run in channel_runs(stations):
            later += [0.0, *products[len(later) : len(later) + len(run) - 1]]
        placed.append((True, later))
    return placed


def channel_runs(stations: Sequence[Station]) -> list[list[Station]]:
    """Return the stations of each channel, in the order of the sheet."""
    runs: dict[int, list[Station]] = {}
    for station in stations:
        runs.setdefault(station.channel, []).append(station)
    return list(runs.values())
