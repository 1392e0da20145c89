"""The command line as a whole: its exit codes, and one sentence for whatever goes wrong."""

import os
import subprocess
import sys
from collections.abc import Iterator
from importlib.metadata import version
from pathlib import Path

import pytest

from bankside.cli import COMMANDS, app, main
from bankside.gauging.faults import BanksideError, Fault, InputRefused

SHEET = "tape (m),depth (m),velocity (m/s)\n0,0,0\n1,0.5,0.4\n2,0.6,0.5\n3,0,0\n"


@pytest.fixture
def failing(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[BaseException]]:
    """The command line with one more command, `fail`, that raises what stands in the list."""
    errors: list[BaseException] = []

    def fail() -> None:
        raise errors[0]

    app.command(fail, name="fail")
    monkeypatch.delenv("BANKSIDE_TRACEBACK", raising=False)
    yield errors
    del app["fail"]


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    """A sheet that can be computed."""
    file = tmp_path / "alder.csv"
    file.write_text(SHEET, encoding="utf-8")
    return file


def command_line(*arguments: str) -> list[str]:
    """The command line as a program of its own."""
    return [sys.executable, "-m", "bankside", *arguments]


def test_the_version_is_the_one_installed(capsys: pytest.CaptureFixture[str]) -> None:
    """`--version` prints the version and nothing else."""
    assert main(["--version"]) == 0
    out, err = capsys.readouterr()

    assert out.strip() == version("bankside")
    assert err == ""


@pytest.mark.parametrize("arguments", [["--help"], ["-h"], []])
def test_help_names_every_command(capsys: pytest.CaptureFixture[str], arguments: list[str]) -> None:
    """Whoever asks for help, or for nothing, is shown what there is."""
    assert main(arguments) == 0
    out, err = capsys.readouterr()

    assert all(name in out for name in ("plan", "compute", "convert"))
    assert err == ""


@pytest.mark.parametrize("name", ["plan", "compute", "convert"])
def test_every_command_has_help(capsys: pytest.CaptureFixture[str], name: str) -> None:
    """The help of a command says how it is called."""
    assert main([name, "--help"]) == 0

    assert f"Usage: bankside {name}" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "line"),
    [
        (["measure"], 'Unknown command "measure".'),
        (["plan", "0", "5", "--wide"], "Unknown option: --wide."),
        (["compute"], "FILES is missing or has no value; bankside compute --help shows what is "),
        (["compute", "nowhere.csv"], "nowhere.csv: found no such file"),
    ],
)
def test_what_is_not_understood_is_one_line(
    capsys: pytest.CaptureFixture[str], arguments: list[str], line: str
) -> None:
    """Exit code 2, one line on stderr that says what was wrong, nothing on stdout."""
    assert main(arguments) == 2
    out, err = capsys.readouterr()

    assert len(err.splitlines()) == 1
    assert err.startswith(line)
    assert out == ""


def test_a_command_that_does_its_work_returns_0(
    capsys: pytest.CaptureFixture[str], sheet: Path
) -> None:
    """A sheet that can be computed leaves nothing on stderr."""
    assert main(["compute", str(sheet)]) == 0
    out, err = capsys.readouterr()

    assert "Discharge" in out
    assert err == ""


def test_every_fault_is_a_line(
    capsys: pytest.CaptureFixture[str], failing: list[BaseException]
) -> None:
    """All that is wrong with an input is told at once."""
    failing.append(InputRefused([Fault("found no tape"), Fault("found no depth", file="a.csv")]))

    assert main(["fail"]) == 2
    assert capsys.readouterr().err.splitlines() == ["found no tape", "a.csv: found no depth"]


def test_a_flood_of_faults_is_cut_short(
    capsys: pytest.CaptureFixture[str], failing: list[BaseException]
) -> None:
    """Fifty faults show what kind of file it is; the others are counted."""
    failing.append(InputRefused([Fault(f"fault {n}") for n in range(1, 54)]))

    assert main(["fail"]) == 2
    lines = capsys.readouterr().err.splitlines()
    assert lines[49:] == ["fault 50", "... and 3 more."]


def test_an_error_of_ours_is_one_line(
    capsys: pytest.CaptureFixture[str], failing: list[BaseException]
) -> None:
    """A message that runs over several lines is put on one."""
    failing.append(BanksideError("the archive\n  is full"))

    assert main(["fail"]) == 2
    assert capsys.readouterr().err == "the archive is full\n"


def test_a_fault_of_the_program_is_told_as_such(
    capsys: pytest.CaptureFixture[str], failing: list[BaseException]
) -> None:
    """Exit code 70 and one sentence, without a traceback: nobody at the bank can use one."""
    failing.append(RuntimeError("no such panel"))

    assert main(["fail"]) == 70
    out, err = capsys.readouterr()
    assert out == ""
    assert len(err.splitlines()) == 1
    assert err.startswith(
        "This is a fault in Bankside, not in your file (RuntimeError: no such panel)"
    )


def test_the_traceback_is_there_for_whoever_asks(
    failing: list[BaseException], monkeypatch: pytest.MonkeyPatch
) -> None:
    """With BANKSIDE_TRACEBACK set the error comes through as it is."""
    monkeypatch.setenv("BANKSIDE_TRACEBACK", "1")
    failing.append(RuntimeError("no such panel"))

    with pytest.raises(RuntimeError, match="no such panel"):
        main(["fail"])


def test_an_interrupt_ends_quietly(
    capsys: pytest.CaptureFixture[str], failing: list[BaseException]
) -> None:
    """Ctrl-C is no fault: 130, as a shell expects, and not a word."""
    failing.append(KeyboardInterrupt())

    try:
        code: object = main(["fail"])
    except SystemExit as ended:
        code = ended.code
    assert code == 130
    assert capsys.readouterr().err == ""


def test_the_package_runs_as_a_module(sheet: Path) -> None:
    """`python -m bankside` is the command line, exit codes included."""
    done = subprocess.run(
        command_line("compute", str(sheet)), capture_output=True, text=True, timeout=60
    )
    refused = subprocess.run(command_line("measure"), capture_output=True, text=True, timeout=60)

    assert (done.returncode, done.stderr) == (0, "")
    assert "Discharge" in done.stdout
    assert (refused.returncode, refused.stdout) == (2, "")


@pytest.mark.skipif(os.name != "posix", reason="a pipe closed by its reader is tried on POSIX")
@pytest.mark.parametrize("rows", [4, 5000], ids=["short", "longer than a pipe holds"])
def test_a_reader_that_goes_away_is_no_fault(tmp_path: Path, rows: int) -> None:
    """`bankside compute … | head -1` ends quietly, however much is left to print."""
    file = tmp_path / "alder.csv"
    lines = "".join(f"{n},{0 if n in (0, rows - 1) else 0.5},0.4\n" for n in range(rows))
    file.write_text(f"tape (m),depth (m),velocity (m/s)\n{lines}", encoding="utf-8")
    with subprocess.Popen(
        command_line("compute", "--json", str(file)),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as run:
        assert run.stdout is not None
        assert run.stderr is not None
        first = run.stdout.readline()
        run.stdout.close()
        told = run.stderr.read()
        code = run.wait(timeout=60)

    assert first == "{\n"
    assert told == ""
    assert code == 0


@pytest.mark.skipif(os.name != "posix", reason="a pipe closed by its reader is tried on POSIX")
def test_a_table_cut_off_by_its_reader_says_nothing(sheet: Path) -> None:
    """Tables for people end as quietly as JSON does."""
    read, write = os.pipe()
    os.close(read)
    try:
        run = subprocess.run(
            command_line("compute", str(sheet)),
            stdout=write,
            stderr=subprocess.PIPE,
            text=True,
            timeout=60,
        )
    finally:
        os.close(write)

    assert run.stderr == ""


@pytest.mark.parametrize("command", COMMANDS)
def test_the_list_of_commands_says_what_each_says_of_itself(
    command: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """A command is loaded only when it is called, and its summary cannot part from its help."""
    assert main([command, "--help"]) == 0

    assert COMMANDS[command] in " ".join(capsys.readouterr().out.split())
