"""The runs of `bankside bulk`, with the compiler: loaded where one begins, and not before."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from pathlib import Path

from bankside.bulk.asked import Uncertainty
from bankside.bulk.checks import LIMITS
from bankside.bulk.cluster import connected, run_on
from bankside.bulk.no_table import passed_over
from bankside.bulk.refusals import REFUSED, refusals_in
from bankside.bulk.repeated_ids import repeated_ids
from bankside.bulk.rows import Input, inputs_of
from bankside.bulk.run import Done, Run, begin, parts_left, run_here
from bankside.cli.amounts import amount
from bankside.cli.output import print_faults
from bankside.cli.progress import counted
from bankside.gauging.rule_sets.load import load_rule_set

__all__ = ["carried_out", "checking", "computing"]

_MOST_TOLD = 20
"""Rows that were left out and are told at once; the folder names all of them."""


def computing(table: Path, output: Path, panels: bool, uncertainty: Uncertainty, part: int) -> Run:
    """Return the run that works out the figures of a table."""
    return Run(
        "compute",
        _inputs(table),
        output.absolute(),
        panels=panels,
        uncertainty=uncertainty,
        part=part,
    )


def checking(table: Path, output: Path, rules: str, part: int) -> Run:
    """Return the run that checks a table by a rule set."""
    limits = load_rule_set(rules)
    return Run(
        "check",
        _inputs(table),
        output.absolute(),
        rule_set=limits.name,
        limits={name: limits.needed(name).si for name in LIMITS},
        part=part,
    )


def carried_out(run: Run, workers: int | None, scheduler: str | None) -> int:
    """Carry a run out, here or by workers, and say what became of it.

    Returns 2 where rows were left out, else 0.
    """
    begin(run)
    left = len(parts_left(run))
    if left < run.parts:
        print(f"{run.out}: {run.parts - left} of {run.parts} parts were there.", file=sys.stderr)
    with counted("working out", run.gaugings) as told:
        if scheduler is None and workers is None:
            return _summed_up(run, run_here(run, told))
        with connected(scheduler, workers or 1) as client:
            return _summed_up(run, run_on(client, run, told))


def _inputs(table: Path) -> tuple[Input, ...]:
    """Return the tables of a path.

    What lies beside them and is none, and ids on several rows, are told on stderr.
    """
    inputs = inputs_of(table)
    beside = passed_over(table) if table.is_dir() else None
    print_faults([fault for fault in (beside, repeated_ids(inputs)) if fault is not None])
    return inputs


def _summed_up(run: Run, done: Iterable[Done]) -> int:
    """Say how many there are, and on stderr which were left out; return 2 where some were.

    Also what was worked out and left out before, where a run is taken up or asked for again.
    """
    now = sum(one.worked_out for one in done)
    refused = refusals_in(run.out, _MOST_TOLD)
    there = run.gaugings - refused.count
    of_these = "" if now == there else f", {now or 'none'} worked out now"
    print(f"{run.out}: {amount(there, 'gauging')}{of_these}.")
    for sentence in refused.first:
        print(sentence, file=sys.stderr)
    if refused.count > _MOST_TOLD:
        more = f"... and {refused.count - _MOST_TOLD} more; {run.out / REFUSED} names all."
        print(more, file=sys.stderr)
    return 2 if refused.count else 0
