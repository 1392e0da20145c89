"""What one more vertical would have given, read without any error."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from bankside.gauging.advice import advise
from bankside.gauging.checks.examined import examine
from bankside.gauging.checks.finding import Finding
from bankside.gauging.compute import compute
from bankside.gauging.records import Gauging, PointReading, Vertical
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.gauging.units import metres_per, metres_per_second_per
from bankside.practice.debrief.error_parts import TakenApart

__all__ = ["OneMoreVertical", "one_more_vertical"]


@attrs.frozen
class OneMoreVertical:
    """A vertical that was not read: where on the tape, as called, and the discharge with it."""

    tape: float
    discharge: float


def one_more_vertical(
    apart: TakenApart, rules: RuleSet, findings: Sequence[Finding]
) -> OneMoreVertical | None:
    """Return what a vertical at the advised place, read truly, would have made of the discharge.

    None where no place is advised, or no water is there. The readings made stay as they are.
    """
    record = apart.record
    advised = advise(examine(record, rules, finished=True), findings)
    place = next((act for act in advised if act.kind == "vertical"), None)
    if place is None or place.channel is None or place.tape is None:
        return None
    metre = metres_per(record.units.length)
    skew = apart.channels[place.channel][0]
    y = skew.left + (place.tape * metre - skew.left) * skew.skew
    depth = apart.water.depth_at(y, apart.middle)
    if depth <= 0.0:
        return None
    velocity = apart.water.velocity_at(y, apart.middle)
    row = Vertical(
        place.tape,
        depth / metres_per(record.units.depth or record.units.length),
        (PointReading(velocity / metres_per_second_per(record.units.velocity)),),
    )
    return OneMoreVertical(place.tape, compute(_with(record, place.channel, row)).discharge_m3s)


def _with(record: Gauging, channel: int, row: Vertical) -> Gauging:
    channels = list(record.channels)
    rows = sorted((*channels[channel].verticals, row), key=lambda vertical: vertical.tape)
    channels[channel] = attrs.evolve(channels[channel], verticals=tuple(rows))
    return attrs.evolve(record, channels=tuple(channels), filed=None)
