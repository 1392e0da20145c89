"""One run over a whole table: part by part, to be interrupted and taken up again.

A part is so many gaugings in the order of the input, however its files and their row groups are
cut, and what it comes to depends on nothing else: any number of workers, in any order, write the
same bytes. `run_folder` says which run a folder belongs to, and which parts are done.
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Any

import attrs
import pyarrow as pa
import pyarrow.parquet as pq

from bankside.bulk.asked import PART, Uncertainty
from bankside.bulk.compiled import sources_key
from bankside.bulk.refusals import REFUSED, refused_table, sentences
from bankside.bulk.rows import Input, Rows
from bankside.bulk.run_folder import FORMAT, LAST_TABLE, Kind, begin_folder, part_file, parts_of
from bankside.bulk.tables import tables_of
from bankside.gauging.compute import METHOD_VERSION
from bankside.gauging.uncertainty_flow import Assumed

__all__ = ["Done", "Limits", "Run", "begin", "parts_left", "run_here", "work_part"]

Limits = dict[str, float]
"""Thresholds of a rule set in SI, by name."""


@attrs.frozen
class Run:
    """What is worked out: from which files, into which folder, how.

    `kind` "compute" gives figures, and `panels` too if asked for; "check" gives findings by
    `limits`, those of the rule set of this name.
    """

    kind: Kind
    inputs: tuple[Input, ...]
    out: Path
    panels: bool = True
    uncertainty: Uncertainty = "all"
    assumed: Assumed = attrs.field(factory=Assumed)
    rule_set: str | None = None
    limits: Limits = attrs.field(factory=dict)
    part: int = PART

    @property
    def gaugings(self) -> int:
        """How many rows all inputs have."""
        return sum(one.rows for one in self.inputs)

    @property
    def parts(self) -> int:
        """How many parts that makes, at least one."""
        return parts_of(self.gaugings, self.part)

    def file(self, table: str, part: int) -> Path:
        """Return where a table of a part is written."""
        return part_file(self.out, table, part)

    @property
    def last_table(self) -> str:
        """The table that is written last: with it a part is done."""
        return LAST_TABLE[self.kind]

    def as_document(self) -> dict[str, Any]:
        """Return what makes this run differ from others, as `run.json` has it."""
        return {
            "format": FORMAT,
            "kind": self.kind,
            "method_version": METHOD_VERSION,
            "sources": sources_key(),
            "inputs": [[Path(one.path).name, one.rows, one.digest] for one in self.inputs],
            "gaugings_a_part": self.part,
            "panels": self.panels,
            "uncertainty": self.uncertainty,
            "assumed": attrs.asdict(self.assumed),
            "rule_set": self.rule_set,
            "limits": self.limits,
        }


@attrs.frozen
class Done:
    """What became of a part: gaugings worked out, and sentences on those that were left out."""

    worked_out: int
    refused: tuple[str, ...]


def begin(run: Run) -> None:
    """Make the folder of a run, or see that it is one of the same run.

    InputRefused, with what was found there, if it is of another run or of something else.
    """
    begin_folder(run.out, json.loads(json.dumps(run.as_document())))


def parts_left(run: Run) -> list[int]:
    """Return the numbers of the parts that are not done."""
    return [part for part in range(run.parts) if not run.file(run.last_table, part).exists()]


def run_here(run: Run, told: Callable[[int], object] = lambda gaugings: None) -> Iterator[Done]:
    """Work out all parts that are left, one after the other; yield what became of each.

    `told` is told how many gaugings are behind.
    """
    rows = Rows(run.inputs)
    for part in parts_left(run):
        yield work_part(run, part, rows)
        told(min((part + 1) * run.part, run.gaugings))


def work_part(run: Run, part: int, rows: Rows | None = None) -> Done:
    """Work out one part and write its tables."""
    rows = Rows(run.inputs) if rows is None else rows
    start = part * run.part
    table = rows.take(start, min(start + run.part, run.gaugings))
    made, refused = tables_of(run, table, start)
    left_out = refused_table(refused, rows)
    if refused:
        made = {REFUSED: left_out, **made}
    for name in sorted(made, key=lambda name: name == run.last_table):
        _write_whole(
            run.file(name, part),
            partial(_write_table, made[name]),
        )
    return Done(len(table) - len(refused), sentences(left_out))


def _write_table(content: pa.Table, path: Path) -> None:
    pq.write_table(content, path, compression="zstd", compression_level=1)


def _write_whole(path: Path, write: Callable[[Path], object]) -> None:
    """Write a file that has its name only once it is whole, also where two write it at once."""
    path.parent.mkdir(parents=True, exist_ok=True)
    unfinished = path.with_name(f".{path.name}.{os.getpid()}")
    write(unfinished)
    unfinished.replace(path)
