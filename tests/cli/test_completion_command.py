"""`bankside completion`: a shell completes what is typed."""

import re
import shlex
import subprocess
from pathlib import Path

import pytest

from bankside.cli import COMMANDS, main
from bankside.cli.examples import EXAMPLES

ASKED = """
source "$1"; shift
complete -p bankside >/dev/null || exit 3
COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); COMP_LINE="$*"; COMP_POINT=${#COMP_LINE}; COMPREPLY=()
_bankside
printf '%s\\n' "${COMPREPLY[@]}"
"""


@pytest.fixture(scope="module")
def script(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The script for bash, as somebody keeps it."""
    file = tmp_path_factory.mktemp("bash") / "bankside.bash"
    with pytest.MonkeyPatch.context() as patch, file.open("w", encoding="utf-8") as kept:
        patch.setattr("sys.stdout", kept)
        assert main(["completion", "bash"]) == 0
    return file


def completed(script: Path, line: str, folder: Path) -> list[str]:
    """Return what bash offers at the end of a line; a blank at the end begins another word."""
    words = [*shlex.split(line), *([""] if line.endswith(" ") else [])]
    command = ["bash", "--norc", "-c", ASKED, "bash", str(script), *words]
    done = subprocess.run(
        command, capture_output=True, text=True, check=True, timeout=30, cwd=folder
    )
    assert done.stderr == ""
    return done.stdout.split()


@pytest.mark.parametrize(
    ("line", "offered"),
    [
        ("bankside com", {"compute", "completion"}),
        ("bankside archive ba", {"backup"}),
        ("bankside compute --me", {"--method"}),
        ("bankside compute --method m", {"mid-section", "mean-section"}),
        ("bankside convert alder.csv --to geo", {"geojson", "geopackage"}),
        ("bankside completion ", {"bash", "zsh", "fish"}),
        ("bankside check al", {"alder.csv"}),
        ("bankside measure", set()),
    ],
)
def test_bash_completes(script: Path, line: str, offered: set[str], tmp_path: Path) -> None:
    """Commands, options, their choices and files are offered where each is right."""
    (tmp_path / "alder.csv").write_text("", encoding="utf-8")

    assert set(completed(script, line, tmp_path)) == offered


def test_bash_offers_every_command(script: Path, tmp_path: Path) -> None:
    """A newcomer who presses Tab after the program's name sees all of it."""
    assert set(COMMANDS) <= set(completed(script, "bankside ", tmp_path))


@pytest.mark.parametrize(("shell", "begins"), [("zsh", "#compdef bankside"), ("fish", "#")])
def test_the_other_shells_have_theirs(
    shell: str, begins: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Scripts for zsh and fish are printed too, and name every command."""
    assert main(["completion", shell]) == 0
    out = capsys.readouterr().out

    assert out.startswith(begins)
    assert [name for name in COMMANDS if name not in out] == []


def test_zsh_finds_the_function_in_the_file_that_is_told(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Zsh calls the function by the name of its file, so the one that is told must be its name."""
    assert main(["completion", "zsh"]) == 0
    function = re.search(r"^(\w+)\(\) \{$", capsys.readouterr().out, re.MULTILINE)
    told = [line for _, line in EXAMPLES["completion"] if "zsh" in line]

    assert function is not None
    assert told == [f"completion zsh > ~/.zfunc/{function[1]}"]


def test_another_shell_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    """A shell that has no completion gets one sentence that names those that have."""
    assert main(["completion", "csh"]) == 2

    err = capsys.readouterr().err
    assert err.count("\n") == 1
    assert all(shell in err for shell in ("bash", "zsh", "fish"))
