"""`bankside practice`: practice streams, debriefs, who is ready, and practice in an archive."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import App, Parameter

from bankside.cli.examples import examples
from bankside.cli.output import write_utf8
from bankside.cli.practice_archive import export_command, keep_command, list_command
from bankside.cli.practice_files import give, practice_in, require_writable
from bankside.cli.practice_readiness import readiness_command
from bankside.cli.render import PlainConsole, render_lines
from bankside.gauging.json_text import written
from bankside.practice.debrief.debrief import debrief
from bankside.practice.debrief.judgement import judge
from bankside.practice.readiness.requirements import Requirements, requirements_to_document
from bankside.practice.session.practice_streams import PRACTICE_STREAMS
from bankside.report.practice.debrief_document import debrief_document
from bankside.report.practice.judgement_document import judgement_document
from bankside.report.typst_document import Paper

__all__ = ["practice_app"]

practice_app = App(
    name="practice",
    help="Practice streams whose discharge is known: debrief a session, see who is ready, and keep "
    "both in an archive, apart from every gauging of real water.",
    help_epilogue=examples("practice"),
)
practice_app.command(
    readiness_command, name="readiness", help_epilogue=examples("practice readiness")
)
practice_app.command(keep_command, name="keep", help_epilogue=examples("practice keep"))
practice_app.command(list_command, name="list", help_epilogue=examples("practice list"))
practice_app.command(export_command, name="export", help_epilogue=examples("practice export"))

_Output = Annotated[Path | None, Parameter(name=("--output", "-o"))]
_Flag = Annotated[bool, Parameter(show_default=False)]


@practice_app.command(name="streams", help_epilogue=examples("practice streams"))
def streams_command() -> None:
    """List the practice streams, from easy to hard, and what each of them teaches."""
    lines = [f"{name}: {one.about}" for name, one in PRACTICE_STREAMS.items()]
    render_lines(PlainConsole(), lines)


@practice_app.command(name="debrief", help_epilogue=examples("practice debrief"))
def debrief_command(
    file: Path, /, *, output: _Output = None, paper: Paper = "a4", replace: _Flag = False
) -> None:
    """Say how far off a practice gauging was, where that came from, and what to do better.

    Parameters
    ----------
    file
        A practice session: a JSON file that the app writes in Practice, by "Save as a file for the
        leader" under Debrief.
    output
        A PDF or HTML file to write; without it everything is printed.
    paper
        a4 or letter.
    replace
        Write over a file that is there already.
    """
    require_writable(output, replace)
    practice = practice_in(file)
    judged = judge(practice)
    report = debrief_document(debrief(practice)) if judged is None else judgement_document(judged)
    give(report, output, paper, replace)


@practice_app.command(name="requirements", help_epilogue=examples("practice requirements"))
def requirements_command() -> None:
    """Print what is asked for if nothing is said, as a file to begin with and to change."""
    write_utf8(written(requirements_to_document(Requirements())))
