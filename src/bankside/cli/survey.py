"""`bankside survey`: many gaugings together; so far, the report of a survey."""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Annotated

import attrs
from cyclopts import App, Parameter, validators

from bankside.cli.folders import files_in
from bankside.cli.inputs import SheetOptions, Source, load, require_usable
from bankside.cli.open_formats import points_in
from bankside.cli.output import make_folder, require_free, suffix_faults, write_file
from bankside.cli.survey_tables import table_files
from bankside.exchange.named_points import matched
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.rule_sets.load import load_rule_set
from bankside.intake.read import read_file
from bankside.intake.source import SurveyFile
from bankside.report.survey.data_comparisons import survey_tables
from bankside.report.survey.documents import (
    make_survey_report,
    survey_html,
    survey_paper,
    survey_pdf,
)
from bankside.report.survey.map_content import MapBy
from bankside.report.survey.material import Handed, LeftOut, SurveyMaterial, gather_survey
from bankside.report.typst_document import Paper
from bankside.sheets.answers import Answers, save_answers
from bankside.survey.records import Survey

__all__ = ["survey_app"]

survey_app = App(
    name="survey",
    help="Many gaugings together: the report of a season's or a project's survey.",
)


@survey_app.command(name="report")
def report_command(
    files: list[Path],
    /,
    *,
    survey: Path,
    output: Annotated[Path | None, Parameter(name=("--output", "-o"))] = None,
    html: Annotated[bool, Parameter(show_default=False)] = False,
    tables: Path | None = None,
    positions: Path | None = None,
    paper: Paper | None = None,
    rules: str | None = None,
    map_by: Annotated[MapBy, Parameter(name="--map")] = "discharge",
    window_days: Annotated[int, Parameter(validator=validators.Number(gte=0))] = 0,
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
        The file of the survey, with its streams, sites and balances.
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
        How many days apart gaugings may be to be held together in balances and comparisons.
    replace
        Write over a file that is there already.
    keep_going
        Write the report although some gaugings are refused; it lists them.
    """
    if rules is not None:
        load_rule_set(rules)  # what is wrong with it is said before anything is read
    answers = options.to_answers()
    record = _survey(survey)
    target = _target(output, record, ".html" if html else ".pdf")
    if not replace:
        require_free([target])  # before the work, which takes its time
    others = [path for path in (survey, positions, tables) if path is not None]
    sources = load(files_in(files, others), answers)
    handed = _handed(sources, keep_going)
    if positions is not None:
        record, handed = _placed(record, handed, positions)
    material = gather_survey(
        record,
        handed,
        rules=None if rules is None else load_rule_set(rules),
        left_out=_left_out(sources),
        window_days=window_days,
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


def _survey(path: Path) -> Survey:
    """Return the survey in a file; InputRefused if there is none."""
    found = read_file(path, Answers())
    if isinstance(found, SurveyFile):
        return found.survey
    faults = [f for item in getattr(found, "items", ()) for f in item.faults]
    message = 'found no survey; a file of the format "bankside.survey/1" would be right'
    raise InputRefused(faults or [Fault(message, file=found.file)])


def _target(output: Path | None, survey: Survey, suffix: str) -> Path:
    if output is None:
        return Path(f"{survey.id}{suffix}")
    faults = suffix_faults(output, suffix, ", or --html for a page" if suffix == ".pdf" else "")
    if faults:
        raise InputRefused(faults)
    return output


def _handed(sources: Sequence[Source], keep_going: bool) -> list[Handed]:
    """Return the gaugings of all files; InputRefused where some are refused, as a run goes."""
    handed = [
        Handed(item.gauging, source.file, item.notes, item.finished)
        for source in sources
        for item in source.items
        if item.gauging is not None
    ]
    require_usable(sources, len(handed), keep_going, "write")
    return handed


def _left_out(sources: Sequence[Source]) -> list[LeftOut]:
    """Return what gives no gauging, with the reasons; the report names it."""
    return [
        LeftOut(source.file, item.label, tuple(map(str, item.faults)) or (item.reason or "",))
        for source in sources
        for item in source.items
        if item.gauging is None
    ]


def _placed(
    survey: Survey, handed: Sequence[Handed], positions: Path
) -> tuple[Survey, list[Handed]]:
    """Return a survey and gaugings with the positions of a receiver; notes go to stderr."""
    points, said = points_in(positions)
    placed = matched(points, [one.gauging for one in handed], survey)
    for sentence in (*said, *placed.notes):
        print(sentence, file=sys.stderr)
    pairs = zip(handed, placed.gaugings, strict=True)
    return placed.survey or survey, [attrs.evolve(one, gauging=g) for one, g in pairs]
