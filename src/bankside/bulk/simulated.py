"""Tables of any size, made up: a few simulated sections, each stretched over and over.

Sections are measured by the virtual crews of `practice`; every gauging is one of them with another
width, depth and velocity, written to the millimetre and the mm/s. The same seed gives the same
gaugings, in whatever number: the first thousand of a million are those of a thousand.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

import attrs
import numpy as np
import pyarrow as pa
import pyarrow.parquet as pq

from bankside.bulk.columns import Floats, Whole
from bankside.bulk.layout import SCHEMA
from bankside.practice.crew import CAREFUL
from bankside.practice.making import make_stream
from bankside.practice.measuring import measure
from bankside.practice.section_types import SECTION_TYPES

__all__ = ["ROW_GROUP", "simulate", "simulated_rows"]

ROW_GROUP = 8192
"""Gaugings that are made up, and written, at a time."""

# So many sections of each type, and so many verticals set out in the least and the most of them.
_OF_A_TYPE = 8
_VERTICALS = (18, 32)
# Width, depth and velocity of a section become up to so many times as large, or as small.
_MOST = 1.35
_DECIMALS = 3

_COLUMNS = ("gauging", "tape_m", "depth_m", "velocity_ms")


@attrs.frozen(eq=False)
class _Sections:
    """The sections that all others are made of, end to end."""

    starts: Whole
    tape: Floats
    depth: Floats
    velocity: Floats


def simulate(gaugings: int, file: Path, seed: int = 1) -> None:
    """Write so many gaugings to a Parquet file in the layout."""
    schema = pa.schema([SCHEMA.field(name) for name in _COLUMNS])
    with pq.ParquetWriter(file, schema, compression="zstd", compression_level=1) as writer:
        for table in simulated_rows(gaugings, seed):
            writer.write_table(table.cast(schema))


def simulated_rows(gaugings: int, seed: int = 1) -> Iterator[pa.Table]:
    """Yield so many gaugings as tables of the layout, `ROW_GROUP` of them at a time."""
    for first in range(0, gaugings, ROW_GROUP):
        yield _rows(first, min(ROW_GROUP, gaugings - first), seed)


def _rows(first: int, count: int, seed: int) -> pa.Table:
    made = _sections(seed)
    random = np.random.default_rng([seed, first])
    # All are drawn, so that a shorter table begins with the same gaugings.
    base = random.integers(0, len(made.starts) - 1, ROW_GROUP)[:count]
    factors = _MOST ** random.uniform(-1.0, 1.0, (ROW_GROUP, 3))[:count]
    lengths = np.diff(made.starts)[base]
    offsets = np.concatenate([[0], np.cumsum(lengths)])
    place = np.arange(offsets[-1]) - np.repeat(offsets[:-1] - made.starts[base], lengths)
    lists = {
        name: pa.ListArray.from_arrays(
            pa.array(offsets, pa.int32()),
            np.round(values[place] * np.repeat(factors[:, column], lengths), _DECIMALS),
        )
        for column, (name, values) in enumerate(
            (("tape_m", made.tape), ("depth_m", made.depth), ("velocity_ms", made.velocity))
        )
    }
    ids = pa.array([f"simulated {seed} {first + k}" for k in range(count)])
    return pa.table({"gauging": ids, **lists})


@cache
def _sections(seed: int) -> _Sections:
    measured = [
        measure(make_stream(kind, seed * 1000 + number), CAREFUL, number, verticals)
        for kind in sorted(SECTION_TYPES)
        for number, verticals in enumerate(
            np.linspace(*_VERTICALS, _OF_A_TYPE).astype(int).tolist()
        )
    ]
    lengths = [len(one.tapes) for one in measured]
    return _Sections(
        starts=np.concatenate([[0], np.cumsum(lengths)]),
        tape=np.concatenate([one.tapes for one in measured]),
        depth=np.concatenate([one.depths for one in measured]),
        velocity=np.concatenate([one.velocities for one in measured]),
    )
