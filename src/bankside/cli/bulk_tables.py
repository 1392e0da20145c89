"""`bankside bulk gather` and `simulate`: tables of gaugings, for the other commands to work on."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from bankside.bulk.gather import gather
from bankside.bulk.simulated import simulate
from bankside.cli.amounts import amount
from bankside.cli.bulk_records import rows_of_archive, rows_of_files
from bankside.cli.inputs import SheetOptions
from bankside.cli.output import print_faults, suffix_faults, write_file
from bankside.gauging.faults import Fault, InputRefused

__all__ = ["gather_command", "simulate_command"]


def gather_command(
    files: list[Path] | None = None,
    /,
    *,
    output: Annotated[Path, Parameter(name=("--output", "-o"))],
    archive: str | None = None,
    replace: Annotated[bool, Parameter(show_default=False)] = False,
    options: SheetOptions = SheetOptions(),  # noqa: B008 - frozen
) -> int:
    """Write gaugings as one table, stations worked out, ready for the other commands.

    Parameters
    ----------
    files
        Sheets, records, journals or open formats, as `bankside compute` reads them.
    output
        The Parquet file to write.
    archive
        An archive, of which every gauging is taken, as its readings stand now.
    replace
        Write over a file that is there already.
    """
    if (archive is None) == (not files):
        raise InputRefused([Fault("files or --archive must be given, one of them")])
    _require_parquet(output)
    refused: list[Fault] = []
    rows = (
        rows_of_files(files or [], options.to_answers(), refused)
        if archive is None
        else rows_of_archive(archive, refused)
    )
    count = 0

    def write(path: Path) -> None:
        nonlocal count
        count = gather(rows, path)
        if not count:
            nothing = Fault("nothing was written, as no gauging was found", file=str(output))
            raise InputRefused([*refused, nothing])

    write_file(output, replace, write)
    print(f"{output}: {amount(count, 'gauging')}.")
    print_faults(refused)
    return 2 if refused else 0


def simulate_command(
    gaugings: int,
    /,
    *,
    output: Annotated[Path, Parameter(name=("--output", "-o"))],
    seed: int = 1,
    replace: Annotated[bool, Parameter(show_default=False)] = False,
) -> None:
    """Write a table of made-up gaugings, to try the other commands on.

    Parameters
    ----------
    gaugings
        How many.
    output
        The Parquet file to write.
    seed
        The same seed gives the same gaugings.
    replace
        Write over a file that is there already.
    """
    if gaugings < 1:
        raise InputRefused([Fault(f"gaugings must be at least 1 (got {gaugings})")])
    _require_parquet(output)
    write_file(output, replace, lambda path: simulate(gaugings, path, seed))
    print(f"{output}: {amount(gaugings, 'gauging')}.")


def _require_parquet(output: Path) -> None:
    faults = suffix_faults(output, ".parquet")
    if faults:
        raise InputRefused(faults)
