"""What is said beside the interval of the model between verticals: what it rests on and lacks."""

from __future__ import annotations

import math
from collections.abc import Iterator

from bankside.gauging.between_ranges import DEEPEST_M, VELOCITY_MS, WIDTH_M
from bankside.gauging.between_section import BetweenSection
from bankside.gauging.notes import Note
from bankside.gauging.records import Units
from bankside.gauging.rounding import to_figures
from bankside.gauging.uncertainty_flow import Flow
from bankside.gauging.units import (
    cubic_metres_per_second_per,
    metres_per,
    metres_per_second_per,
)
from bankside.kernel import between_assumed as assumed

__all__ = ["between_remarks", "unlike_the_judged"]

# Simulated gaugings with fewer verticals were not among those that it was judged by.
_FEWEST_JUDGED = 8


def between_remarks(section: BetweenSection, flow: Flow, units: Units) -> Iterator[Note]:
    """Yield what has to be known of the interval of a section, `flow` being all of its panels."""
    yield Note(
        "The interval holds all that the readings leave possible; how often it held the true "
        "discharge of simulated streams, and the whole of real transects, less often, is in "
        "docs/uncertainty.md."
    )
    yield Note(
        "Not in it: a stage that moves meanwhile, ice or weed that covers the water, the angle of "
        "the flow, water beneath or past the banks, slips, and that mid-section by few verticals "
        "leans to too little."
    )
    yield from _more_than_all(section, units)
    yield from _few(section)
    if unlike := unlike_the_judged(section, units):
        yield Note(
            "The stream is unlike all that the model was fitted to and judged on "
            f"({'; '.join(unlike)}): take the interval for the least that is uncertain."
        )
    yield from _unread(section, flow)
    yield from _at_surface(section)


def _more_than_all(section: BetweenSection, units: Units) -> Iterator[Note]:
    percent = section.half_width(0.95)
    if percent > 100.0:
        unit, words = ("ft3/s", "ft³/s") if units.length in ("ft", "in") else ("m3/s", "m³/s")
        amount = section.total * percent / 100.0 / cubic_metres_per_second_per(unit)
        yield Note(
            f"The interval, ± {to_figures(amount, 2)} {words}, is more than the discharge itself: "
            "a percent of it says nothing."
        )


def _few(section: BetweenSection) -> Iterator[Note]:
    read = sum(one.measured and one.depth_m > 0.0 for water in section.waters for one in water)
    if read < _FEWEST_JUDGED:
        yield Note(
            f"It was not judged by fewer than {_FEWEST_JUDGED} verticals: with {read} the figure "
            "rests on what sections are like, hardly on this one."
        )


def unlike_the_judged(section: BetweenSection, units: Units) -> tuple[str, ...]:
    """Return in what a stream lies beyond those that the model was fitted to and judged on."""
    depth_unit = units.depth or units.length
    length, depth = metres_per(units.length), metres_per(depth_unit)
    velocity = metres_per_second_per(units.velocity)
    deepest = max(one.depth_m for water in section.waters for one in water)
    figures = (
        ("width", math.fsum(one.width_m for one in section.between.lines), WIDTH_M),
        ("deepest vertical", deepest, DEEPEST_M),
        ("mean velocity", section.mean_velocity_ms, VELOCITY_MS),
    )
    shown = ((length, units.length), (depth, depth_unit), (velocity, units.velocity))
    return tuple(
        f"{name} {to_figures(value / one, 2)} {unit}, those {to_figures(low / one, 2)} to "
        f"{to_figures(high / one, 2)} {unit}"
        for (name, value, (low, high)), (one, unit) in zip(figures, shown, strict=True)
        if not low <= value <= high
    )


def _unread(section: BetweenSection, flow: Flow) -> Iterator[Note]:
    here = {
        (channel, one.vertical)
        for channel, water in zip(section.channels, section.waters, strict=True)
        for one in water
    }
    for stretch in flow.stretches:
        for station in stretch.stations:
            if station.measured or station.depth_m == 0.0:
                continue
            if (station.channel, station.vertical) in here:
                yield Note(
                    "The velocity at the edge of water at {at} was not read: it counts as "
                    f"uncertain by {100 * assumed.STANDS_IN:g} %.",
                    station.tape,
                )
            else:
                yield Note(
                    "No velocity was read at {at}: the water there counts as any other between "
                    "verticals, and that its depth is known makes the interval no narrower.",
                    station.tape,
                )


def _at_surface(section: BetweenSection) -> Iterator[Note]:
    if any(one.by_surface for water in section.waters for one in water):
        yield Note(
            "Where the surface alone was read, a velocity is uncertain by "
            f"{100 * assumed.SURFACE_COMMON:g} % for the coefficient, at all such verticals "
            f"together, and its profile by {assumed.AT_SURFACE:g} times that of a point at 0.6; "
            f"without an exposure time it counts as a float, {100 * assumed.FLOAT:g} % each (all "
            "assumed)."
        )
