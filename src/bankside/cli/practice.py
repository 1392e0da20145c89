"""`bankside practice`: practice streams, the debrief of a session, and who is ready."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Annotated

import attrs
from cyclopts import App, Parameter
from rich.console import Console

from bankside.cli.folders import files_in
from bankside.cli.output import make_folder, require_free, suffix_faults, write_file, write_utf8
from bankside.cli.render import PlainConsole, render_lines
from bankside.cli.tables import print_facts, print_part
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.json_text import parsed, written
from bankside.practice.debrief.debrief import debrief
from bankside.practice.debrief.judgement import judge
from bankside.practice.readiness.requirements import (
    Requirements,
    requirements_from_document,
    requirements_to_document,
)
from bankside.practice.readiness.standing import PersonStanding, standings_of
from bankside.practice.readiness.tries import tries_of
from bankside.practice.session.document import Practice, practice_from_document
from bankside.practice.session.practice_streams import PRACTICE_STREAMS
from bankside.report.practice.debrief_document import debrief_document
from bankside.report.practice.judgement_document import judgement_document
from bankside.report.practice.readiness_document import certificate, readiness_table
from bankside.report.survey.documents import SurveyReport, survey_html, survey_pdf
from bankside.report.typst_document import Paper

__all__ = ["practice_app"]

practice_app = App(
    name="practice",
    help="Practice streams whose discharge is known: debrief a session, and see who is ready.",
)

_Output = Annotated[Path | None, Parameter(name=("--output", "-o"))]
_Flag = Annotated[bool, Parameter(show_default=False)]


@practice_app.command(name="streams")
def streams_command() -> None:
    """List the practice streams, from easy to hard, and what each of them teaches."""
    lines = [f"{name}: {one.about}" for name, one in PRACTICE_STREAMS.items()]
    render_lines(PlainConsole(), lines)


@practice_app.command(name="debrief")
def debrief_command(
    file: Path, *, output: _Output = None, paper: Paper = "a4", replace: _Flag = False
) -> None:
    """Say how far off a practice gauging was, where that came from, and what to do better.

    Parameters
    ----------
    file
        A practice session as the app hands it over (bankside.practice/1).
    output
        A PDF or HTML file to write; without it everything is printed.
    paper
        a4 or letter.
    replace
        Write over a file that is there already.
    """
    _require_writable(output, replace)
    practice = _practice(file)
    judged = judge(practice)
    report = debrief_document(debrief(practice)) if judged is None else judgement_document(judged)
    _give(report, output, paper, replace)


@practice_app.command(name="readiness")
def readiness_command(
    *files: Path,
    requirements: Path | None = None,
    output: _Output = None,
    certificates: Path | None = None,
    html: _Flag = False,
    paper: Paper = "a4",
    replace: _Flag = False,
) -> None:
    """Say who has shown what the leader asks for, worked out anew from the sessions themselves.

    Parameters
    ----------
    files
        Practice sessions of everybody, or folders of them.
    requirements
        What is asked for, as `bankside practice requirements` writes it; five streams of three
        kinds within ± 5 % if nothing is said.
    output
        A PDF or HTML file for the table; without it the table is printed.
    certificates
        A folder for a paper of each person: a certificate, or what is still to come.
    html
        Write these papers as pages for a browser instead of PDF.
    paper
        a4 or letter.
    replace
        Write over files that are there already.
    """
    _require_writable(output, replace)
    asked = Requirements() if requirements is None else _requirements(requirements)
    others = [path for path in (requirements, output, certificates) if path is not None]
    people = standings_of(tries_of(_practices(files, others)), asked)
    papers = {}
    if certificates is not None:
        papers = dict(
            _certificates(people, asked, certificates, ".html" if html else ".pdf", paper)
        )
    if not replace:
        require_free(list(papers))
    _give(readiness_table(people, asked), output, paper, replace)
    if certificates is not None:
        make_folder(certificates)
    for path, content in papers.items():
        _write(path, content, replace)


@practice_app.command(name="requirements")
def requirements_command() -> None:
    """Print what is asked for if nothing is said, as a file to begin with and to change."""
    write_utf8(written(requirements_to_document(Requirements())))


def _practices(files: Sequence[Path], others: Sequence[Path]) -> list[Practice]:
    found = [path for path in files_in(files, others) if path.suffix.lower() == ".json"]
    if not found:
        message = "found no practice sessions; files of the form bankside.practice/1 are right"
        raise InputRefused([Fault(message)])
    practices: list[Practice] = []
    faults: list[Fault] = []
    for path in found:
        try:
            practices.append(_practice(path))
        except InputRefused as refused:
            faults += refused.faults
    if faults:
        raise InputRefused(faults)
    return practices


def _practice(path: Path) -> Practice:
    try:
        return practice_from_document(parsed(_text(path)))
    except InputRefused as error:
        raise InputRefused(attrs.evolve(fault, file=path.name) for fault in error.faults) from None


def _requirements(path: Path) -> Requirements:
    try:
        return requirements_from_document(parsed(_text(path)))
    except InputRefused as error:
        raise InputRefused(attrs.evolve(fault, file=path.name) for fault in error.faults) from None


def _text(path: Path) -> str:
    try:
        return path.read_bytes().decode("utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        why = error.strerror if isinstance(error, OSError) else "it is no UTF-8"
        raise InputRefused([Fault(f"could not be read ({why})", file=str(path))]) from None


def _certificates(
    people: Sequence[PersonStanding],
    asked: Requirements,
    folder: Path,
    suffix: str,
    paper: Paper,
) -> Iterator[tuple[Path, bytes]]:
    for number, person in enumerate(people, 1):
        name = re.sub(r"[^A-Za-z0-9]+", "-", person.person).strip("-") or "person"
        target = folder / f"{number:02}-{name}{suffix}"
        yield target, _content(certificate(person, asked), target, paper)


def _require_writable(output: Path | None, replace: bool) -> None:
    if output is None:
        return
    if output.suffix.lower() != ".html":
        faults = suffix_faults(output, ".pdf", ", or .html")
        if faults:
            raise InputRefused(faults)
    if not replace:
        require_free([output])


def _give(report: SurveyReport, output: Path | None, paper: Paper, replace: bool) -> None:
    if output is None:
        _print(PlainConsole(), report)
        return
    _write(output, _content(report, output, paper), replace)


def _content(report: SurveyReport, target: Path, paper: Paper) -> bytes:
    """Return a document as the ending of its file asks for."""
    if target.suffix.lower() == ".html":
        return survey_html(report, paper).encode()
    return survey_pdf(report, paper)


def _write(path: Path, content: bytes, replace: bool) -> None:
    write_file(path, replace, lambda target: target.write_bytes(content))
    print(path)


def _print(console: Console, report: SurveyReport) -> None:
    content = report.content
    render_lines(console, [f"{content.kind}: {content.name}", *content.warnings])
    print_facts(console, content.groups)
    for part in content.parts:
        print_part(console, part)
