"""What must hold between the fields of a record: contradictions, never implausible readings.

A reading that is only unlikely is kept as it was called; saying so is the business of checks. A
gauging that is not finished yet (no edges, no verticals) contradicts nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, TypeVar

from bankside.gauging.faults import Fault
from bankside.gauging.practice_mark import PRACTICE_ID, is_practice_id

if TYPE_CHECKING:
    from bankside.gauging.records import (
        Channel,
        Gauging,
        Meter,
        MeterCheck,
        PointReading,
        Vertical,
    )

T = TypeVar("T")


def reading_has_a_value(reading: PointReading) -> Iterator[Fault]:
    """A reading is a velocity, or a count that a rating can turn into one."""
    if reading.value is None and reading.counts is None:
        yield Fault("value must be given, or counts and seconds (got neither)", path="value")


def counts_have_seconds(reading: PointReading) -> Iterator[Fault]:
    """Counts without their time give no velocity."""
    if reading.counts is not None and reading.seconds is None:
        yield Fault(
            f"seconds must be given with counts (got {reading.counts:g} counts and no seconds)",
            path="seconds",
        )


def bank_has_an_edge(vertical: Vertical) -> Iterator[Fault]:
    """The form of a bank describes an edge of water."""
    if vertical.bank is not None and vertical.edge is None:
        yield Fault(
            f'bank must stand beside an edge, "left" or "right" '
            f'(got bank "{vertical.bank}" and no edge)',
            path="bank",
        )


def bank_agrees_with_depth(vertical: Vertical) -> Iterator[Fault]:
    """At a sloping bank the water ends with depth 0, at a steep or undercut one with more."""
    if vertical.bank is None or vertical.depth is None:
        return
    if vertical.bank == "sloping" and vertical.depth > 0:
        yield Fault(
            "depth at a sloping edge must be 0; an edge with depth is steep or undercut "
            f"(got {vertical.depth:g})",
            path="depth",
        )
    if vertical.bank != "sloping" and vertical.depth == 0:
        yield Fault(
            f"depth at a {'steep' if vertical.bank == 'steep' else 'undercut'} edge "
            "must be above 0; an edge without depth is sloping (got 0)",
            path="depth",
        )


def dry_has_no_water(vertical: Vertical) -> Iterator[Fault]:
    """Where it is dry there is neither depth nor velocity."""
    if not vertical.dry:
        return
    if vertical.depth is not None and vertical.depth > 0:
        yield Fault(
            f"depth of a dry vertical must be 0 or left out (got {vertical.depth:g})", path="depth"
        )
    for index, reading in _sound(vertical.velocity):
        for name, figure in (("value", reading.value), ("counts", reading.counts)):
            if figure:
                yield Fault(
                    f"{name} at a dry vertical must be 0 or left out (got {figure:g})",
                    path=f"velocity[{index}].{name}",
                )


def wall_factor_has_a_wall(vertical: Vertical) -> Iterator[Fault]:
    """A wall factor belongs to an edge of water that has a depth."""
    if vertical.wall_factor is None:
        return
    if vertical.edge is None:
        yield Fault(
            f'wall_factor must stand beside an edge, "left" or "right" '
            f"(got {vertical.wall_factor:g} and no edge)",
            path="wall_factor",
        )
    elif vertical.depth == 0:
        yield Fault(
            "wall_factor must be left out where the edge has depth 0, as no water touches a wall "
            f"(got {vertical.wall_factor:g})",
            path="wall_factor",
        )


def angle_is_given_once(vertical: Vertical) -> Iterator[Fault]:
    """The angle of the flow is an angle or its coefficient."""
    if vertical.angle is not None and vertical.angle_coefficient is not None:
        yield Fault(
            "angle and angle_coefficient must not both be given, as either says the other "
            f"(got {vertical.angle:g}° and {vertical.angle_coefficient:g})",
            path="angle_coefficient",
        )


def tapes_differ(channel: Channel) -> Iterator[Fault]:
    """At one tape position a channel has one vertical."""
    first_at: dict[float, int] = {}
    for index, vertical in _sound(channel.verticals):
        first = first_at.setdefault(vertical.tape, index)
        if first != index:
            yield Fault(
                "tape must differ from vertical to vertical of a channel "
                f"(got {vertical.tape:g}, as at verticals[{first}])",
                path=f"verticals[{index}].tape",
            )


def each_bank_has_one_edge(channel: Channel) -> Iterator[Fault]:
    """A channel has one left and one right edge of water; an island makes two channels."""
    first_of: dict[str, int] = {}
    for index, vertical in _sound(channel.verticals):
        if vertical.edge is None:
            continue
        first = first_of.setdefault(vertical.edge, index)
        if first != index:
            yield Fault(
                f"a channel must have only one {vertical.edge} edge "
                f"(got another, as at verticals[{first}])",
                path=f"verticals[{index}].edge",
            )


def rating_parts_follow(meter: Meter) -> Iterator[Fault]:
    """The first of two rating parts says where it ends, and the second ends later."""
    parts = [part for _, part in _sound(meter.rating)]
    if len(parts) != len(meter.rating) or len(parts) < 2:
        return
    low, high = parts[0], parts[1]
    if low.up_to is None:
        yield Fault(
            "up_to must be given for the first of two parts (got nothing)", path="rating[0].up_to"
        )
    elif high.up_to is not None and high.up_to <= low.up_to:
        yield Fault(
            f"up_to must be above that of the part before, {low.up_to:g} (got {high.up_to:g})",
            path="rating[1].up_to",
        )


def proof_has_a_figure(proof: MeterCheck) -> Iterator[Fault]:
    """A spin has its seconds, a zero its velocity, and neither the other's figure."""
    wanted, other = ("seconds", "value") if proof.kind == "spin" else ("value", "seconds")
    if getattr(proof, wanted) is None:
        yield Fault(f"{wanted} must be given for a {proof.kind} (got nothing)", path=wanted)
    figure = getattr(proof, other)
    if figure is not None:
        yield Fault(f"{other} must be left out for a {proof.kind} (got {figure:g})", path=other)


def due_after_calibration(meter: Meter) -> Iterator[Fault]:
    """A calibration falls due after it was made."""
    if meter.calibrated is None or meter.calibration_due is None:
        return
    if meter.calibration_due < meter.calibrated:
        yield Fault(
            f"calibration_due must not be before calibrated, {meter.calibrated.isoformat()} "
            f"(got {meter.calibration_due.isoformat()})",
            path="calibration_due",
        )


def stage_has_a_gauge(gauging: Gauging) -> Iterator[Fault]:
    """Where a stage was read there is a gauge."""
    if gauging.no_gauge and gauging.stage:
        yield Fault(
            f"no_gauge must be false where a stage was read (got {len(gauging.stage)} readings)",
            path="no_gauge",
        )


def does_not_repeat_itself(gauging: Gauging) -> Iterator[Fault]:
    """A duplicate repeats another gauging."""
    if gauging.repeats is not None and gauging.repeats == gauging.id:
        yield Fault(
            f'repeats must be the id of another gauging (got its own, "{gauging.id}")',
            path="repeats",
        )


def practice_is_marked(gauging: Gauging) -> Iterator[Fault]:
    """Practice is marked twice, so that neither mark can be lost by itself."""
    if gauging.practice and not is_practice_id(gauging.id):
        found = "nothing" if gauging.id is None else f'"{gauging.id}"'
        yield Fault(
            f"the id of a practice gauging must begin with {PRACTICE_ID} (got {found})", path="id"
        )
    elif is_practice_id(gauging.id) and not gauging.practice:
        yield Fault(
            f"practice must be true where the id begins with {PRACTICE_ID} (got false)",
            path="practice",
        )


def ends_after_its_start(gauging: Gauging) -> Iterator[Fault]:
    """A gauging ends at or after its start."""
    if gauging.started is None or gauging.ended is None:
        return
    if gauging.ended < gauging.started:
        yield Fault(
            f"ended must not be before started, {gauging.started.isoformat()} "
            f"(got {gauging.ended.isoformat()})",
            path="ended",
        )


def starts_on_its_date(gauging: Gauging) -> Iterator[Fault]:
    """The date of a gauging is the day on which it started, by its own clock."""
    if gauging.started is None or gauging.date is None:
        return
    if gauging.started.date() != gauging.date:
        yield Fault(
            f"date must be the day of started, {gauging.started.date().isoformat()} "
            f"(got {gauging.date.isoformat()})",
            path="date",
        )


def counts_have_a_rating(gauging: Gauging) -> Iterator[Fault]:
    """Counts become a velocity through the rating of the meter."""
    if gauging.meter is not None and gauging.meter.rating:
        return
    for place, reading in _readings(gauging):
        if reading.value is None and reading.counts is not None:
            yield Fault(
                "value must be given where the meter has no rating to work it out from the counts "
                f"(got {reading.counts:g} counts)",
                path=f"{place}.value",
            )


def filed_panels_have_verticals(gauging: Gauging) -> Iterator[Fault]:
    """A filed panel stands for a vertical that the record has."""
    if gauging.filed is None:
        return
    channels = dict(_sound(gauging.channels))
    for index, panel in _sound(gauging.filed.panels):
        path = f"filed.panels[{index}]"
        if panel.channel >= len(gauging.channels):
            yield Fault(
                f"channel must be below {len(gauging.channels)}, the number of channels "
                f"(got {panel.channel})",
                path=f"{path}.channel",
            )
        channel = channels.get(panel.channel)
        if channel is not None and panel.vertical >= len(channel.verticals):
            yield Fault(
                f"vertical must be below {len(channel.verticals)}, the number of verticals in "
                f"channels[{panel.channel}] (got {panel.vertical})",
                path=f"{path}.vertical",
            )


def _readings(gauging: Gauging) -> Iterator[tuple[str, PointReading]]:
    for c, channel in _sound(gauging.channels):
        for v, vertical in _sound(channel.verticals):
            for r, reading in _sound(vertical.velocity):
                yield f"channels[{c}].verticals[{v}].velocity[{r}]", reading


def _sound(items: Iterable[T]) -> Iterator[tuple[int, T]]:
    """Yield the items with their indexes, without those that could not be made out."""
    return ((index, item) for index, item in enumerate(items) if item is not None)
