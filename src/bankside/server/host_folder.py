"""Write the app as files for a web host, over an earlier one if need be, or withdraw it.

A device that opened the app before an update may still ask for files of the version it has, so
those stay for one more version. Files that the app does not know are never touched.
"""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import attrs

from bankside.server.built_app import INDEX, LIST, WORKER, AppTrouble, BuiltApp, read_app

__all__ = ["Written", "withdraw_app", "write_app"]

_FORMER_LIST = "files.former.json"
_WITHDRAWING_WORKER = Path(__file__).with_name("withdrawing_worker.js")
_LAST = (INDEX, LIST, WORKER)
"""Written last and in this order: whoever is told of a version finds all its files."""


@attrs.frozen
class Written:
    """What was done: the version written, the one that stood there (if any), files taken away."""

    version: str
    former: str | None
    removed: int


def write_app(app: BuiltApp, folder: Path) -> Written:
    """Write the app's files into a folder, new, empty or holding an earlier version of the app.

    Each file appears whole or not at all. Raises AppTrouble if the folder holds anything else, or
    cannot be written to.
    """
    earlier = _earlier_app(folder)
    # Writing a version again mends it, and makes nothing outdated.
    former = earlier if earlier is not None and earlier.version != app.version else None
    removed = 0
    try:
        folder.mkdir(parents=True, exist_ok=True)
        if former is not None:
            removed = _remove_outdated(app, former)
            _place(folder / LIST, folder / _FORMER_LIST)
        for path in (*(path for path in app.types if path not in _LAST), *_LAST):
            _place(app.folder / path, folder / path)
    except OSError as error:
        raise _unwritable(folder, error) from error
    return Written(app.version, None if former is None else former.version, removed)


def withdraw_app(folder: Path) -> str:
    """Put in the place of the service worker one that removes itself and its copies of the files.

    What was measured stays on the devices: it is kept elsewhere, and the worker does not touch it.
    Return the version that is withdrawn. Raises AppTrouble if the folder does not hold the app.
    """
    app = read_app(folder)
    if app is None:
        raise AppTrouble(
            f"{folder} holds no app that could be withdrawn; the folder that `bankside app` wrote "
            "would be right."
        )
    try:
        _place(_WITHDRAWING_WORKER, folder / WORKER)
    except OSError as error:
        raise _unwritable(folder, error) from error
    return app.version


def _earlier_app(folder: Path) -> BuiltApp | None:
    """Return the app in a folder; None where there is nothing yet."""
    if not folder.exists() or (folder.is_dir() and not any(folder.iterdir())):
        return None
    app = read_app(folder) if folder.is_dir() else None
    if app is None:
        raise AppTrouble(
            f"{folder} is there already and holds no earlier app; a new or empty folder would be "
            "right, or one that `bankside app` has written."
        )
    return app


def _remove_outdated(app: BuiltApp, former: BuiltApp) -> int:
    """Remove what only the version before the former one needed; return how many files."""
    folder = former.folder
    before = read_app(folder, _FORMER_LIST)
    outdated = set() if before is None else set(before.types) - set(former.types) - set(app.types)
    files = [folder / path for path in sorted(outdated) if (folder / path).is_file()]
    for file in files:
        file.unlink()
        if not any(file.parent.iterdir()):
            file.parent.rmdir()
    return len(files)


def _place(source: Path, target: Path) -> None:
    """Copy a file to its place, where it appears whole."""
    target.parent.mkdir(parents=True, exist_ok=True)
    part = target.with_name(f".{target.name}.part")
    try:
        shutil.copyfile(source, part)
        os.replace(part, target)
    finally:
        part.unlink(missing_ok=True)


def _unwritable(folder: Path, error: OSError) -> AppTrouble:
    place = error.filename or folder
    return AppTrouble(
        f"{place} cannot be written ({error.strerror or error}); a folder open to writing is right."
    )
