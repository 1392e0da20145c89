"""Which rule gives the totals that were filed, over many gaugings, by the totals alone.

As `gauging.reconcile` where a sheet carries no products. The sheet's own widths are no column here.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np
import pyarrow as pa

from bankside.bulk.columns import Column, Columns, Flags, Floats, Stations, Whole, unchanging
from bankside.bulk.compiled import compiled
from bankside.bulk.engine import across
from bankside.gauging.filed_fits import CLOSE, NOTHING
from bankside.gauging.filed_rules import OWN_WIDTHS, RULES
from bankside.kernel.discharge import (
    last_distance_discharge,
    mean_section_discharge,
    mid_section_discharge,
    mid_section_discharge_full_end,
    mid_section_discharge_triangular,
    next_distance_discharge,
)

__all__ = ["explained"]

_RULES: Final = tuple(rule for rule in RULES if rule != OWN_WIDTHS)
_NAMES: Final = [
    "; ".join(name for bit, name in enumerate(_RULES) if fits >> bit & 1)
    for fits in range(1 << len(_RULES))
]


def _fits(
    begin: int,
    end: int,
    stations: Stations,
    downwards: Flags,
    filed: Column,
    rounding: Column,
    amount: Column,
    fits: Whole,
    as_filed: Column,
) -> None:
    """Fill in which of the rules, a bit each in their order, give the filed total.

    A spreadsheet multiplies by an empty cell as by 0, and the next row of a sheet is further down
    the tape where the sheet runs down it.
    """
    for k in range(begin, end):
        fits[k] = 0
        if math.isnan(filed[k]):
            continue
        start = stations.starts[k]
        for j in range(start, stations.starts[k + 1]):
            as_filed[j] = stations.velocity[j] if stations.measured[j] else 0.0
        mid, following, before, full, triangular, mean = 0.0, 0.0, 0.0, 0.0, 0.0, 0.0
        for c in range(stations.channels[k], stations.channels[k + 1]):
            stop = start + stations.counts[c]
            x, d, v = stations.tape[start:stop], stations.depth[start:stop], as_filed[start:stop]
            mid += mid_section_discharge(x, d, v)
            onwards, back = next_distance_discharge(x, d, v), last_distance_discharge(x, d, v)
            following += back if downwards[c] else onwards
            before += onwards if downwards[c] else back
            full += mid_section_discharge_full_end(x, d, v)
            triangular += mid_section_discharge_triangular(x, d, v)
            mean += mean_section_discharge(x, d, v)
            start = stop
        least = max(rounding[k], NOTHING * amount[k])
        bit = 1
        for given in (mid, following, before, full, triangular, mean):
            if abs(filed[k] - given) <= max(CLOSE * abs(given), least):
                fits[k] += bit
            bit *= 2


_compiled_fits = compiled(_fits)


def explained(
    columns: Columns,
    vertical: Floats | None,
    filed_m3s: Floats,
    rounding_m3s: Floats | None,
    discharge: Floats,
    amount: Floats,
) -> dict[str, pa.Array]:
    """Return by column how far ours is from the filed total, and which rules give that total.

    `vertical` is the place of each station on the sheet; where it is not said, sheets run up the
    tape. Rules are named with "; " between them, none where none gives it; where nothing was
    filed, nothing is said.
    """
    fits = np.zeros(len(columns), np.int64)
    rounding = np.zeros(len(columns)) if rounding_m3s is None else np.nan_to_num(rounding_m3s)
    across(
        len(columns),
        _compiled_fits,
        *(columns.stations, _downwards(columns, vertical)),
        *(unchanging(filed_m3s), rounding, amount, fits, np.empty(len(columns.tape_m))),
    )
    nothing = NOTHING * amount
    difference = discharge - filed_m3s
    with np.errstate(divide="ignore", invalid="ignore"):
        percent = np.where(np.abs(filed_m3s) > nothing, 100.0 * difference / filed_m3s, np.nan)
    difference[np.abs(difference) <= nothing] = 0.0
    names = pa.array(_NAMES).take(pa.array(fits, mask=np.isnan(filed_m3s)))
    return {
        "filed_m3s": pa.array(filed_m3s, from_pandas=True),
        "filed_difference_m3s": pa.array(difference, from_pandas=True),
        "filed_difference_percent": pa.array(percent, from_pandas=True),
        "filed_rules": names,
    }


def _downwards(columns: Columns, vertical: Floats | None) -> Flags:
    """Return for each channel whether its sheet runs down the tape."""
    if vertical is None:
        return np.zeros(len(columns.counts), np.bool_)
    last = np.cumsum(columns.counts) - 1
    found: Flags = vertical[last] < vertical[last - columns.counts + 1]
    return found
