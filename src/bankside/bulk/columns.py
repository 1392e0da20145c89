"""Many gaugings as plain columns: one value a station, end to end, with offsets.

A station is a vertical as it enters the kernel: in SI, along the tape, with a velocity, as
`gauging.compute` makes it of what was called.
"""

from __future__ import annotations

from typing import Any, NamedTuple, TypeAlias

import attrs
import numpy as np
from numpy.typing import NDArray

__all__ = [
    "Column",
    "Columns",
    "Flags",
    "Floats",
    "Panels",
    "Read",
    "Stations",
    "Whole",
    "unchanging",
]

Floats: TypeAlias = NDArray[np.float64]
Whole: TypeAlias = NDArray[np.int64]
Flags: TypeAlias = NDArray[np.bool_]
Column: TypeAlias = Any
"""A column in compiled code, where the kernel takes a slice of it for its sequence of floats."""


class Stations(NamedTuple):
    """Gaugings by stations as compiled functions take them, each column as in `Columns`."""

    starts: Whole
    channels: Whole
    counts: Whole
    tape: Column
    depth: Column
    velocity: Column
    measured: Flags


class Panels(NamedTuple):
    """The mid-section panels of all gaugings, one a station."""

    width_m: Column
    area_m2: Column
    discharge_m3s: Column
    share: Column


class Read(NamedTuple):
    """How the velocity of each station was read, in the figures of ISO 748's tables.

    As `gauging.uncertainty_points.ReadPanel`: number of points, and the percents of meter and
    exposure for one of them. `at_surface` is 1 where a meter read the surface alone, 2 where a
    float did, else 0; `own_rating` is not 0 where the meter was calibrated itself.
    """

    points: Column
    meter_percent: Column
    exposure_percent: Column
    at_surface: Column
    own_rating: Column


@attrs.frozen(eq=False)
class Columns:
    """Gaugings by stations.

    Gauging k has the stations `starts[k]` to `starts[k + 1]` and the channels `channels[k]` to
    `channels[k + 1]`; channel c has `counts[c]` of them, in order. `tape_m` increases within a
    channel. `measured` says whether a velocity was read at the station itself.
    """

    starts: Whole
    channels: Whole
    counts: Whole
    tape_m: Floats
    depth_m: Floats
    velocity_ms: Floats
    measured: Flags
    read: Read | None = None

    def __len__(self) -> int:
        return len(self.starts) - 1

    @property
    def stations(self) -> Stations:
        """The columns as compiled functions take them."""
        return Stations(
            *map(unchanging, (self.starts, self.channels, self.counts)),
            *map(unchanging, (self.tape_m, self.depth_m, self.velocity_ms, self.measured)),
        )

    @property
    def channel_of(self) -> Whole:
        """The number of the channel of each station within its gauging."""
        of_channel = np.arange(len(self.counts)) - np.repeat(
            self.channels[:-1], np.diff(self.channels)
        )
        return np.repeat(of_channel, self.counts)

    def only(self, kept: Flags) -> Columns:
        """Return the columns of those gaugings alone."""
        lengths, parts = np.diff(self.starts), np.diff(self.channels)
        stations = np.repeat(kept, lengths)
        read = self.read
        return Columns(
            starts=_offsets(lengths[kept]),
            channels=_offsets(parts[kept]),
            counts=self.counts[np.repeat(kept, parts)],
            tape_m=self.tape_m[stations],
            depth_m=self.depth_m[stations],
            velocity_ms=self.velocity_ms[stations],
            measured=self.measured[stations],
            read=None if read is None else Read(*(column[stations] for column in read)),
        )


def unchanging(values: NDArray[Any]) -> NDArray[Any]:
    """Return a column that compiled code may not change.

    What is compiled is compiled anew where a column that it may change comes in the place of one
    that it may not, as those are that Arrow holds.
    """
    seen = values.view()
    seen.flags.writeable = False
    return seen


def _offsets(lengths: Whole) -> Whole:
    return np.concatenate([[0], np.cumsum(lengths)]).astype(np.int64)
