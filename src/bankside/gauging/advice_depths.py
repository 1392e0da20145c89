"""How many verticals a target needs, as a few depths tell that were sounded before any velocity.

What flows is taken from the depths: at equal slope and roughness unit discharge goes with the
depth to the power 5/3 (Manning's formula in wide water, from memory). How uneven the section is,
the bed tells like readings would; as it tells nothing of an uneven velocity over an even bed, as in
weed, a small part is left to what is likely of streams before any reading.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from itertools import pairwise
from typing import Final

import attrs

from bankside.gauging.advice_design import HowRead
from bankside.gauging.advice_plan import Source, fewest_verticals, target_words
from bankside.gauging.between import Between
from bankside.gauging.between_section import BetweenSection, section_over
from bankside.gauging.between_station import Station
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.gauging.uncertainty_flow import Assumed
from bankside.gauging.units import LengthUnit, metres_per
from bankside.kernel.between_prior import prior_weight

__all__ = ["FEWEST_SOUNDINGS", "section_of_depths", "soundings_remark"]

FEWEST_SOUNDINGS: Final = 5
"""Fewer depths tell too little of a bed (ours)."""

# The mean velocity that is reckoned with, m/s (assumed): for the meter's zero and the exposures.
_MEAN_VELOCITY: Final = 0.4
_POWER: Final = 2.0 / 3.0
# How much say what is likely before any reading keeps (tried on simulated streams).
_UNSEEN: Final = 0.05


def section_of_depths(soundings: Sequence[tuple[float, float]], how: HowRead) -> BetweenSection:
    """Return the section of these soundings, each a tape position and a depth in m, edges as well.

    ValueError where two stand at one position, or there is no depth above 0 between the edges.
    """
    across = sorted(soundings)
    stations = _stations(across, how)
    total = math.fsum(
        (high.tape_m - low.tape_m) * (low.unit_discharge + high.unit_discharge) / 2.0
        for low, high in pairwise(stations)
    )
    section = section_over([(0, stations)], total, Assumed().width_percent)
    told = section.between.weights
    before = [prior_weight(i) for i in range(len(told))]
    whole = math.fsum(before)
    weights = (
        _UNSEEN * prior / whole + (1.0 - _UNSEEN) * weight
        for prior, weight in zip(before, told, strict=True)
    )
    return attrs.evolve(section, between=Between(section.between.lines, tuple(weights)))


def _stations(across: Sequence[tuple[float, float]], how: HowRead) -> list[Station]:
    """Return stations as they would be read, with velocities of the mean that is assumed."""
    area, flow = 0.0, 0.0
    for (low, low_depth), (high, high_depth) in pairwise(across):
        width = high - low
        if not width > 0.0:
            raise ValueError("two soundings stand at one position")
        area += width * (low_depth + high_depth) / 2.0
        flow += width * (low_depth ** (1.0 + _POWER) + high_depth ** (1.0 + _POWER)) / 2.0
    if not flow > 0.0:
        raise ValueError("there is a depth above 0")
    scale = _MEAN_VELOCITY * area / flow
    return [how.station(tape, depth, scale * depth**_POWER) for tape, depth in across]


def soundings_remark(
    soundings: Sequence[tuple[float, float]],
    edges: tuple[float, float],
    rules: RuleSet,
    *,
    target: float,
    unit: LengthUnit = "m",
    exposure_seconds: float | None = None,
) -> str:
    """Return how many verticals a target needs by depths alone, in a sentence.

    Args:
        soundings: Each a tape position and a depth, as called; at an edge of water the depth is 0
            where none was sounded.
        edges: The tape positions of both edges of water, as called.
        rules: How a vertical is read, and how many are asked for.
        target: Half the interval of 95 % that is wanted, in percent.
        unit: The unit of all of them.
        exposure_seconds: How long a point is to be read, else by the rules.

    Raises:
        InputRefused: Too few soundings, one beyond the edges, two at one position, a negative
            depth, or no depth above 0.
    """
    _refuse_odd(soundings, edges, unit)
    how = HowRead.by(rules)
    if exposure_seconds is not None:
        how = attrs.evolve(how, seconds=exposure_seconds)
    known = {tape: 0.0 for tape in edges} | dict(soundings)
    metres = metres_per(unit)
    in_metres = [(tape * metres, depth * metres) for tape, depth in known.items()]
    section = section_of_depths(in_metres, how)
    source = Source(
        f"{len(soundings)} soundings alone",
        "; slow pools and weed ask for more",
        "more soundings may tell otherwise, or a smoother section do with fewer",
    )
    width = abs(edges[1] - edges[0]) * metres
    count = fewest_verticals(section, target, how)
    return target_words(section, target, how, count, source, rules, width)


def _refuse_odd(
    soundings: Sequence[tuple[float, float]], edges: tuple[float, float], unit: LengthUnit
) -> None:
    low, high = sorted(edges)
    tapes = Counter(tape for tape, _ in soundings)
    twice = [tape for tape, count in tapes.items() if count > 1]
    beyond = [tape for tape in tapes if not low <= tape <= high]
    negative = [(tape, depth) for tape, depth in soundings if not depth >= 0.0]
    faults = []
    if len(soundings) < FEWEST_SOUNDINGS:
        faults.append(f"soundings must be {FEWEST_SOUNDINGS} or more (got {len(soundings)})")
    if twice:
        faults.append(
            f"soundings must stand at different tape positions (got two at {_listed(twice)} {unit})"
        )
    if beyond:
        faults.append(
            f"soundings must lie between the edges of water at {low:g} and {high:g} {unit} (got "
            f"{_listed(beyond)} {unit})"
        )
    if negative:
        tape, depth = negative[0]
        faults.append(f"depths must be 0 or more (got {depth:g} {unit} at tape {tape:g} {unit})")
    elif soundings and not any(low < tape < high and depth > 0.0 for tape, depth in soundings):
        faults.append("a depth between the edges of water must be above 0 (got none)")
    if faults:
        raise InputRefused([Fault(fault) for fault in faults])


def _listed(tapes: Sequence[float]) -> str:
    *first, last = (f"{tape:g}" for tape in tapes)
    return f"{', '.join(first)} and {last}" if first else last
