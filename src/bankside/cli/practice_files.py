"""Files of practice: sessions and what a leader asks for, read; documents, printed or written."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Final

import attrs
from rich.console import Console

from bankside.cli.folders import Sought, files_in
from bankside.cli.output import require_free, suffix_faults, write_file
from bankside.cli.render import PlainConsole, render_lines
from bankside.cli.tables import print_facts, print_part
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.json_text import parsed
from bankside.practice.readiness.requirements import Requirements, requirements_from_document
from bankside.practice.session.document import WANTED, Practice, practice_from_bytes
from bankside.report.survey.documents import SurveyReport, survey_html, survey_pdf
from bankside.report.typst_document import Paper

__all__ = [
    "content_of",
    "give",
    "one_for_all",
    "practice_in",
    "practices_in",
    "require_writable",
    "requirements_in",
    "session_bytes",
    "session_files",
    "write_document",
]

_SESSIONS: Final = Sought(frozenset({".json"}), "only practice sessions are read", WANTED)


def session_files(files: Sequence[Path], but: Sequence[Path] = ()) -> list[Path]:
    """Return the files that are named, and those in folders that may hold practice sessions.

    InputRefused where there are none.
    """
    found = files_in(files, but, _SESSIONS)
    if not found:
        raise InputRefused([Fault(f"found no files; {WANTED}")])
    return found


def practices_in(files: Sequence[Path], but: Sequence[Path]) -> list[Practice]:
    """Return the practice sessions in files and folders; InputRefused for what is none.

    Where there is no session at all, one sentence says so.
    """
    found = session_files(files, but)
    practices: list[Practice] = []
    faults: list[Fault] = []
    for path in found:
        try:
            practices.append(practice_in(path))
        except InputRefused as refused:
            faults += refused.faults
    if faults:
        raise InputRefused(faults if practices else one_for_all(len(found), faults))
    return practices


def one_for_all(files: int, faults: Sequence[Fault]) -> list[Fault]:
    """Return what is wrong with files that hold no session, as one sentence if none says to."""
    if files > 1 and all(fault.path in (None, "format") for fault in faults):
        return [Fault(f"found no practice session in {files} files; {WANTED}")]
    return list(faults)


def practice_in(path: Path) -> Practice:
    """Return the practice session in a file; InputRefused with its name where it holds none."""
    content = session_bytes(path)
    try:
        return practice_from_bytes(content)
    except InputRefused as refused:
        raise InputRefused(attrs.evolve(one, file=path.name) for one in refused.faults) from None


def session_bytes(path: Path) -> bytes:
    """Return what is in a file that may hold a session; InputRefused where it cannot."""
    if path.suffix.lower() != ".json" and path.is_file():
        ending = f" that ends in {path.suffix.lower()}" if path.suffix else " without an ending"
        raise InputRefused([Fault(f"found a file{ending}; {WANTED}", file=path.name)])
    return _bytes(path)


def requirements_in(path: Path | None) -> Requirements:
    """Return what a leader asks for, the usual where nothing is said; InputRefused with faults."""
    if path is None:
        return Requirements()
    content = _bytes(path)
    try:
        return requirements_from_document(parsed(content.decode("utf-8-sig")))
    except UnicodeDecodeError:
        why = "could not be read (it is no UTF-8)"
        raise InputRefused([Fault(why, file=str(path))]) from None
    except InputRefused as refused:
        raise InputRefused(attrs.evolve(one, file=path.name) for one in refused.faults) from None


def require_writable(output: Path | None, replace: bool) -> None:
    """Refuse, before the work, a name under which no document can be written."""
    if output is None:
        return
    if output.suffix.lower() != ".html":
        faults = suffix_faults(output, ".pdf", ", or .html")
        if faults:
            raise InputRefused(faults)
    if not replace:
        require_free([output])


def give(report: SurveyReport, output: Path | None, paper: Paper, replace: bool) -> None:
    """Write a document, or print what stands in it."""
    if output is None:
        _print(PlainConsole(), report)
        return
    write_document(output, content_of(report, output, paper), replace)


def content_of(report: SurveyReport, target: Path, paper: Paper) -> bytes:
    """Return a document as the ending of its file asks for."""
    if target.suffix.lower() == ".html":
        return survey_html(report, paper).encode()
    return survey_pdf(report, paper)


def write_document(path: Path, content: bytes, replace: bool) -> None:
    """Write a file and say where."""
    write_file(path, replace, lambda target: target.write_bytes(content))
    print(path)


def _bytes(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        why = f"could not be read ({error.strerror or error})"
        raise InputRefused([Fault(why, file=str(path))]) from None


def _print(console: Console, report: SurveyReport) -> None:
    content = report.content
    render_lines(console, [f"{content.kind}: {content.name}", *content.warnings])
    print_facts(console, content.groups)
    for part in content.parts:
        print_part(console, part)
