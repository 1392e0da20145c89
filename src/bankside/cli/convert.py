"""`bankside convert`: sheets to our JSON, to a tidy CSV or to a workbook."""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter

from bankside.cli.inputs import SheetOptions, load
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.records import Gauging
from bankside.gauging.wire import several_to_json
from bankside.sheets.answers import save_answers
from bankside.sheets.write import left_out, to_csv, write_xlsx

__all__ = ["convert_command"]

Form = Literal["json", "csv", "xlsx"]


def convert_command(
    files: Annotated[list[Path], Parameter(negative=())],
    /,
    *,
    to: Form,
    output: Annotated[Path | None, Parameter(name=("--output", "-o"))] = None,
    replace: Annotated[bool, Parameter(negative=())] = False,
    keep_going: Annotated[bool, Parameter(negative=())] = False,
    options: SheetOptions = SheetOptions(),  # noqa: B008 - frozen
) -> None:
    """Write the readings of all gaugings in the given files in one form, nothing worked out.

    Parameters
    ----------
    files
        Sheets (CSV, XLSX, XLS, ODS) or gaugings in our JSON form.
    to
        json keeps the whole record; csv and xlsx hold one tidy table, a row a reading.
    output
        The file to write; standard output if nothing is said (not for xlsx).
    replace
        Write over a file that is there already.
    keep_going
        Write what can be read although some gaugings are refused; they are still listed.
    """
    answers = options.to_answers()
    sources = load(files, answers)
    faults = tuple(dict.fromkeys(f for s in sources for i in s.items for f in i.faults))
    gaugings = [i.gauging for s in sources for i in s.items if i.gauging is not None]
    if faults and not (keep_going and gaugings):
        raise InputRefused(faults)
    if not gaugings:
        raise InputRefused(
            [
                Fault(f"{item.label}: {item.reason}; nothing to write", file=source.file)
                for source in sources
                for item in source.items
            ]
        )
    _write(gaugings, to, output, replace)
    if options.keep_answers is not None:
        save_answers(answers, options.keep_answers)
    for fault in faults:
        print(fault, file=sys.stderr)
    for source in sources:
        for item in source.items:
            if item.reason is not None:
                print(f"{source.file}: {item.label} is not written: {item.reason}", file=sys.stderr)
    missing = left_out(gaugings) if to != "json" else ()
    if missing:
        print(f"Only --to json holds: {', '.join(missing)}.", file=sys.stderr)


def _write(gaugings: Sequence[Gauging], to: Form, output: Path | None, replace: bool) -> None:
    if output is None:
        if to == "xlsx":
            raise InputRefused([Fault("--to xlsx needs --output FILE.xlsx")])
        sys.stdout.write(several_to_json(gaugings) if to == "json" else to_csv(gaugings))
        return
    if output.exists() and not replace:
        raise InputRefused(
            [
                Fault(
                    "is there already; another name would be right, or --replace to write over it",
                    file=str(output),
                )
            ]
        )
    if to == "xlsx":
        _whole(output, lambda path: write_xlsx(gaugings, path))
    else:
        text = several_to_json(gaugings) if to == "json" else to_csv(gaugings)
        _whole(output, lambda path: path.write_text(text, encoding="utf-8"))


def _whole(output: Path, write: Callable[[Path], object]) -> None:
    """Write a file beside its place and move it there when it is whole."""
    try:
        handle, name = tempfile.mkstemp(dir=output.parent, prefix=".bankside-", suffix=".part")
    except OSError as error:
        raise InputRefused(
            [
                Fault(
                    f"cannot be written: {error.strerror}; a folder open to writing would be right",
                    file=str(output),
                )
            ]
        ) from error
    os.close(handle)
    part = Path(name)
    try:
        write(part)
        part.chmod(0o644)
        part.replace(output)
    finally:
        part.unlink(missing_ok=True)
