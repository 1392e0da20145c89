"""`bankside completion`: the command line completed by a shell as it is typed."""

from __future__ import annotations

from typing import Literal

from bankside.cli.output import write_utf8

__all__ = ["Shell", "completion_command"]

Shell = Literal["bash", "zsh", "fish"]


def completion_command(shell: Shell, /) -> None:
    """Print what a shell reads to complete commands, options and their choices at the Tab key.

    Nothing is installed or changed by this; docs/howto/install.md says where each shell looks.

    Parameters
    ----------
    shell
        The shell that reads it.
    """
    # Here, because this module is a command of that one.
    from bankside.cli import app

    write_utf8(app.generate_completion(shell=shell))
