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
    Group,
    MissingArgumentError,
    Parameter,
    UnusedCliTokensError,
)

from bankside.cli.examples import examples
from bankside.cli.output import print_faults
from bankside.gauging.faults import BanksideError, InputRefused

__all__ = ["COMMANDS", "app", "main"]

app = App(
    name="bankside",
    help="From a crew's sheet to a discharge that stands up: plan the verticals, read sheets as "
    "they are, compute panel by panel, say what is doubtful and how far the figure can be trusted, "
    "and print what people sign.",
    help_epilogue=examples(""),
    version=lambda: version("bankside"),
    suppress_keyboard_interrupt=False,
    default_parameter=Parameter(negative=()),
)

COMMANDS = {
    "plan": "Lay out verticals between two edges of water, and say how long they take.",
    "sheet": "Write a blank field sheet as a PDF, to be printed on waterproof paper.",
    "compute": "Compute the discharge of every gauging in the given files.",
    "check": "Say what is doubtful about every gauging in the given files, and what to do about "
    "it.",
    "report": "Write a measurement note, a workbook or a figure for every gauging in the given "
    "files.",
    "convert": "Write the readings of all gaugings in the given files in one form, nothing worked "
    "out.",
    "survey": "Many gaugings together: the report of a season's or a project's survey, and crews "
    "compared.",
    "archive": "The store of an office: make one, take in sheets and journals, list, verify, "
    "export, back up.",
    "bulk": "Whole archives at once: tables of millions of gaugings through the compiled kernel.",
    "serve": "Serve the app for the bank on this machine, or an archive with it, also to others.",
    "app": "Write the app for the bank as files for any web host, or withdraw it from one.",
    "people": "Who may sign in to an archive that is served: add, list, remove, another password.",
    "devices": "Which devices may send readings to an archive that is served: a code to pair one, "
    "list, revoke.",
    "rules": "The thresholds that checks go by: list the rule sets that are shipped, show one, "
    "compare several, or start your own.",
    "practice": "Practice streams whose discharge is known: debrief a session, and see who is "
    "ready.",
    "completion": "Print what bash, zsh or fish reads to complete commands and options at the Tab "
    "key.",
}
"""Command → what it does, as its own help begins; in the order in which they are met."""

# Each group begins with its first command.
_GROUPS = {
    "plan": "One gauging, from the bank to the note",
    "survey": "Many gaugings",
    "serve": "The app, and who uses it",
    "rules": "Rules, practice, the shell",
}

# `app` is a name of this module already.
_TARGETS = {
    "rules": "rules:rules_app",
    "app": "app_files:app_command",
    "archive": "archive:archive_app",
    "bulk": "bulk:bulk_app",
    "devices": "devices:devices_app",
    "people": "people:people_app",
    "practice": "practice:practice_app",
    "survey": "survey:survey_app",
}


def _register() -> None:
    """Name every command to the command line.

    By name: a command is loaded when it is called, so that none waits for what another needs.
    """
    group = None
    for place, (name, about) in enumerate(COMMANDS.items()):
        if name in _GROUPS:
            group = Group(_GROUPS[name], sort_key=place)
        target = _TARGETS.get(name, f"{name}:{name}_command")
        # Those that have commands of their own say their examples themselves.
        shown = {} if target.endswith("_app") else {"help_epilogue": examples(name)}
        app.command(
            f"bankside.cli.{target}", name=name, help=about, group=group, sort_key=place, **shown
        )
    about_itself = Group("Bankside itself", sort_key=len(COMMANDS))
    for flag in ("--help", "--version"):
        app[flag].group = about_itself


_register()


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
