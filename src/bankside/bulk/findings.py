"""Findings over many gaugings: the columns that the checks take, and the table that they make."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import pyarrow as pa

from bankside.bulk.checks import (
    LIMITS,
    SLOTS,
    Found,
    Limits,
    check_places,
    check_sections,
    check_wholes,
)
from bankside.bulk.columns import Columns, Floats, unchanging
from bankside.bulk.engine import across, panels_of
from bankside.bulk.given import Given

__all__ = ["findings_table", "look"]


def look(given: Given, figures: Mapping[str, Floats], limits: Mapping[str, float]) -> Found:
    """Return what the checks find by these limits, those of `LIMITS` in SI."""
    columns = given.columns
    gaugings = len(columns)
    shape = (len(SLOTS), gaugings)
    found = Found(np.zeros(shape, np.int64), np.zeros(shape), np.zeros(shape, np.int64))
    panels = panels_of(columns, figures["discharge_m3s"], figures["amount_m3s"])
    held = (panels, Limits(**{name: limits[name] for name in LIMITS}), found)
    stations, speed = columns.stations, np.abs(columns.velocity_ms)
    slowest = np.where(columns.measured, columns.velocity_ms, 0.0)
    across(
        gaugings,
        check_places,
        stations,
        *(_or_else(given.fastest_ms, speed), _or_else(given.slowest_ms, slowest)),
        *held,
    )
    across(gaugings, check_sections, stations, _or_else(given.edge, _ends(columns)), *held)
    across(
        gaugings,
        check_wholes,
        stations,
        *(figures[name] for name in ("discharge_m3s", "mean_depth_m", "mean_velocity_ms")),
        _or_else(given.filed_m3s, np.full(gaugings, np.nan)),
        _or_else(given.filed_rounding_m3s, np.zeros(gaugings)),
        *held,
    )
    return found


def _or_else(said: Floats | None, otherwise: Floats) -> Floats:
    """Return what is said, and what stands for it where nothing is."""
    found = otherwise if said is None else np.where(np.isnan(said), otherwise, said)
    return unchanging(found)


def _ends(columns: Columns) -> Floats:
    """Return 1 at both ends of every channel, which are edges of water where nothing is said."""
    found = np.zeros(len(columns.tape_m))
    last = np.cumsum(columns.counts)
    found[last - 1] = 1.0
    found[last - columns.counts] = 1.0
    return found


def findings_table(given: Given, found: Found) -> pa.Table:
    """Return one row a finding, gauging by gauging, in the order of `SLOTS`."""
    gauging, slot = np.nonzero(found.places.T)
    at = found.at[slot, gauging]
    return pa.table(
        {
            "gauging": given.ids.take(pa.array(gauging)),
            "check": pa.array([SLOTS[one].check for one in slot], pa.string()),
            "severity": pa.array([SLOTS[one].severity for one in slot], pa.string()),
            "places": pa.array(found.places[slot, gauging], pa.int32()),
            "worst": _finite(found.worst[slot, gauging]),
            "worst_is": pa.array([SLOTS[one].figure for one in slot], pa.string()),
            "tape_m": given.columns.tape_m[at],
        }
    )


def _finite(values: Floats) -> pa.Array:
    return pa.array(np.where(np.isfinite(values), values, np.nan), from_pandas=True)
