"""A broken input, what must be said about it, and the check that nothing else happens."""

from collections.abc import Callable
from pathlib import Path

import attrs
import pytest

from bankside.cli import main

__all__ = ["HEADS", "SOUND", "Case", "check", "parametrized", "run", "table"]

HEADS = "tape (m);depth (m);velocity (m/s)"
SOUND = (HEADS, "0;0;", "1;0.30;0.20", "2;0.50;0.40", "3;0.30;0.20", "4;0;")

Write = Callable[[Path], object]


@attrs.frozen
class Case:
    """A file, how it is handed over, and the fragments of the sentence that must be said.

    says: fragments that stand together in one line; also: the same for each further fault.
    options: arguments after the file, in which {folder} is the folder of the file.
    computing: whether the readings are sound and only computing is refused.
    placed: whether the sentence is about the file, and so begins with its name.
    """

    name: str
    content: str | bytes | Write
    says: tuple[str, ...]
    also: tuple[tuple[str, ...], ...] = ()
    file: str = "flow.csv"
    options: tuple[str, ...] = ()
    computing: bool = False
    placed: bool = True

    def write(self, folder: Path) -> Path:
        """Put the file into a folder and return its path."""
        path = folder / self.file
        if isinstance(self.content, str):
            path.write_text(self.content, encoding="utf-8", newline="")
        elif isinstance(self.content, bytes):
            path.write_bytes(self.content)
        else:
            self.content(path)
        return path


def table(*rows: str, heads: str = HEADS) -> str:
    """A text file of heads and rows; the heads are row 1."""
    return "\n".join((heads, *rows)) + "\n"


def parametrized(cases: list[Case]) -> pytest.MarkDecorator:
    """Run a test once for each case, under the case's name."""
    return pytest.mark.parametrize("case", [pytest.param(case, id=case.name) for case in cases])


def run(capsys: pytest.CaptureFixture[str], *arguments: object) -> tuple[int, str, list[str]]:
    """Return the exit code, what was printed, and the lines that were said on stderr."""
    capsys.readouterr()
    code = main([str(argument) for argument in arguments])
    captured = capsys.readouterr()
    assert "Traceback" not in captured.err
    return code, captured.out, captured.err.splitlines()


def check(case: Case, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Hold that the case is refused by every command that reads it, in the same sentences."""
    path = case.write(folder)
    options = [option.format(folder=folder) for option in case.options]
    commands = [["compute", path, *options], ["compute", path, "--json", *options]]
    if not case.computing:
        output = folder / "written.csv"
        commands.append(["convert", path, "--to", "csv", "--output", output, *options])
    before = sorted(folder.iterdir())
    for command in commands:
        code, out, lines = run(capsys, *command)
        said = "\n".join(lines)
        assert (code, out) == (2, ""), said
        for fragments in (case.says, *case.also):
            whole = [line for line in lines if all(part in line for part in fragments)]
            assert whole, f"no sentence with {fragments} in:\n{said}"
        if case.placed:
            assert all(line.startswith(case.file) for line in lines), said
        assert len(lines) == 1 + len(case.also), said
        assert sorted(folder.iterdir()) == before
