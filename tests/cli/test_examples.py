"""What the help of each command teaches."""

import shlex
from collections.abc import Iterator

import pytest
from cyclopts import App
from rich.console import Console

from bankside.cli import app, main
from bankside.cli.examples import EXAMPLES

LINES = [line for shown in EXAMPLES.values() for _, line in shown]


def commands(of: App, above: tuple[str, ...] = ()) -> Iterator[str]:
    """Every command below another, with the words before it."""
    for name in of:
        if not name.startswith("-"):
            yield " ".join((*above, name))
            yield from commands(of[name], (*above, name))


def test_every_command_has_examples() -> None:
    """Whoever asks for help sees how a command is called, and no example outlives its command."""
    assert set(EXAMPLES) == {"", *commands(app)}
    assert [name for name, shown in EXAMPLES.items() if not shown] == []


@pytest.mark.parametrize("command", EXAMPLES)
def test_the_help_of_a_command_shows_its_own_examples(
    command: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The examples below the help are those of the command, each on a line of 80 signs."""
    monkeypatch.setattr(app, "console", Console(width=80))
    assert main([*command.split(), "--help"]) == 0
    out = capsys.readouterr().out.split("Examples")[-1]

    shown = [line.strip() for line in out.splitlines() if line.startswith("bankside ")]
    assert shown == [f"bankside {line}" for _, line in EXAMPLES[command]]


@pytest.mark.parametrize("line", LINES)
def test_an_example_is_understood(line: str) -> None:
    """An example is a command line that the command takes, word for word."""
    words = shlex.split(line.partition(" > ")[0])

    app.parse_args(words, exit_on_error=False, print_error=False)


@pytest.mark.parametrize("command", [name for name in EXAMPLES if name])
def test_examples_are_of_their_command(command: str) -> None:
    """The first example below a command is of that command."""
    assert EXAMPLES[command][0][1].startswith(command)
