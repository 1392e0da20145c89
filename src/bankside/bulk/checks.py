"""The checks that are arithmetic alone, over many gaugings, as `gauging.checks` has them.

Each finding is counted: at how many places, what the worst figure is, and at which station. Where
the severity of a check hangs on whether one more vertical fits on the tape, it is not told here.
"""

from __future__ import annotations

import math
from typing import Final

import attrs

from bankside.bulk.columns import Column, Flags, Whole
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

__all__ = ["LIMITS", "SLOTS", "Slot", "check_places", "check_sections", "check_wholes"]


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

LIMITS: Final = (
    *("wade_product_stop", "wade_product_caution", "wade_depth_stop", "wade_depth_caution"),
    *("panel_share_limit", "panel_share_aim", "neighbour_share", "neighbour_velocity"),
    *("bed_area", "weak_depth", "weak_velocity", "reverse_share_explain", "reverse_share_fix"),
    "totals_difference",
)
"""The thresholds of a rule set that are asked, in SI."""

_PRODUCT_STOP, _PRODUCT, _DEPTH_STOP, _DEPTH, _SHARE, _SHARE_AIM, _COMPARED = range(7)
_DIFFERENCE, _AREA, _SHALLOW, _SLOW, _BACK_LIMIT, _BACK_MOST, _FILED = range(7, len(LIMITS))


@helping
def _told(slot: int, k: int, j: int, figure: float, count: Whole, worst: Column, at: Whole) -> None:
    """Count one more place of a finding, and keep it where it is the worst so far."""
    if count[slot, k] == 0 or abs(figure) > abs(worst[slot, k]):
        worst[slot, k] = figure
        at[slot, k] = j
    count[slot, k] += 1


def _check_places(
    begin: int,
    end: int,
    starts: Whole,
    depth: Column,
    fastest: Column,
    slowest: Column,
    share: Column,
    flow: Column,
    limits: Column,
    count: Whole,
    worst: Column,
    at: Whole,
) -> None:
    """What is held against a limit at each vertical by itself: depth, product, share, direction."""
    for k in range(begin, end):
        first, last = starts[k], starts[k + 1]
        back, amount, upstream = 0.0, 0.0, 0
        for j in range(first, last):
            product = depth[j] * fastest[j]
            if depth[j] > 0.0 and not below(product, limits[_PRODUCT_STOP]):
                _told(_STRONG_STOP, k, j, product, count, worst, at)
            elif depth[j] > 0.0 and not below(product, limits[_PRODUCT]):
                _told(_STRONG, k, j, product, count, worst, at)
            if above(depth[j], limits[_DEPTH]):
                slot = _DEEP_STOP if above(depth[j], limits[_DEPTH_STOP]) else _DEEP
                _told(slot, k, j, depth[j], count, worst, at)
            # Without shares, where the panels cancel, nothing is above a limit: NaN never is.
            if printed_above(share[j], limits[_SHARE]):
                _told(_TOO_MUCH, k, j, share[j], count, worst, at)
            elif printed_above(share[j], limits[_SHARE_AIM]):
                _told(_AIM, k, j, share[j], count, worst, at)
            if slowest[j] < 0.0:
                upstream += 1
            amount += abs(flow[j])
            back -= min(flow[j], 0.0)
        if upstream > 0:
            percent = 100.0 * back / amount if amount > 0.0 else 0.0
            slot = _BACK_NOTE
            if above(percent, limits[_BACK_MOST]):
                slot = _BACK_FIX
            elif above(percent, limits[_BACK_LIMIT]):
                slot = _BACK
            _told(slot, k, first, percent, count, worst, at)
            count[slot, k] = upstream


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
    starts: Whole,
    channels: Whole,
    counts: Whole,
    tape: Column,
    depth: Column,
    velocity: Column,
    measured: Flags,
    edge: Column,
    share: Column,
    limits: Column,
    count: Whole,
    worst: Column,
    at: Whole,
) -> None:
    """What is held against a limit between neighbours: velocities, and the bend of the bed."""
    for k in range(begin, end):
        start = starts[k]
        for c in range(channels[k], channels[k + 1]):
            stop = start + counts[c]
            x, d, v = tape[start:stop], depth[start:stop], velocity[start:stop]
            e, s, m = edge[start:stop], share[start:stop], measured[start:stop]
            area = section_area(x, d)
            for i in range(len(x) - 1):
                difference = velocity_difference(v[i], v[i + 1])
                if (
                    clearly_above(difference, limits[_DIFFERENCE])
                    and printed_above(s[i], limits[_COMPARED])
                    and printed_above(s[i + 1], limits[_COMPARED])
                    and (m[i] and m[i + 1])
                    and (_away(d, e, i) and _away(d, e, i + 1))
                ):
                    _told(_NEIGHBOURS, k, start + i, difference, count, worst, at)
                if area > 0.0:
                    percent = 100.0 * abs(bed_change(x, d, i)) / area
                    if clearly_above(percent, limits[_AREA]):
                        _told(_BED, k, start + i, percent, count, worst, at)
            start = stop


def _check_wholes(
    begin: int,
    end: int,
    starts: Whole,
    flow: Column,
    discharge: Column,
    depth_mean: Column,
    velocity_mean: Column,
    filed: Column,
    rounding: Column,
    limits: Column,
    count: Whole,
    worst: Column,
    at: Whole,
) -> None:
    """What is held against a limit of the gauging as a whole: its means, and its filed total."""
    for k in range(begin, end):
        first = starts[k]
        speed = abs(velocity_mean[k])
        if below(depth_mean[k], limits[_SHALLOW]) and below(speed, limits[_SLOW]):
            _told(_WEAK, k, first, velocity_mean[k], count, worst, at)
        if math.isnan(filed[k]):
            continue
        nothing = NOTHING * amount_of(flow[first : starts[k + 1]])
        difference = discharge[k] - filed[k]
        if abs(difference) <= nothing or abs(difference) <= rounding[k]:
            continue
        if abs(filed[k]) > nothing:
            percent = 100.0 * difference / filed[k]
            if printed_above(percent, limits[_FILED]):
                _told(_TOTALS, k, first, percent, count, worst, at)
        else:
            _told(_TOTALS, k, first, math.inf, count, worst, at)


check_places = compiled(_check_places)
check_sections = compiled(_check_sections)
check_wholes = compiled(_check_wholes)
