"""How a whole is shared out among what made it up together, without any order among these.

The value of Shapley (from memory): of all orders in which parts could join, the mean of what a part
changes when it joins. It adds up to the whole exactly, a part that never changes anything gets
nothing, and parts that do the same get the same.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

__all__ = ["shapley"]


def shapley(parts: Sequence[str], value: Callable[[frozenset[str]], float]) -> dict[str, float]:
    """Return the share of each part in value(all) − value(none), in the order given.

    `value` is asked once for every set of parts, 2ⁿ times for n parts.
    """
    count = len(parts)
    values = [value(_chosen(parts, mask)) for mask in range(1 << count)]
    weights = [
        math.factorial(size) * math.factorial(count - size - 1) / math.factorial(count)
        for size in range(count)
    ]
    shares = {}
    for place, part in enumerate(parts):
        bit = 1 << place
        shares[part] = math.fsum(
            weights[mask.bit_count()] * (values[mask | bit] - values[mask])
            for mask in range(1 << count)
            if not mask & bit
        )
    return shares


def _chosen(parts: Sequence[str], mask: int) -> frozenset[str]:
    return frozenset(part for place, part in enumerate(parts) if mask >> place & 1)
