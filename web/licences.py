"""Add what the engine is made of to `licences.txt`, in which the bundler names the page's parts."""

from __future__ import annotations

from importlib.metadata import distribution
from pathlib import Path

from engine_files import LIBRARIES, ROOT, interpreter_version

NAME = "licences.txt"

_INTERPRETER = """
## pyodide - {version} (MPL-2.0)

The Python interpreter for browsers, unchanged. Its source: https://github.com/pyodide/pyodide.
The licence: https://www.mozilla.org/MPL/2.0/. It holds CPython (PSF-2.0: the text stands below,
with typing_extensions), compiled to WebAssembly.
"""


def add_licences(folder: Path) -> None:
    """Append Bankside, the interpreter and the engine's libraries to the list in `folder`."""
    parts = [(folder / NAME).read_text(encoding="utf-8")]
    parts.append("\n## bankside (Apache-2.0)\n\n" + (ROOT / "LICENSE").read_text(encoding="utf-8"))
    parts.append(_INTERPRETER.format(version=interpreter_version()))
    for library in LIBRARIES:
        known = distribution(library)
        told = known.metadata
        licence = told["License-Expression"] or told["License"]
        parts.append(f"\n## {library} - {known.version} ({licence})\n\n")
        parts += [
            file.read_text(encoding="utf-8")
            for file in known.files or []
            if file.name.startswith(("LICEN", "COPYING"))
        ]
    (folder / NAME).write_text("".join(parts), encoding="utf-8", newline="\n")
