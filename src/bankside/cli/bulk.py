"""`bankside bulk`: whole archives at once, on the command line."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from pathlib import Path
from typing import Annotated

import attrs
from cyclopts import App, Parameter

from bankside.bulk.checks import LIMITS
from bankside.bulk.cluster import connected, run_on
from bankside.bulk.compare import compare_figures, compare_findings
from bankside.bulk.figures import Uncertainty
from bankside.bulk.no_table import passed_over
from bankside.bulk.refusals import REFUSED, refusals_in
from bankside.bulk.rows import Input, inputs_of
from bankside.bulk.run import PART, Done, Run, begin, parts_left, run_here
from bankside.bulk.run_folder import finished_run
from bankside.cli.amounts import amount
from bankside.cli.bulk_tables import gather_command, simulate_command
from bankside.cli.bulk_words import check_changes, figure_changes
from bankside.cli.examples import examples
from bankside.cli.output import print_faults
from bankside.cli.progress import counted
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.rule_sets.load import load_rule_set

__all__ = ["bulk_app"]

bulk_app = App(
    name="bulk",
    help="Whole archives at once: tables of millions of gaugings through the compiled kernel.",
    help_epilogue=examples("bulk"),
)

_MOST_TOLD = 20
"""Rows that were left out and are told at once; the folder names all of them."""


@Parameter(name="*", group="How to work")
@attrs.frozen
class Working:
    """How much is held in memory at a time, and who does it."""

    part: int = PART
    """Gaugings in a part: what is held in memory, and what an interruption costs at the most."""
    workers: int | None = None
    """Work with so many processes of Dask on this machine."""
    scheduler: str | None = None
    """Work with the workers of the Dask scheduler at this address."""

    @property
    def size(self) -> int:
        """The part, if it can be one; InputRefused for options that do not go together."""
        if self.part < 1:
            raise InputRefused([Fault(f"--part must be at least 1 (got {self.part})")])
        if self.workers is not None and self.workers < 1:
            raise InputRefused([Fault(f"--workers must be at least 1 (got {self.workers})")])
        if self.workers is not None and self.scheduler is not None:
            raise InputRefused([Fault("--workers and --scheduler must not be given together")])
        return self.part


bulk_app.command(gather_command, name="gather", help_epilogue=examples("bulk gather"))
bulk_app.command(simulate_command, name="simulate", help_epilogue=examples("bulk simulate"))


@bulk_app.command(name="compute", help_epilogue=examples("bulk compute"))
def compute_command(
    table: Path,
    output: Path,
    /,
    *,
    figures_alone: Annotated[bool, Parameter(show_default=False)] = False,
    uncertainty: Uncertainty = "all",
    working: Working = Working(),
) -> int:
    """Work out discharge, section and uncertainty of every gauging of a table.

    What was interrupted is taken up where it was: the same command again does the rest.

    Parameters
    ----------
    table
        A Parquet file of gaugings, or a folder of them; docs/bulk.md says which columns.
    output
        A folder for the results, one row a gauging and one a panel.
    figures_alone
        Write no panels.
    uncertainty
        all: by every method; published: without what lies between verticals, which takes far longer
        than the rest; none: discharge and section alone.
    """
    part = working.size
    run = Run(
        "compute",
        _inputs(table),
        output.absolute(),
        panels=not figures_alone,
        uncertainty=uncertainty,
        part=part,
    )
    return _carried_out(run, working)


@bulk_app.command(name="check", help_epilogue=examples("bulk check"))
def check_command(
    table: Path,
    output: Path,
    /,
    *,
    rules: str = "common-practice",
    working: Working = Working(),
) -> int:
    """Say what is doubtful about every gauging of a table, by the checks that are arithmetic alone.

    Parameters
    ----------
    table
        A Parquet file of gaugings, or a folder of them; docs/bulk.md says which columns.
    output
        A folder for the findings, one row each.
    rules
        The rule set to go by: a name of `bankside rules list`, or a TOML file of your own.
    """
    part = working.size
    limits = load_rule_set(rules)
    run = Run(
        "check",
        _inputs(table),
        output.absolute(),
        rule_set=limits.name,
        limits={name: limits.needed(name).si for name in LIMITS},
        part=part,
    )
    return _carried_out(run, working)


@bulk_app.command(name="compare", help_epilogue=examples("bulk compare"))
def compare_command(
    before: Path,
    after: Path,
    /,
    *,
    figure: str = "discharge_m3s",
    against: str | None = None,
    most: int = 20,
) -> None:
    """Say what a change of method, rule set or version changes, the most changed first.

    Parameters
    ----------
    before
        A folder of `bulk compute`, or of `bulk check`.
    after
        The folder of another such run; the same one, to hold two of its figures against each other.
    figure
        Which figure is compared: a column of the gaugings, such as mean_section_m3s.
    against
        Which figure of `after`, if it is another.
    most
        How many gaugings are listed.
    """
    if most < 0:
        raise InputRefused([Fault(f"--most must be at least 0 (got {most})")])
    if finished_run(before) == "check":
        print(check_changes(compare_findings(before, after)))
        return
    compared = compare_figures(before, after, figure, against or figure, most)
    print(figure_changes(compared))


def _carried_out(run: Run, working: Working) -> int:
    begin(run)
    left = len(parts_left(run))
    if left < run.parts:
        print(f"{run.out}: {run.parts - left} of {run.parts} parts were there.", file=sys.stderr)
    with counted("working out", run.gaugings) as told:
        if working.scheduler is None and working.workers is None:
            return _summed_up(run, run_here(run, told))
        with connected(working.scheduler, working.workers or 1) as client:
            return _summed_up(run, run_on(client, run, told))


def _inputs(table: Path) -> tuple[Input, ...]:
    """Return the tables of a path; what lies beside them and is none is told on stderr."""
    inputs = inputs_of(table)
    beside = passed_over(table) if table.is_dir() else None
    if beside is not None:
        print_faults([beside])
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
