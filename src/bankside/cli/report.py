"""`bankside report`: a measurement note for every gauging as PDF or HTML, or its picture alone."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter

from bankside.cli.inputs import Computed, SheetOptions, compute_all, load, require_usable
from bankside.cli.output import make_folder, require_free, suffix_faults, write_file
from bankside.cli.progress import tracked
from bankside.cli.rules_used import rules_for
from bankside.gauging.compute import EdgeRule, Method
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.reconcile_words import explain
from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.load import load_rule_set
from bankside.gauging.share_limits import limits_of
from bankside.note.facts import day_of
from bankside.note.map_point import map_point
from bankside.note.material import NoteMaterial, gather
from bankside.note.section_drawing import section_drawing
from bankside.report.canvas import PictureForm
from bankside.report.note_documents import make_note, note_html, note_pdf, usual_paper
from bankside.report.section_figure import draw_section
from bankside.report.typst_document import Paper
from bankside.report.workbook import gauging_workbook
from bankside.sheets.answers import save_answers

__all__ = ["report_command"]

Form = Literal["pdf", "html", "xlsx", "svg", "png"]

_LONGEST_NAME = 80


def report_command(
    files: list[Path],
    /,
    *,
    output: Annotated[Path | None, Parameter(name=("--output", "-o"))] = None,
    output_folder: Path | None = None,
    html: Annotated[bool, Parameter(show_default=False)] = False,
    workbook: Annotated[bool, Parameter(show_default=False)] = False,
    figure: PictureForm | None = None,
    paper: Paper | None = None,
    rules: str | None = None,
    method: Method = "mid-section",
    edges: EdgeRule = "half-width",
    unfinished: Annotated[bool, Parameter(show_default=False)] = False,
    replace: Annotated[bool, Parameter(show_default=False)] = False,
    keep_going: Annotated[bool, Parameter(show_default=False)] = False,
    options: SheetOptions = SheetOptions(),  # noqa: B008 - frozen
) -> None:
    """Write a measurement note, a workbook or a figure for every gauging in the given files.

    Parameters
    ----------
    files
        Sheets (CSV, XLSX, XLS, ODS), gaugings in our JSON form, journals of the app, or open
        formats: Data Package, GeoPackage, Parquet, WaterML.
    output
        The file to write, for one gauging.
    output_folder
        The folder for several, each named by stream, site and date, made if it is not there; the
        current folder if nothing is said.
    html
        Write a page for a browser instead of a PDF, in one file.
    workbook
        Write a workbook instead: the readings, and every figure as a live formula to follow.
    figure
        Write the picture of the section alone.
    paper
        a4 or letter; if nothing is said, letter for readings in feet and a4 for metres.
    rules
        The rule set of the checks: a name of `bankside rules list`, or a TOML file of your own. The
        one that the record names if nothing is said, else common-practice.
    method
        mid-section: a panel around every vertical; mean-section: a panel between verticals.
    edges
        How wide the panel beside a bank is, for mid-section.
    unfinished
        The crew is still in the water: say only what can be said so far, and say that.
    replace
        Write over files that are there already.
    keep_going
        Write what can be computed although some gaugings are refused; they are still listed.
    """
    form = _form(html, workbook, figure)
    if rules is not None:
        load_rule_set(rules)  # what is wrong with it is said before anything is read
    answers = options.to_answers()
    sources, computed = compute_all(load(files, answers), method, edges)
    require_usable(sources, len(computed), keep_going)
    if options.keep_answers is not None:
        save_answers(answers, options.keep_answers)
    targets = _targets(computed, form, output, output_folder)
    if not replace:
        require_free(targets)
    for folder in {target.parent for target in targets}:
        make_folder(folder)
    pairs = list(zip(computed, targets, strict=True))
    for one, target in tracked(pairs, "writing"):
        material = _material(one, computed, rules, not unfinished)
        write_file(target, replace, _writer(_document(material, form, paper)))
        print(target)


def _writer(document: bytes) -> Callable[[Path], object]:
    return lambda path: path.write_bytes(document)


def _form(html: bool, workbook: bool, figure: PictureForm | None) -> Form:
    asked: dict[str, Form] = {}
    if html:
        asked["--html"] = "html"
    if workbook:
        asked["--workbook"] = "xlsx"
    if figure is not None:
        asked["--figure"] = figure
    if len(asked) > 1:
        raise InputRefused([Fault(f"{' and '.join(asked)} were both given; one of them is right")])
    return next(iter(asked.values()), "pdf")


def _targets(
    computed: Sequence[Computed], form: Form, output: Path | None, folder: Path | None
) -> list[Path]:
    """Return the file of each gauging; InputRefused if what was said names none or no such file."""
    if output is None:
        place = folder or Path()
        if place.exists() and not place.is_dir():
            message = "is no folder; the name of a folder, there already or not, would be right"
            raise InputRefused([Fault(message, file=str(place))])
        return [place / f"{name}.{form}" for name in _names(computed)]
    if folder is not None:
        raise InputRefused([Fault("--output and --output-folder were both given; one is right")])
    if len(computed) != 1:
        raise InputRefused(
            [Fault(f"--output is for one gauging, found {len(computed)}; --output-folder is right")]
        )
    others = ", or --html, --workbook or --figure for another kind of file"
    faults = suffix_faults(output, f".{form}", others)
    if faults:
        raise InputRefused(faults)
    return [output]


def _names(computed: Sequence[Computed]) -> list[str]:
    """Return a file name for each gauging, from stream, site and date, each of them once."""
    names: list[str] = []
    taken: set[str] = set()
    for one in computed:
        stem = _stem(one.gauging)
        name, number = stem, 1
        while name.casefold() in taken:
            number += 1
            name = f"{stem}_{number}"
        taken.add(name.casefold())
        names.append(name)
    return names


def _stem(gauging: Gauging) -> str:
    """Return a file name without its suffix; names too long are shortened, the date never is."""
    day = day_of(gauging)
    date = "" if day is None else day.isoformat()
    site = gauging.site
    # No separators, no dots at the start, nothing that a system keeps for itself.
    words = re.findall(r"[\w-]+", f"{site.stream or ''} {site.name or ''}")
    name = "_".join(words)[: _LONGEST_NAME - len(f"_{date}" if date else "")]
    return "_".join(part for part in (name.rstrip("_"), date) if part) or "gauging"


def _material(
    one: Computed, every: Sequence[Computed], asked: str | None, finished: bool
) -> NoteMaterial:
    gauging, result = one.gauging, one.result
    rules, about_rules = rules_for(gauging, asked)
    points = [map_point(other.gauging) for other in every if other is not one]
    return gather(
        gauging,
        result,
        rules,
        filed=() if one.filed is None else explain(one.filed, result),
        sheet_notes=(*one.item.notes, *about_rules),
        others=tuple(point for point in points if point is not None),
        finished=finished,
    )


def _document(material: NoteMaterial, form: Form, paper: Paper | None) -> bytes:
    """Return the bytes of the file."""
    if form in ("svg", "png"):
        return draw_section(
            section_drawing(material.gauging, material.result, limits_of(material.rules)), form
        )
    if form == "xlsx":
        return gauging_workbook(
            material.gauging,
            material.result,
            material.findings,
            material.budgets,
            material.rules,
            notes=material.sheet_notes,
            finished=material.finished,
        )
    note = make_note(material)
    chosen = paper or usual_paper(material.gauging)
    return note_pdf(note, chosen) if form == "pdf" else note_html(note, chosen).encode()
