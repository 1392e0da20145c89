"""The built app: where it lies, and what `files.json` says of it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path, PurePosixPath

import attrs

from bankside.gauging.faults import BanksideError

__all__ = ["INDEX", "LIST", "WORKER", "AppTrouble", "BuiltApp", "built_app", "read_app"]

INDEX = "index.html"
WORKER = "sw.js"
LIST = "files.json"

_FORMAT = "bankside.files/1"
_FOLDER = Path(__file__).parent / "static"


class AppTrouble(BanksideError):
    """The app is not there, cannot be served or cannot be written; one sentence says why."""


@attrs.frozen
class BuiltApp:
    """A folder that holds the app.

    `version` is the package's version and a hash over the page's files. `types` gives every file
    of the app, by its path relative to the folder, with the media type it has to be served with.
    """

    folder: Path
    version: str
    types: Mapping[str, str]


def built_app(folder: Path = _FOLDER) -> BuiltApp:
    """Return the app that came with this installation.

    Raises AppTrouble if it was never built: a checkout has to build it, a wheel carries it.
    """
    app = read_app(folder)
    if app is None:
        raise AppTrouble(
            "Found no built app in this checkout of Bankside; `make build` there builds it "
            "(an installed package carries it)."
        )
    return app


def read_app(folder: Path, name: str = LIST) -> BuiltApp | None:
    """Return the app that lies in a folder by the list of that name, or None if there is none.

    A list that names anything outside its folder is none of ours.
    """
    try:
        told = json.loads((folder / name).read_text(encoding="utf-8"))
        if told["format"] != _FORMAT:
            return None
        types = {entry["path"]: entry["type"] for entry in (*told["shell"], *told["engine"])}
        version = str(told["version"])
    except (OSError, ValueError, KeyError, TypeError):
        return None
    if any(PurePosixPath(path).is_absolute() or ".." in path.split("/") for path in types):
        return None
    return BuiltApp(folder, version, types | {WORKER: "text/javascript", LIST: "application/json"})
