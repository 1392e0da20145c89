"""`bankside bulk`: whole archives at once, on the command line."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import attrs
from cyclopts import App, Parameter

from bankside.bulk.asked import PART, Uncertainty
from bankside.bulk.compare import compare_figures, compare_findings
from bankside.bulk.run_folder import finished_run
from bankside.cli.bulk_tables import gather_command, simulate_command
from bankside.cli.bulk_words import check_changes, figure_changes
from bankside.cli.examples import examples
from bankside.gauging.faults import Fault, InputRefused

__all__ = ["bulk_app"]

bulk_app = App(
    name="bulk",
    help="Whole archives at once: tables of millions of gaugings through the compiled kernel.",
    help_epilogue=examples("bulk"),
)


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
    # Here, because a plain install has no compiler: its help and its completion do without.
    from bankside.cli.bulk_runs import carried_out, computing

    run = computing(table, output, not figures_alone, uncertainty, part)
    return carried_out(run, working.workers, working.scheduler)


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
    from bankside.cli.bulk_runs import carried_out, checking

    return carried_out(checking(table, output, rules, part), working.workers, working.scheduler)


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
