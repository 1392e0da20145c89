"""`bankside app`: the app for the bank as files for any web host."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from bankside.server.built_app import built_app
from bankside.server.host_folder import withdraw_app, write_app

__all__ = ["app_command"]

_NEXT = (
    "Next: let a web host serve the folder over HTTPS, with application/wasm for .wasm and "
    "text/javascript for .mjs, and without long caching of index.html, sw.js and files.json; "
    "docs/deploy.md shows how."
)


def app_command(
    folder: Path,
    /,
    *,
    withdraw: Annotated[bool, Parameter(show_default=False)] = False,
) -> None:
    """Write the app for the bank as files for any web host, or withdraw it from one.

    A folder that holds an earlier version is brought up to date; files of the version that stood
    there last stay, for devices that still have its page open.

    Parameters
    ----------
    folder
        A new or empty folder, or one that this command wrote.
    withdraw
        Make devices that kept the app for offline use let go of it, at their next visit; nothing
        that was measured is touched. Writing the app again takes that back.
    """
    if withdraw:
        version = withdraw_app(folder)
        print(
            f"{folder}: the app, version {version}, is withdrawn: each device lets go of its copy "
            "when it next asks this host. What was measured stays on the devices; export it there."
        )
        return
    written = write_app(built_app(), folder)
    former = written.former
    before = "" if former is None else f" in the place of {former}; files of {former} stay"
    print(f"{folder}: the app, version {written.version}{before}.")
    print(_NEXT)
