"""What a change of method, rule set or version changes: two runs, gauging by gauging, ranked.

Of each run the ids and one figure, or its findings, are held in memory; nothing else.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import attrs
import pyarrow as pa
import pyarrow.compute as pc
import pyarrow.dataset as ds

from bankside.bulk.run_folder import finished_run
from bankside.gauging.faults import Fault, InputRefused

__all__ = ["BANDS", "Change", "CheckChange", "Comparison", "compare_figures", "compare_findings"]

BANDS = (0.0, 0.1, 1.0, 5.0, 10.0, float("inf"))
"""Changes in percent are counted up to each of these, the first for none."""


@attrs.frozen
class Change:
    """One gauging with its figure before and after; None where a run has none."""

    gauging: str
    before: float | None
    after: float | None
    percent: float | None


@attrs.frozen
class Comparison:
    """How many gaugings change by how much, and those that change most, the most first.

    `counts` go with `BANDS`. `alone` are those with a figure on one side alone, which stand first
    among `changes`; without any figure on either side a gauging counts as unchanged.
    """

    gaugings: int
    counts: tuple[int, ...]
    alone: int
    changes: tuple[Change, ...]


@attrs.frozen
class CheckChange:
    """One check, with one severity: how many gaugings have it before, and what comes and goes."""

    check: str
    severity: str | None
    before: int
    after: int
    new: int
    gone: int


def compare_figures(before: Path, after: Path, figure: str, against: str, most: int) -> Comparison:
    """Hold `figure` of one run against `against` of another, or of the same.

    InputRefused where a folder is no finished `compute` run, or has no such figure.
    """
    one, other = _figures(before, figure, "before"), _figures(after, against, "after")
    joined = one.join(other, "gauging", join_type="full outer")
    was, now = joined["before"], joined["after"]
    percent = pc.if_else(
        pc.equal(was, now), 0.0, pc.multiply(pc.divide(pc.subtract(now, was), pc.abs(was)), 100.0)
    )
    alone = pc.xor(pc.is_valid(was), pc.is_valid(now))
    size = pc.fill_null(pc.if_else(alone, float("inf"), pc.abs(percent)), 0.0)
    joined = joined.append_column("percent", percent).append_column("size", size)
    counts, below = [], -1.0
    for band in BANDS:
        inside = pc.and_(pc.greater(size, below), pc.less_equal(size, band))
        counts.append(pc.sum(inside).as_py() or 0)
        below = band
    lonely = pc.sum(alone).as_py() or 0
    counts[-1] -= lonely
    ranked = joined.filter(pc.greater(size, 0.0)).sort_by(
        [("size", "descending"), ("gauging", "ascending")]
    )
    return Comparison(
        joined.num_rows,
        tuple(counts),
        lonely,
        tuple(
            Change(row["gauging"], row["before"], row["after"], row["percent"])
            for row in ranked.slice(0, most).to_pylist()
        ),
    )


def compare_findings(before: Path, after: Path) -> tuple[CheckChange, ...]:
    """Hold the findings of two `check` runs against each other, the most changed check first.

    InputRefused where a folder is no finished `check` run.
    """
    key = ["gauging", "check", "severity"]
    one, other = (_table(folder, "findings", key) for folder in (before, after))
    # Where a severity is not told it is a word all the same: nothing equals nothing in no join.
    one, other = (_with_words(table) for table in (one, other))
    changes = {
        "before": one,
        "after": other,
        "new": other.join(one, key, join_type="left anti"),
        "gone": one.join(other, key, join_type="left anti"),
    }
    found: dict[tuple[str, str], dict[str, int]] = {}
    for name, table in changes.items():
        grouped = table.group_by(key[1:]).aggregate([("gauging", "count")])
        for row in grouped.to_pylist():
            of_check = found.setdefault((row["check"], row["severity"]), {})
            of_check[name] = row["gauging_count"]
    rows = [
        CheckChange(check, severity or None, *(counts.get(name, 0) for name in changes))
        for (check, severity), counts in found.items()
    ]
    return tuple(
        sorted(rows, key=lambda row: (-(row.new + row.gone), row.check, row.severity or ""))
    )


def _with_words(table: pa.Table) -> pa.Table:
    return table.set_column(2, "severity", pc.fill_null(table["severity"], ""))


def _figures(folder: Path, figure: str, name: str) -> pa.Table:
    table = _table(folder, "gaugings", ["gauging", figure])
    several = pc.value_counts(table["gauging"])
    several = several.filter(pc.greater(several.field("counts"), 1))
    if len(several) > 0:
        found = several[0].as_py()
        message = (
            f'must have every id once to be compared (found "{found["values"]}" '
            f"{found['counts']} times)"
        )
        raise InputRefused([Fault(message, file=str(folder))])
    return table.rename_columns(["gauging", name])


def _table(folder: Path, name: str, columns: Sequence[str]) -> pa.Table:
    wanted, kind = ("compute" if name == "gaugings" else "check"), finished_run(folder)
    if kind != wanted:
        message = f"must be a folder of bankside bulk {wanted} (found one of bankside bulk {kind})"
        raise InputRefused([Fault(message, file=str(folder))])
    try:
        found = ds.dataset(folder / name, format="parquet")
        missing = [column for column in columns if column not in found.schema.names]
        if not missing:
            return found.to_table(columns=list(columns))
    except (pa.ArrowException, OSError) as error:
        message = f"must be readable to its end ({' '.join(str(error).split())})"
        raise InputRefused([Fault(message, file=str(folder / name))]) from None
    known = ", ".join(field.name for field in found.schema if pa.types.is_floating(field.type))
    message = f'must have a figure "{missing[0]}" (found {known})'
    raise InputRefused([Fault(message, file=str(folder))])
