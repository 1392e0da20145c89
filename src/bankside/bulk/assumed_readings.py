"""At how many verticals something that nobody wrote stands for how the velocity was read."""

from __future__ import annotations

import numpy as np

from bankside.bulk.columns import Whole
from bankside.bulk.given import Given

__all__ = ["assumed_readings"]


def assumed_readings(found: Given) -> Whole:
    """Return for each gauging how many of its verticals with a reading are assumed to be usual.

    Of these the table says nothing of points and percents, or says itself that its figures stand
    for an exposure time or a point of the depth that is not written.
    """
    columns = found.columns
    unsaid = np.ones(len(columns.tape_m), np.bool_)
    if columns.read is not None:
        unsaid = np.isnan(columns.read.points)
    if found.assumed is not None:
        unsaid = unsaid | (found.assumed == 1.0)
    of_gauging = np.repeat(np.arange(len(columns)), np.diff(columns.starts))
    read = columns.measured & (columns.depth_m > 0.0)
    counted: Whole = np.bincount(of_gauging[read & unsaid], minlength=len(columns))
    return counted
