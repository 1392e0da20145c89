"""`bankside convert`: whatever holds gaugings to our JSON, to a table, or to an open format."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Annotated, Literal, get_args

from cyclopts import Parameter

from bankside.cli.inputs import SheetOptions, load, require_usable
from bankside.cli.open_formats import points_in, survey_given, write_open_format
from bankside.cli.output import write_file, write_utf8
from bankside.exchange.data import survey_data
from bankside.exchange.named_points import matched
from bankside.exchange.write import OPEN_FORMS
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.records import Gauging
from bankside.gauging.wire import several_to_json
from bankside.intake.source import Source
from bankside.sheets.answers import save_answers
from bankside.sheets.write import left_out, to_csv, write_xlsx
from bankside.survey.records import Survey

__all__ = ["convert_command"]

Form = Literal[
    "json", "csv", "xlsx", "datapackage", "geopackage", "parquet", "geojson", "gpx", "waterml"
]

_OF_GAUGINGS = ("json", "csv", "xlsx")
_SUFFIXES: dict[str, str] = {form: f".{form}" for form in _OF_GAUGINGS}
_SUFFIXES |= {form: kind.suffix for form, kind in OPEN_FORMS.items()}
_NAMES: dict[str, str] = {form: f"a {form.upper()} file" for form in _OF_GAUGINGS}
_NAMES |= {form: kind.title for form, kind in OPEN_FORMS.items()}


def convert_command(
    files: list[Path],
    /,
    *,
    to: Form | None = None,
    output: Annotated[Path | None, Parameter(name=("--output", "-o"))] = None,
    survey: Path | None = None,
    positions: Path | None = None,
    replace: Annotated[bool, Parameter(show_default=False)] = False,
    keep_going: Annotated[bool, Parameter(show_default=False)] = False,
    options: SheetOptions = SheetOptions(),  # noqa: B008 - frozen
) -> None:
    """Write the readings of all gaugings in the given files in one form.

    Parameters
    ----------
    files
        Sheets (CSV, XLSX, XLS, ODS), gaugings in our JSON form, journals of the app, or open
        formats: Data Package, GeoPackage, Parquet, WaterML.
    to
        The form; if nothing is said, the one that the name of the output ends in.
        json keeps the whole record; csv and xlsx hold one tidy table, a row a reading. The open
        formats: datapackage, geopackage and parquet hold all of it in tables, with what is worked
        out beside it; geojson and gpx hold the places of sites and gaugings;
        waterml (2.0 part 2) holds stage, discharge and the readings of the verticals.
    output
        The file to write, or for datapackage and parquet the folder; standard output if nothing is
        said, for forms that are text.
    survey
        The survey that lists sites and streams, as JSON: the open formats hold it too.
    positions
        Points with names, as GPX or GeoJSON: a gauging or site without a position gets that of the
        point that bears its label.
    replace
        Write over what is there already.
    keep_going
        Write what can be read although some gaugings are refused; they are still listed.
    """
    to = _form(to, output)
    answers = options.to_answers()
    sources = load(files, answers)
    gaugings = [i.gauging for s in sources for i in s.items if i.gauging is not None]
    require_usable(sources, len(gaugings), keep_going, "write")
    if options.keep_answers is not None:
        save_answers(answers, options.keep_answers)
    known = survey_given(sources, survey)
    said: tuple[str, ...] = ()
    if positions is not None:
        points, said = points_in(positions)
        placed = matched(points, gaugings, known)
        gaugings, known = list(placed.gaugings), placed.survey
        said += placed.notes
    left: tuple[str, ...] = ()
    if to == "json" or to == "csv" or to == "xlsx":
        _write(gaugings, to, output, replace)
    else:
        left = write_open_format(survey_data(known, gaugings), to, output, replace)
    _tell(sources, (*said, *_left(gaugings, known, to), *left))


def _tell(sources: Sequence[Source], left: Sequence[str]) -> None:
    """Say on stderr what was not written, and all that was noted on the way."""
    for source in sources:
        for item in source.items:
            if item.reason is not None:
                print(f"{source.file}: {item.label} is not written: {item.reason}", file=sys.stderr)
            for note in item.notes:
                print(f"{source.file}, {item.label}: {note}", file=sys.stderr)
        for note in source.notes:
            print(f"{source.file}: {note}", file=sys.stderr)
    for sentence in left:
        print(sentence, file=sys.stderr)


def _left(gaugings: Sequence[Gauging], known: Survey | None, to: Form) -> Iterator[str]:
    """Yield what the form leaves behind."""
    missing = left_out(gaugings) if to in ("csv", "xlsx") else ()
    if missing:
        yield f"Only --to json holds: {', '.join(missing)}."
    if known is not None and to in _OF_GAUGINGS:
        yield f"The survey {known.id} is not in it: --to {to} holds gaugings alone."


def _form(to: Form | None, output: Path | None) -> Form:
    """Return the form asked for, or else the one that the output's name ends in.

    InputRefused for a name that says another form, and for one that says none.
    """
    named = "" if output is None else output.suffix.lower()
    others: list[Form] = [form for form in get_args(Form) if _SUFFIXES[form] == named]
    if to is None:
        if len(others) == 1:
            return others[0]
        raise InputRefused([_no_form(output, others)])
    must = to == "geopackage" and output is not None
    if (others and to not in others) or (must and named != _SUFFIXES[to]):
        hint = f", or --to {others[0]}" if others else ""
        message = (
            f"found this name for {_NAMES[to]}; one that ends in {_SUFFIXES[to]} would be right"
        )
        raise InputRefused([Fault(f"{message}{hint}", file=str(output))])
    return to


def _no_form(output: Path | None, others: Sequence[Form]) -> Fault:
    """Return that a name may be several forms, or says none, and what would settle it."""
    choices = " or ".join(f"--to {form}" for form in others) or f"--to {', '.join(_SUFFIXES)}"
    if output is None:
        message = f"no form is named; {choices}, or --output with a name that ends like one"
        return Fault(f"{message} (such as out.json), would be right")
    says = "may be several forms" if others else "names no form"
    return Fault(f"found this name, which {says}; {choices} would be right", file=str(output))


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
