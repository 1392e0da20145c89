"""The tutorial does what it says, from its first command to its last."""

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.docs.pages import DOCS, ROOT, Block, blocks

TUTORIAL = DOCS / "tutorial.md"
SET_UP = ("make demo", ". .venv/bin/activate")
"""What a reader sets up with; the test has a program of its own in its place."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with the sheets of the demonstration, and `bankside` beside it."""
    shutil.copytree(ROOT / "demo" / "sheets", tmp_path / "here" / "demo" / "sheets")
    program = tmp_path / "bin" / "bankside"
    program.parent.mkdir()
    program.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m bankside "$@"\n', encoding="utf-8")
    program.chmod(0o755)
    return tmp_path / "here"


def run(command: str, folder: Path) -> str:
    """Run a command as a terminal of 80 columns does; return all that it printed."""
    done = subprocess.run(
        ["bash", "-c", command],
        cwd=folder,
        env=os.environ
        | {
            "PATH": f"{folder.parent / 'bin'}:{os.environ['PATH']}",
            "PYTHONPATH": str(ROOT / "src"),
            "COLUMNS": "80",
        },
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        encoding="utf-8",
        timeout=300,
        check=False,
    )
    assert done.returncode == 0, f"{command}\n{done.stdout}"
    return "\n".join(line.rstrip() for line in done.stdout.rstrip().splitlines())


def steps(block: Block) -> Iterator[tuple[str, list[str]]]:
    """Give each command of a block with the lines that it is said to print."""
    if block.language == "sh":
        yield from ((line, ["..."]) for line in block.lines)
        return
    for part in re.split(r"^\$ ", "\n".join(block.lines), flags=re.MULTILINE)[1:]:
        command, *printed = part.splitlines()
        yield command, printed


def pattern(printed: list[str]) -> str:
    """Return what output fits lines that are quoted; `...` stands for any lines, or none."""
    lines = (r"(?:.*\n)*?" if line == "..." else re.escape(line) + r"\n" for line in printed)
    return "".join(lines)


def test_every_command_of_the_tutorial_prints_what_it_says(folder: Path) -> None:
    """Whoever follows the tutorial sees what it shows, with nothing left out unsaid."""
    done = []
    for block in blocks(TUTORIAL):
        for command, printed in steps(block):
            if command in SET_UP:
                continue
            out = run(command, folder)
            done.append(command)
            fits = re.fullmatch(pattern(printed), f"{out}\n" if out else "")
            assert fits, f"$ {command}\n{out}"

    assert len([one for one in done if one.startswith("bankside ")]) >= 10
    assert (folder / "out" / "first" / "note.pdf").read_bytes().startswith(b"%PDF")


def test_the_tutorial_sets_up_as_the_readme_says() -> None:
    """What the test does not run is what sets Bankside up, in the README's own words."""
    said = [line for block in blocks(TUTORIAL) if block.language == "sh" for line in block.lines]

    assert [line for line in SET_UP if line not in said] == []
    assert "make demo" in (ROOT / "README.md").read_text(encoding="utf-8")


def test_the_first_program_in_python_runs(folder: Path) -> None:
    """The program with which the page on Python begins does what is said of it."""
    program = next(block for block in blocks(DOCS / "python.md") if block.language == "python")
    shutil.copy(folder / "demo" / "sheets" / "quill_brook.xlsx", folder / "sheet.xlsx")
    (folder / "first.py").write_text("\n".join(program.lines), encoding="utf-8")

    out = run(f'"{sys.executable}" first.py', folder)
    assert "Quill Brook" in out
    assert re.search(r"^(explain|note) ", out, re.MULTILINE)
