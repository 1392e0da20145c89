"""`bankside survey`: many gaugings together: the report of a survey, and crews compared."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Annotated

from cyclopts import App, Parameter, validators

from bankside.cli.examples import examples
from bankside.cli.folders import files_in
from bankside.cli.inputs import SheetOptions
from bankside.cli.output import make_folder, require_free, suffix_faults, write_file
from bankside.cli.survey_crews import crews_command
from bankside.cli.survey_material import from_archive, from_files, survey_in
from bankside.gauging.faults import InputRefused
from bankside.gauging.rule_sets.load import load_rule_set
from bankside.report.survey.data_comparisons import survey_tables
from bankside.report.survey.documents import (
    make_survey_report,
    survey_html,
    survey_paper,
    survey_pdf,
)
from bankside.report.survey.map_content import MapBy
from bankside.report.survey.material import SurveyMaterial
from bankside.report.survey.table_files import table_files
from bankside.report.typst_document import Paper
from bankside.sheets.answers import save_answers

__all__ = ["survey_app"]

survey_app = App(
    name="survey",
    help="Many gaugings together: the report of a season's or a project's survey, and crews "
    "compared.",
    help_epilogue=examples("survey"),
)
survey_app.command(crews_command, name="crews", help_epilogue=examples("survey crews"))


@survey_app.command(name="report", help_epilogue=examples("survey report"))
def report_command(
    *files: Path,
    survey: str,
    archive: str | None = None,
    output: Annotated[Path | None, Parameter(name=("--output", "-o"))] = None,
    html: Annotated[bool, Parameter(show_default=False)] = False,
    tables: Path | None = None,
    positions: Path | None = None,
    paper: Paper | None = None,
    rules: str | None = None,
    map_by: Annotated[MapBy, Parameter(name="--map")] = "discharge",
    window_days: Annotated[int | None, Parameter(validator=validators.Number(gte=0))] = None,
    replace: Annotated[bool, Parameter(show_default=False)] = False,
    keep_going: Annotated[bool, Parameter(show_default=False)] = False,
    options: SheetOptions = SheetOptions(),  # noqa: B008 - frozen
) -> None:
    """Write the report of a survey: summary, map, sections, duplicates, balances, every note.

    Parameters
    ----------
    files
        Sheets, records and journals, or folders of them; a folder is read with all that is in it.
    survey
        The file of the survey, with its streams, sites and balances; with --archive the id of one.
    archive
        The archive that holds the survey and its gaugings, in the place of files; figures that were
        filed stand as they were.
    output
        The file to write; named by the survey's id if nothing is said.
    html
        Write a page for a browser instead of a PDF, in one file.
    tables
        A folder for the tables as well: a CSV file each, and all of them in one XLSX workbook.
    positions
        A GPX or GeoJSON file with the way points of a receiver: sites and gaugings without a
        position get that of the point with their label.
    paper
        a4 or letter; if nothing is said, letter where most readings are in feet, else a4.
    rules
        The rule set of the checks: a name of `bankside rules list`, or a TOML file of your own. The
        one that the survey names if nothing is said, else those that the records name.
    map_by
        What the marks on the map are as large as: discharge, or unit-discharge.
    window_days
        How many days apart gaugings may be to be held together in balances and comparisons; as many
        as the survey says if nothing is said.
    replace
        Write over a file that is there already.
    keep_going
        Write the report although some gaugings are refused; it lists them.
    """
    wanted = None if rules is None else load_rule_set(rules)
    answers = options.to_answers()
    ending = ".html" if html else ".pdf"
    if archive is not None:
        target = _target(output, survey, ending, replace)
        material = from_archive(archive, survey, files, positions, wanted, window_days)
    else:
        record = survey_in(Path(survey))
        target = _target(output, record.id, ending, replace)
        others = [path for path in (Path(survey), positions, tables) if path is not None]
        material = from_files(
            *(record, files_in(files, others), positions, answers, wanted, window_days),
            keep_going=keep_going,
        )
    if options.keep_answers is not None:
        save_answers(answers, options.keep_answers)
    documents = {target: _document(material, map_by, html, paper)}
    if tables is not None:
        day = max((v.day for v in material.examined.visits if v.day is not None), default=None)
        found = table_files(survey_tables(material), day)
        documents |= {tables / name: content for name, content in found.items()}
    _write(documents, tables, replace)


def _document(material: SurveyMaterial, map_by: MapBy, html: bool, paper: Paper | None) -> bytes:
    report = make_survey_report(material, map_by)
    chosen = paper or survey_paper(material)
    return survey_html(report, chosen).encode() if html else survey_pdf(report, chosen)


def _write(documents: Mapping[Path, bytes], folder: Path | None, replace: bool) -> None:
    """Write all files, or none where one of them is there already."""
    if not replace:
        require_free(list(documents))
    if folder is not None:
        make_folder(folder)
    for path, content in documents.items():
        write_file(path, replace, _writer(content))
        print(path)


def _writer(document: bytes) -> Callable[[Path], object]:
    return lambda path: path.write_bytes(document)


def _target(output: Path | None, survey: str, suffix: str, replace: bool) -> Path:
    """Return the file to write; InputRefused, before the work, where it is not to be written."""
    if output is None:
        output = Path(f"{survey}{suffix}")
    faults = suffix_faults(output, suffix, ", or --html for a page" if suffix == ".pdf" else "")
    if faults:
        raise InputRefused(faults)
    if not replace:
        require_free([output])
    return output
