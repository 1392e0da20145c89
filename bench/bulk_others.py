"""Mid-section discharge and area of many sections in general libraries, each written well.

Every function takes tape, depth and velocity end to end with the offsets of the sections, gets its
own form of them ready, and returns what does the work: a function without arguments that gives
discharge and area of every section. What is got ready is not timed.
"""

from collections.abc import Callable

import duckdb
import numpy as np
import pandas as pd
import polars as pl
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Work = Callable[[], tuple[Floats, Floats]]


def with_numpy(starts: NDArray[np.int64], tape: Floats, depth: Floats, velocity: Floats) -> Work:
    """Neighbours by slices, ends of sections put right, sums by `reduceat`."""
    first, last = starts[:-1], starts[1:] - 1

    def work() -> tuple[Floats, Floats]:
        width = np.empty_like(tape)
        width[1:-1] = tape[2:] - tape[:-2]
        width[first] = tape[first + 1] - tape[first]
        width[last] = tape[last] - tape[last - 1]
        width *= 0.5
        width *= depth
        area = np.add.reduceat(width, first)
        width *= velocity
        return np.add.reduceat(width, first), area

    return work


def _group(starts: NDArray[np.int64]) -> NDArray[np.int64]:
    return np.repeat(np.arange(len(starts) - 1), np.diff(starts))


def with_polars(starts: NDArray[np.int64], tape: Floats, depth: Floats, velocity: Floats) -> Work:
    """Neighbours by `shift`, those of another section replaced, one `group_by` in its order."""
    frame = pl.DataFrame(
        {"section": _group(starts), "tape": tape, "depth": depth, "velocity": velocity}
    ).with_columns(pl.col("section").set_sorted())
    section, x = pl.col("section"), pl.col("tape")
    after = pl.when(section == section.shift(-1)).then(x.shift(-1)).otherwise(x)
    before = pl.when(section == section.shift(1)).then(x.shift(1)).otherwise(x)
    area = (after - before) / 2 * pl.col("depth")
    query = (
        frame.lazy()
        .select("section", area=area, flow=area * pl.col("velocity"))
        .group_by("section", maintain_order=True)
        .agg(pl.col("flow").sum(), pl.col("area").sum())
    )

    def work() -> tuple[Floats, Floats]:
        found = query.collect()
        return found["flow"].to_numpy(), found["area"].to_numpy()

    return work


def with_pandas(starts: NDArray[np.int64], tape: Floats, depth: Floats, velocity: Floats) -> Work:
    """Neighbours by `shift`, those of another section replaced, one `groupby` without sorting."""
    frame = pd.DataFrame(
        {"section": _group(starts), "tape": tape, "depth": depth, "velocity": velocity}
    )

    def work() -> tuple[Floats, Floats]:
        section, x = frame["section"], frame["tape"]
        after = x.shift(-1).where(section == section.shift(-1), x)
        before = x.shift(1).where(section == section.shift(1), x)
        area = (after - before) / 2 * frame["depth"]
        panels = pd.DataFrame({"flow": area * frame["velocity"], "area": area})
        found = panels.groupby(section.to_numpy(), sort=False).sum()
        return found["flow"].to_numpy(), found["area"].to_numpy()

    return work


def with_duckdb(starts: NDArray[np.int64], tape: Floats, depth: Floats, velocity: Floats) -> Work:
    """Neighbours by window functions over the section, in a table of its own."""
    connection = duckdb.connect()
    frame = pl.DataFrame(
        {"section": _group(starts), "tape": tape, "depth": depth, "velocity": velocity}
    ).to_arrow()
    connection.register("given", frame)
    connection.execute("create table sections as select * from given")
    connection.unregister("given")
    query = """
        with panels as (
            select section, velocity,
                (lead(tape, 1, tape) over w - lag(tape, 1, tape) over w) / 2 * depth as area
            from sections window w as (partition by section order by tape)
        )
        select sum(area * velocity) as flow, sum(area) as area
        from panels group by section order by section
    """

    def work() -> tuple[Floats, Floats]:
        found = connection.execute(query).fetchnumpy()
        return found["flow"], found["area"]

    return work


OTHERS = {
    "NumPy": with_numpy,
    "Polars": with_polars,
    "pandas": with_pandas,
    "DuckDB": with_duckdb,
}
