"""What panels carry, and where there is water: what every method of uncertainty asks first."""

from __future__ import annotations

from bankside.bulk.columns import Column, Stations, Whole
from bankside.bulk.compiled import helping
from bankside.kernel.section import panel_width, stretch_end
from bankside.kernel.totals import amount_of

__all__ = ["panel_flows", "wet_stretches"]


@helping
def panel_flows(k: int, stations: Stations, widths: Column, flows: Column) -> float:
    """Fill in width and discharge of the panels of gauging k; return their total."""
    begin, start = stations.starts[k], stations.starts[k]
    total = 0.0
    for c in range(stations.channels[k], stations.channels[k + 1]):
        x = stations.tape[start : start + stations.counts[c]]
        for i in range(len(x)):
            j = start + i
            widths[j - begin] = panel_width(x, i)
            flows[j - begin] = widths[j - begin] * stations.depth[j] * stations.velocity[j]
            total += flows[j - begin]
        start += stations.counts[c]
    return total


@helping
def wet_stretches(k: int, stations: Stations, first: Whole, last: Whole) -> int:
    """Fill in the first and the last station of each stretch with water; return how many."""
    count, start = 0, stations.starts[k]
    for c in range(stations.channels[k], stations.channels[k + 1]):
        d = stations.depth[start : start + stations.counts[c]]
        at = 0
        while at < len(d) - 1:
            until = stretch_end(d, at)
            if amount_of(d[at : until + 1]) > 0.0:
                first[count] = start + at
                last[count] = start + until
                count += 1
            at = until
        start += stations.counts[c]
    return count
