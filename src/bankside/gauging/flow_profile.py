"""How an earlier gauging found the flow spread between the edges of water."""

import math
from collections.abc import Sequence
from itertools import pairwise

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.records import Gauging
from bankside.gauging.result import Result, VerticalResult
from bankside.gauging.units import metres_per

__all__ = ["FlowProfile", "flow_profile"]


@attrs.frozen
class FlowProfile:
    """Flow per width across the water, as it was.

    `across` runs from 0 at the left edge to 1 at the right edge, strictly increasing;
    `flow_per_width` is depth times velocity there in m²/s, negative where water ran upstream.
    `dry` holds stretches between the edges that had no water, as pairs of places. `width_m` is the
    distance between the edges. `banks_known` says whether the gauging told which bank was which;
    where it did not, the lowest tape position counts as the left edge.
    """

    across: tuple[float, ...]
    flow_per_width: tuple[float, ...]
    dry: tuple[tuple[float, float], ...] = ()
    width_m: float | None = None
    banks_known: bool = True

    def at(self, across: float) -> float:
        """Return the flow per width at a place between the edges (0 to 1), in m²/s."""
        for (x0, x1), (q0, q1) in zip(
            pairwise(self.across), pairwise(self.flow_per_width), strict=True
        ):
            if across <= x1:
                return q0 + (q1 - q0) * (across - x0) / (x1 - x0)
        return self.flow_per_width[-1]

    def middles_of_equal_shares(self, n: int) -> tuple[float, ...]:
        """Return n places, 0 to 1, each in the middle of an equal share of a weight.

        The weight is the amount of the flow per width, whatever its direction, and half of its
        mean where it is below that: so that slow margins and dead water keep some verticals and
        no gap grows beyond three times 1 / n. (Ours, no source.)

        Raises InputRefused when the earlier gauging found no flow at all.
        """
        amounts = [abs(flow) for flow in self.flow_per_width]
        half_mean = _summed_up(self.across, amounts)[-1] / 2.0
        if half_mean == 0.0:
            raise _refused("the earlier gauging found no flow, so there is nothing to share out")
        weights = [max(amount, half_mean) for amount in amounts]
        reached = _summed_up(self.across, weights)
        places = []
        i = 0
        for k in range(n):
            wanted = reached[-1] * (k + 0.5) / n
            while reached[i + 1] < wanted:
                i += 1
            length, w0 = self.across[i + 1] - self.across[i], weights[i]
            rise = (weights[i + 1] - w0) / length
            part = wanted - reached[i]
            places.append(self.across[i] + 2.0 * part / (w0 + math.sqrt(w0 * w0 + 2 * rise * part)))
        return tuple(places)


def flow_profile(gauging: Gauging, result: Result, channel: int | None = None) -> FlowProfile:
    """Take from an earlier gauging how the flow was spread between its edges of water.

    Dry verticals outside the water are left out: the profile begins and ends where the water did.

    Args:
        gauging: The record; its edges tell on which bank the tape began.
        result: What was computed from it, by any method.
        channel: Index of the channel, which may be left out when there is only one.

    Raises:
        InputRefused: No such channel, several and none chosen, or no water in it.
    """
    chosen = _chosen_channel(gauging, channel)
    along = _in_water([v for v in result.verticals if v.channel == chosen])
    flows = [vertical.depth_m * vertical.velocity_ms for vertical in along]
    length = along[-1].tape - along[0].tape
    across = [(vertical.tape - along[0].tape) / length for vertical in along]
    dry = [
        (x0, x1)
        for (x0, x1), (v0, v1) in zip(pairwise(across), pairwise(along), strict=True)
        if v0.depth_m == 0.0 and v1.depth_m == 0.0
    ]
    bank_of_lowest = _bank_of_lowest_tape(gauging, chosen)
    if bank_of_lowest == "right":
        flows.reverse()
        across = [1.0 - place for place in reversed(across)]
        dry = [(1.0 - x1, 1.0 - x0) for x0, x1 in reversed(dry)]
    return FlowProfile(
        across=tuple(across),
        flow_per_width=tuple(flows),
        dry=tuple(_joined(dry)),
        width_m=length * metres_per(gauging.units.length),
        banks_known=bank_of_lowest is not None,
    )


def _chosen_channel(gauging: Gauging, channel: int | None) -> int:
    count = len(gauging.channels)
    if channel is None and count > 1:
        raise _refused(f"the earlier gauging has {count} channels; say which one, 1 to {count}")
    chosen = channel or 0
    if not 0 <= chosen < count:
        raise _refused(f"the earlier gauging has no channel {chosen + 1}; it has {count}")
    return chosen


def _in_water(along: Sequence[VerticalResult]) -> Sequence[VerticalResult]:
    """Return the verticals from one edge of water to the other, both included."""
    wet = [i for i, vertical in enumerate(along) if vertical.depth_m > 0.0]
    if not wet:
        raise _refused("the earlier gauging found no water in this channel")
    return along[max(wet[0] - 1, 0) : wet[-1] + 2]


def _bank_of_lowest_tape(gauging: Gauging, channel: int) -> str | None:
    """Return on which bank the tape began, None if neither end of the channel tells."""
    called = sorted(gauging.channels[channel].verticals, key=lambda vertical: vertical.tape)
    if called[0].edge is not None:
        return called[0].edge
    return {"left": "right", "right": "left", None: None}[called[-1].edge]


def _joined(stretches: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return stretches that touch as one."""
    joined: list[tuple[float, float]] = []
    for start, end in stretches:
        if joined and joined[-1][1] == start:
            start = joined.pop()[0]
        joined.append((start, end))
    return joined


def _summed_up(x: Sequence[float], y: Sequence[float]) -> list[float]:
    """The area under straight lines through the points, from the first point to each."""
    areas = [0.0]
    for (x0, x1), (y0, y1) in zip(pairwise(x), pairwise(y), strict=True):
        areas.append(areas[-1] + (x1 - x0) * (y0 + y1) / 2.0)
    return areas


def _refused(message: str) -> InputRefused:
    return InputRefused([Fault(message)])
