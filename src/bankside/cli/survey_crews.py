"""`bankside survey crews`: several crews that gauged one section on one day, held together."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter
from rich.console import Console

from bankside.cli.folders import files_in
from bankside.cli.inputs import SheetOptions, load, require_usable
from bankside.cli.output import require_free, suffix_faults, write_file
from bankside.cli.render import PlainConsole, render_lines
from bankside.cli.survey_material import from_archive
from bankside.cli.tables import print_table
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.rule_sets.choice import rules_of
from bankside.report.survey.crews_report import crew_comparisons, crews_report
from bankside.report.survey.crews_tables import groups_table, precision_words, spread_words
from bankside.report.survey.documents import survey_html, survey_pdf
from bankside.report.typst_document import Paper
from bankside.sheets.answers import Answers, save_answers
from bankside.survey.crews.comparison import CrewDay, crew_day
from bankside.survey.site_names import folded_name
from bankside.survey.visits import Visit, visit_of
from bankside.survey.words import listed, site_words

__all__ = ["crews_command"]

_NO_SITE = "a section without a name"


def crews_command(
    *files: Path,
    archive: str | None = None,
    survey: str | None = None,
    site: str | None = None,
    day: datetime.date | None = None,
    output: Annotated[Path | None, Parameter(name=("--output", "-o"))] = None,
    paper: Paper = "a4",
    replace: Annotated[bool, Parameter(show_default=False)] = False,
    options: SheetOptions = SheetOptions(),  # noqa: B008 - frozen
) -> None:
    """Compare crews that gauged one section on one day: repeatability and reproducibility.

    Parameters
    ----------
    files
        Sheets, records and journals of all crews, or folders of them.
    archive
        The archive that holds the gaugings, in the place of files; --survey names one of its
        surveys.
    survey
        The id of a survey of the archive.
    site
        The section, by its name or its id, where there are gaugings of several.
    day
        The day, such as 2026-07-14, where there are gaugings of several.
    output
        A PDF or HTML file for the report with its pictures; without it the tables are printed.
    paper
        a4 or letter.
    replace
        Write over a file that is there already.
    """
    if output is not None:
        _require_writable(output, replace)
    visits = _visits(files, archive, survey, options)
    found = _one_section(visits, site, day)
    if output is None:
        _print(PlainConsole(), found)
        return
    report = crews_report(found)
    html = output.suffix.lower() == ".html"
    content = survey_html(report, paper).encode() if html else survey_pdf(report, paper)
    write_file(output, replace, lambda path: path.write_bytes(content))
    print(output)


def _require_writable(output: Path, replace: bool) -> None:
    if output.suffix.lower() != ".html":
        faults = suffix_faults(output, ".pdf", ", or .html")
        if faults:
            raise InputRefused(faults)
    if not replace:
        require_free([output])


def _visits(
    files: Sequence[Path], archive: str | None, survey: str | None, options: SheetOptions
) -> Sequence[Visit]:
    if archive is not None:
        if survey is None:
            message = "--survey is missing; with --archive the id of one of its surveys is right"
            raise InputRefused([Fault(message)])
        material = from_archive(archive, survey, files, None, None, None)
        return material.examined.visits
    if survey is not None or not files:
        message = "found no files; sheets and journals, or --archive with --survey, would be right"
        raise InputRefused([Fault(message)])
    answers = options.to_answers()
    visits = _of_files(files, answers)
    if options.keep_answers is not None:
        save_answers(answers, options.keep_answers)
    return visits


def _of_files(files: Sequence[Path], answers: Answers) -> Sequence[Visit]:
    sources = load(files_in(files, []), answers)
    items = [item for source in sources for item in source.items if item.gauging is not None]
    require_usable(sources, len(items), False, "compare")
    return [
        visit_of(
            item.gauging,
            rules_of(item.gauging)[0],
            id_=item.gauging.id or f"gauging-{number}",
            finished=item.finished,
        )
        for number, item in enumerate(items, 1)
        if item.gauging is not None
    ]


def _one_section(visits: Sequence[Visit], site: str | None, day: datetime.date | None) -> CrewDay:
    """Return the gaugings of the section and day asked for; InputRefused where there are several.

    Names that differ by case, accents or marks alone are one.
    """
    wanted = None if site is None else folded_name(site)
    kept = [v for v in visits if wanted is None or wanted in _called(v)]
    kept = [v for v in kept if day is None or v.day == day]
    names = {folded_name(_name(visit)): _name(visit) for visit in kept}
    if len(names) > 1:
        message = f"found gaugings of {listed(list(names.values()))}; --site with one is right"
        raise InputRefused([Fault(message)])
    days = sorted({visit.day for visit in kept if visit.day is not None})
    if len(days) > 1:
        told = listed([one.isoformat() for one in days])
        raise InputRefused([Fault(f"found gaugings of {told}; --day with one of them is right")])
    return crew_day(kept, next(iter(names.values()), site or _NO_SITE))


def _called(visit: Visit) -> set[str]:
    said = visit.gauging.site
    texts = [_name(visit), said.name, said.id]
    if visit.site is not None:
        texts += [visit.site.name, visit.site.id]
    return {folded_name(text) for text in texts if text}


def _name(visit: Visit) -> str:
    if visit.site is not None:
        return site_words(visit.site)
    said = visit.gauging.site
    return ", ".join(text for text in (said.stream, said.name) if text) or _NO_SITE


def _print(console: Console, day: CrewDay) -> None:
    when = "" if day.day is None else f", {day.day.isoformat()}"
    title = f"{day.site}{when}: {len(day.visits)} gaugings"
    render_lines(console, [title, *day.remarks, ""])
    for name, compared in crew_comparisons(day):
        render_lines(console, [name])
        print_table(console, groups_table(compared))
        render_lines(console, [precision_words(compared), *spread_words(compared), ""])
