"""The rules by which totals are filed: what each makes of the verticals of a sheet.

Everything is in SI. How well a rule gives what was filed is told in `filed_fits`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import attrs

from bankside.gauging.records import Gauging, Vertical
from bankside.gauging.result import Panel, Result
from bankside.gauging.units import metres_per
from bankside.kernel.discharge import mean_section_panel
from bankside.kernel.section import (
    distance_from_last,
    distance_to_next,
    panel_width,
    panel_width_full_end,
    panel_width_triangular,
)
from bankside.kernel.vertical import normal_velocity

__all__ = [
    "MEAN_SECTION",
    "OWN_WIDTHS",
    "RULES",
    "FiledVertical",
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
class FiledVertical:
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


def stations_of_sheet(gauging: Gauging, result: Result) -> list[FiledVertical]:
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
            FiledVertical(
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


def without_angles(stations: Sequence[FiledVertical]) -> list[FiledVertical] | None:
    """Return the stations with velocities as read, None where no angle changes any of them."""
    if all(s.angle_factor == 1.0 or s.velocity_ms == 0.0 for s in stations):
        return None
    return [attrs.evolve(s, velocity_ms=s.velocity_ms / (s.angle_factor or 1.0)) for s in stations]


def widths_by_rule(rule: str, run: Sequence[FiledVertical]) -> list[float | None]:
    """Return the width that a rule gives every vertical of one channel, in sheet order, m."""
    if rule == OWN_WIDTHS:
        return [station.width for station in run]
    along = _along_the_tape(run)
    width = _WIDTHS[rule]
    return [width(along, position) for position in along.place]


def products_by_rule(rule: str, stations: Sequence[FiledVertical]) -> list[float] | None:
    """Return what a rule gives every vertical (mean-section: the panel after it), m³/s.

    None where the rule cannot be applied (own widths that are not on the sheet, one vertical).
    """
    out: list[float] = []
    for run in channel_runs(stations):
        if len(run) < 2:
            return None
        if rule == MEAN_SECTION:
            out.extend(_mean_section_products(run))
            continue
        widths = widths_by_rule(rule, run)
        if all(width is None for width in widths):
            return None
        out.extend(
            (width or 0.0) * s.depth_m * s.velocity_ms for width, s in zip(widths, run, strict=True)
        )
    return out


def _mean_section_products(run: Sequence[FiledVertical]) -> list[float]:
    """Return the panel between each vertical and the next of the sheet; 0 after the last."""
    along = _along_the_tape(run)
    panels = [
        mean_section_panel(along.tape, along.depth, along.velocity, i) for i in range(len(run) - 1)
    ]
    return [*(panels if along.upwards else panels[::-1]), 0.0]


@attrs.frozen
class _Along:
    """A channel by increasing tape, as the kernel takes it; place: of each row of the sheet."""

    tape: list[float]
    depth: list[float]
    velocity: list[float]
    place: list[int]
    upwards: bool


def _along_the_tape(run: Sequence[FiledVertical]) -> _Along:
    order = sorted(range(len(run)), key=lambda i: run[i].tape_m)
    place = [0] * len(run)
    for position, row in enumerate(order):
        place[row] = position
    return _Along(
        [run[i].tape_m for i in order],
        [run[i].depth_m for i in order],
        [run[i].velocity_ms for i in order],
        place,
        run[-1].tape_m >= run[0].tape_m,
    )


def _to_next(along: _Along, i: int) -> float:
    """The next row of a sheet is further down the tape where the sheet runs down it."""
    return (distance_to_next if along.upwards else distance_from_last)(along.tape, i)


def _from_last(along: _Along, i: int) -> float:
    return (distance_from_last if along.upwards else distance_to_next)(along.tape, i)


_WIDTHS: Mapping[str, Callable[[_Along, int], float]] = {
    "mid-section": lambda along, i: panel_width(along.tape, i),
    "distance to next vertical": _to_next,
    "distance from last vertical": _from_last,
    "full cell at the edges": lambda along, i: panel_width_full_end(along.tape, i),
    "mid-section with triangular edges": lambda along, i: panel_width_triangular(
        along.tape, along.depth, i
    ),
}


def placed_products(rule: str, stations: Sequence[FiledVertical]) -> list[tuple[bool, list[float]]]:
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


def channel_runs(stations: Sequence[FiledVertical]) -> list[list[FiledVertical]]:
    """Return the stations of each channel, in the order of the sheet."""
    runs: dict[int, list[FiledVertical]] = {}
    for station in stations:
        runs.setdefault(station.channel, []).append(station)
    return list(runs.values())
