"""The checks that are arithmetic alone, over many gaugings, as `gauging.checks` has them.

Each finding is counted: at how many places, what the worst figure is, and at which station. Where
the severity of a check hangs on whether one more vertical fits on the tape, it is not told here.
"""

from __future__ import annotations

import math
from typing import Final, NamedTuple

import attrs

from bankside.bulk.columns import Column, Panels, Stations, Whole
from bankside.bulk.compiled import compiled, helping
from bankside.gauging.checks.finding import Severity
from bankside.gauging.filed_fits import NOTHING
from bankside.kernel.limits import (
    above,
    bed_change,
    below,
    clearly_above,
    printed_above,
    velocity_difference,
)
from bankside.kernel.section import section_area
from bankside.kernel.totals import amount_of

__all__ = [
    "LIMITS",
    "SLOTS",
    "Found",
    "Limits",
    "Slot",
    "check_places",
    "check_sections",
    "check_wholes",
]


@attrs.frozen
class Slot:
    """A check with one severity: its name in the catalogue, and what its worst figure is.

    `severity` is None where it cannot be told by arithmetic alone.
    """

    check: str
    severity: Severity | None
    figure: str


SLOTS: Final = (
    Slot("Water too strong to wade", "stop", "depth times velocity, m²/s"),
    Slot("Water too strong to wade", "explain", "depth times velocity, m²/s"),
    Slot("Deeper than wading work", "stop", "depth, m"),
    Slot("Deeper than wading work", "explain", "depth, m"),
    Slot("One panel carries too much", None, "share, %"),
    Slot("Panels above the aim", "note", "share, %"),
    Slot("Neighbouring velocities too different", "note", "difference, % of the smaller"),
    Slot("Bed not resolved", None, "change of the area, %"),
    Slot("Weak section", "note", "mean velocity, m/s"),
    Slot("Water running upstream", "note", "% of all water that moves"),
    Slot("Water running upstream", "explain", "% of all water that moves"),
    Slot("Water running upstream", "fix now", "% of all water that moves"),
    Slot("Two totals disagree", "explain", "difference, % of the filed total"),
)
"""What is looked for, in the order in which a gauging's findings stand."""

_STRONG_STOP, _STRONG, _DEEP_STOP, _DEEP, _TOO_MUCH, _AIM = range(6)
_NEIGHBOURS, _BED, _WEAK, _BACK_NOTE, _BACK, _BACK_FIX, _TOTALS = range(6, len(SLOTS))


class Limits(NamedTuple):
    """The thresholds of a rule set that are asked, in SI, each by its name there."""

    wade_product_stop: float
    wade_product_caution: float
    wade_depth_stop: float
    wade_depth_caution: float
    panel_share_limit: float
    panel_share_aim: float
    neighbour_share: float
    neighbour_velocity: float
    bed_area: float
    weak_depth: float
    weak_velocity: float
    reverse_share_explain: float
    reverse_share_fix: float
    totals_difference: float


LIMITS: Final = Limits._fields
"""Their names."""


class Found(NamedTuple):
    """One row a slot of `SLOTS`, one column a gauging: how many places, the worst figure, where."""

    places: Whole
    worst: Column
    at: Whole


@helping
def _told(slot: int, k: int, j: int, figure: float, found: Found) -> None:
    """Count one more place of a finding, and keep it where it is the worst so far."""
    if found.places[slot, k] == 0 or abs(figure) > abs(found.worst[slot, k]):
        found.worst[slot, k] = figure
        found.at[slot, k] = j
    found.places[slot, k] += 1


def _check_places(
    begin: int,
    end: int,
    stations: Stations,
    fastest: Column,
    slowest: Column,
    panels: Panels,
    limits: Limits,
    found: Found,
) -> None:
    """What is held against a limit at each vertical by itself: depth, product, share, direction."""
    for k in range(begin, end):
        first, last = stations.starts[k], stations.starts[k + 1]
        back, amount, upstream = 0.0, 0.0, 0
        for j in range(first, last):
            product = stations.depth[j] * fastest[j]
            if stations.depth[j] > 0.0 and not below(product, limits.wade_product_stop):
                _told(_STRONG_STOP, k, j, product, found)
            elif stations.depth[j] > 0.0 and not below(product, limits.wade_product_caution):
                _told(_STRONG, k, j, product, found)
            if above(stations.depth[j], limits.wade_depth_caution):
                slot = _DEEP_STOP if above(stations.depth[j], limits.wade_depth_stop) else _DEEP
                _told(slot, k, j, stations.depth[j], found)
            # Without shares, where the panels cancel, nothing is above a limit: NaN never is.
            if printed_above(panels.share[j], limits.panel_share_limit):
                _told(_TOO_MUCH, k, j, panels.share[j], found)
            elif printed_above(panels.share[j], limits.panel_share_aim):
                _told(_AIM, k, j, panels.share[j], found)
            if slowest[j] < 0.0:
                upstream += 1
            amount += abs(panels.discharge_m3s[j])
            back -= min(panels.discharge_m3s[j], 0.0)
        if upstream > 0:
            percent = 100.0 * back / amount if amount > 0.0 else 0.0
            slot = _BACK_NOTE
            if above(percent, limits.reverse_share_fix):
                slot = _BACK_FIX
            elif above(percent, limits.reverse_share_explain):
                slot = _BACK
            _told(slot, k, first, percent, found)
            found.places[slot, k] = upstream


@helping
def _away(depth: Column, edge: Column, i: int) -> bool:
    """Whether no end of the water is at vertical `i` of a channel, or beside it."""
    for j in range(max(i - 1, 0), min(i + 2, len(depth))):
        if depth[j] == 0.0 or edge[j] != 0.0:
            return False
    return True


def _check_sections(
    begin: int,
    end: int,
    stations: Stations,
    edge: Column,
    panels: Panels,
    limits: Limits,
    found: Found,
) -> None:
    """What is held against a limit between neighbours: velocities, and the bend of the bed."""
    for k in range(begin, end):
        start = stations.starts[k]
        for c in range(stations.channels[k], stations.channels[k + 1]):
            stop = start + stations.counts[c]
            x, d, v = (
                stations.tape[start:stop],
                stations.depth[start:stop],
                stations.velocity[start:stop],
            )
            e, s, m = edge[start:stop], panels.share[start:stop], stations.measured[start:stop]
            area = section_area(x, d)
            for i in range(len(x) - 1):
                difference = velocity_difference(v[i], v[i + 1])
                if (
                    clearly_above(difference, limits.neighbour_velocity)
                    and printed_above(s[i], limits.neighbour_share)
                    and printed_above(s[i + 1], limits.neighbour_share)
                    and (m[i] and m[i + 1])
                    and (_away(d, e, i) and _away(d, e, i + 1))
                ):
                    _told(_NEIGHBOURS, k, start + i, difference, found)
                if area > 0.0:
                    percent = 100.0 * abs(bed_change(x, d, i)) / area
                    if clearly_above(percent, limits.bed_area):
                        _told(_BED, k, start + i, percent, found)
            start = stop


def _check_wholes(
    begin: int,
    end: int,
    stations: Stations,
    discharge: Column,
    depth_mean: Column,
    velocity_mean: Column,
    filed: Column,
    rounding: Column,
    panels: Panels,
    limits: Limits,
    found: Found,
) -> None:
    """What is held against a limit of the gauging as a whole: its means, and its filed total."""
    for k in range(begin, end):
        first = stations.starts[k]
        speed = abs(velocity_mean[k])
        if below(depth_mean[k], limits.weak_depth) and below(speed, limits.weak_velocity):
            _told(_WEAK, k, first, velocity_mean[k], found)
        if math.isnan(filed[k]):
            continue
        nothing = NOTHING * amount_of(panels.discharge_m3s[first : stations.starts[k + 1]])
        difference = discharge[k] - filed[k]
        if abs(difference) <= nothing or abs(difference) <= rounding[k]:
            continue
        if abs(filed[k]) > nothing:
            percent = 100.0 * difference / filed[k]
            if printed_above(percent, limits.totals_difference):
                _told(_TOTALS, k, first, percent, found)
        else:
            _told(_TOTALS, k, first, math.inf, found)


check_places = compiled(_check_places)
check_sections = compiled(_check_sections)
check_wholes = compiled(_check_wholes)
