"""The command line, a command a module."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from importlib.metadata import version
from io import TextIOWrapper

from cyclopts import (
    App,
    CycloptsError,
    MissingArgumentError,
    Parameter,
    UnusedCliTokensError,
)

from bankside.cli.check import check_command
from bankside.cli.compute import compute_command
from bankside.cli.convert import convert_command
from bankside.cli.output import print_faults
from bankside.cli.plan import plan_command
from bankside.cli.report import report_command
from bankside.cli.rules import rules_app
from bankside.cli.sheet import sheet_command
from bankside.gauging.faults import BanksideError, InputRefused

__all__ = ["app", "main"]

app = App(
    name="bankside",
    help="From a crew's sheet to a discharge that stands up: plan the verticals, read sheets as "
    "they are, compute panel by panel, and explain the totals that were filed.",
    version=lambda: version("bankside"),
    suppress_keyboard_interrupt=False,
    default_parameter=Parameter(negative=()),
)
app.command(plan_command, name="plan")
app.command(sheet_command, name="sheet")
app.command(compute_command, name="compute")
app.command(check_command, name="check")
app.command(convert_command, name="convert")
app.command(report_command, name="report")
app.command(rules_app)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line; return 0 when done, 2 when the input was not understood.

    1 means that a command was asked to be strict and found what it was to look for.

    Every refusal is one sentence on stderr for each thing that is wrong, never a traceback. 74
    means that the output could not be written; 70 means a fault of this program itself (set
    BANKSIDE_TRACEBACK to see where it arose).
    """
    # A terminal that cannot show a sign such as ³ gets it spelled out instead of an error.
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")
    try:
        code = app(arguments, exit_on_error=False, print_error=False, result_action="return_value")
        sys.stdout.flush()
    except InputRefused as refused:
        print_faults(refused.faults)
        return 2
    except CycloptsError as error:
        print(_sentence(error), file=sys.stderr)
        return 2
    except BanksideError as error:
        print(" ".join(str(error).split()), file=sys.stderr)
        return 2
    except BrokenPipeError:
        # The reader of our output (a pager, `head`) has gone; there is nobody left to tell.
        _leave_stdout()
        return 0
    except OSError as error:
        # Every file is read and written under a guard of its own: what is left is stdout.
        print(f"The output could not be written: {error.strerror or error}.", file=sys.stderr)
        _leave_stdout()
        return 74
    except KeyboardInterrupt:
        return 130
    except Exception as error:  # the last line of defence against a traceback at the bank
        if os.environ.get("BANKSIDE_TRACEBACK"):
            raise
        print(
            f"This is a fault in Bankside, not in your file ({type(error).__name__}: {error}); "
            "nothing was written. Please report it with the file.",
            file=sys.stderr,
        )
        return 70
    return code if isinstance(code, int) else 0


def _sentence(error: CycloptsError) -> str:
    """Return one line about a command that was typed wrongly."""
    if isinstance(error, UnusedCliTokensError) and error.unused_tokens:
        return f'Found "{error.unused_tokens[0]}" after the last argument; nothing more is right.'
    if isinstance(error, MissingArgumentError) and error.argument is not None:
        command = " ".join(("bankside", *(error.command_chain or ())))
        name = error.keyword or error.argument.name
        return f"{name} is missing or has no value; {command} --help shows what is needed."
    return " ".join(str(error).split())


def _leave_stdout() -> None:
    """Point stdout nowhere, so that nothing is tried again when the program ends."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
