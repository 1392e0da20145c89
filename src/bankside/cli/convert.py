"""`bankside convert`: sheets to our JSON, to a tidy CSV or to a workbook."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Annotated, Literal, get_args

from cyclopts import Parameter

from bankside.cli.inputs import SheetOptions, load, require_usable
from bankside.cli.output import write_file, write_utf8
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.records import Gauging
from bankside.gauging.wire import several_to_json
from bankside.sheets.answers import save_answers
from bankside.sheets.write import left_out, to_csv, write_xlsx

__all__ = ["convert_command"]

Form = Literal["json", "csv", "xlsx"]


def convert_command(
    files: list[Path],
    /,
    *,
    to: Form,
    output: Annotated[Path | None, Parameter(name=("--output", "-o"))] = None,
    replace: Annotated[bool, Parameter(show_default=False)] = False,
    keep_going: Annotated[bool, Parameter(show_default=False)] = False,
    options: SheetOptions = SheetOptions(),  # noqa: B008 - frozen
) -> None:
    """Write the readings of all gaugings in the given files in one form, nothing worked out.

    Parameters
    ----------
    files
        Sheets (CSV, XLSX, XLS, ODS), gaugings in our JSON form or journals of the app.
    to
        json keeps the whole record; csv and xlsx hold one tidy table, a row a reading.
    output
        The file to write; standard output if nothing is said (not for xlsx).
    replace
        Write over a file that is there already.
    keep_going
        Write what can be read although some gaugings are refused; they are still listed.
    """
    _require_suffix(to, output)
    answers = options.to_answers()
    sources = load(files, answers)
    gaugings = [i.gauging for s in sources for i in s.items if i.gauging is not None]
    require_usable(sources, len(gaugings), keep_going, "write")
    if options.keep_answers is not None:
        save_answers(answers, options.keep_answers)
    _write(gaugings, to, output, replace)
    for source in sources:
        for item in source.items:
            if item.reason is not None:
                print(f"{source.file}: {item.label} is not written: {item.reason}", file=sys.stderr)
            for note in item.notes:
                print(f"{source.file}, {item.label}: {note}", file=sys.stderr)
        for note in source.notes:
            print(f"{source.file}: {note}", file=sys.stderr)
    missing = left_out(gaugings) if to != "json" else ()
    if missing:
        print(f"Only --to json holds: {', '.join(missing)}.", file=sys.stderr)


def _require_suffix(to: Form, output: Path | None) -> None:
    """Refuse a name that says another form than the one to be written."""
    named = "" if output is None else output.suffix.lower().removeprefix(".")
    if named != to and named in get_args(Form):
        message = (
            f"found this name for a {to.upper()} file; one that ends in .{to} would be right, or "
            f"--to {named}"
        )
        raise InputRefused([Fault(message, file=str(output))])


def _write(gaugings: Sequence[Gauging], to: Form, output: Path | None, replace: bool) -> None:
    if to == "xlsx":
        if output is None:
            raise InputRefused([Fault("--to xlsx needs --output FILE.xlsx")])
        write_file(output, replace, lambda path: write_xlsx(gaugings, path))
        return
    text = several_to_json(gaugings) if to == "json" else to_csv(gaugings)
    if output is None:
        write_utf8(text)
    else:
        write_file(output, replace, lambda path: path.write_bytes(text.encode("utf-8")))
