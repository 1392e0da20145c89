"""Pack the engine: the interpreter for browsers, and the Python files that it runs."""

from __future__ import annotations

import hashlib
import io
import json
import shutil
import tomllib
import zipfile
from collections.abc import Iterator
from importlib.metadata import PackageNotFoundError, distribution
from pathlib import Path
from typing import NamedTuple

from npm import WEB

ROOT = WEB.parent
SOURCES = ROOT / "src" / "bankside"

PARTS = ("kernel", "gauging", "note", "practice", "bank")
"""The parts of Bankside that compute on the bank: the files that the command line runs as well."""

LIBRARIES = ("attrs", "cattrs", "typing_extensions")
"""What those parts import, and what that imports in its turn."""

INTERPRETER = (
    "pyodide.mjs",
    "pyodide.asm.mjs",
    "pyodide.asm.wasm",
    "python_stdlib.zip",
    "pyodide-lock.json",
)

_PACKAGE = WEB / "node_modules" / "pyodide"
_DIGITS = 12
# The earliest moment that a zip can hold: the same files give the same bytes on every day.
_MOMENT = (1980, 1, 1, 0, 0, 0)


class EngineTrouble(Exception):
    """The engine cannot be packed; the text is one sentence for people."""


class EnginePlace(NamedTuple):
    """Where the engine lies in the app; `files_contract.ts` says what each means."""

    version: str
    pyodide: str
    python: str


def package_version() -> str:
    """Return the version of Bankside, from the one place where it is written."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    return str(project["version"])


def interpreter_version() -> str:
    """Return the version of the interpreter, as npm has installed it."""
    return str(json.loads((_PACKAGE / "package.json").read_text(encoding="utf-8"))["version"])


def pack_engine(folder: Path) -> EnginePlace:
    """Put the engine into `folder`, below `engine/`, and return where it lies.

    Raises EngineTrouble if a library or a file of the interpreter is missing.
    """
    pyodide = f"engine/pyodide-{interpreter_version()}/"
    (folder / pyodide).mkdir(parents=True)
    whole = hashlib.sha256()
    for name in INTERPRETER:
        source = _PACKAGE / name
        if not source.is_file():
            raise EngineTrouble(f"The npm package pyodide holds no {name}; its layout has changed.")
        shutil.copyfile(source, folder / pyodide / name)
        whole.update(source.read_bytes())
    packed = _zip(dict(_python_files()))
    whole.update(packed)
    python = f"engine/bankside-{hashlib.sha256(packed).hexdigest()[:_DIGITS]}.zip"
    (folder / python).write_bytes(packed)
    return EnginePlace(whole.hexdigest()[:_DIGITS], pyodide, python)


def _python_files() -> Iterator[tuple[str, bytes]]:
    """Every file that the engine imports or reads, as (name in the zip, bytes)."""
    version = package_version()
    yield "bankside/__init__.py", (SOURCES / "__init__.py").read_bytes()
    for part in PARTS:
        for path in (SOURCES / part).rglob("*"):
            if path.is_file() and path.suffix in {".py", ".toml"}:
                yield f"bankside/{path.relative_to(SOURCES).as_posix()}", path.read_bytes()
    # What importlib.metadata.version("bankside") reads.
    metadata = f"Metadata-Version: 2.1\nName: bankside\nVersion: {version}\n"
    yield f"bankside-{version}.dist-info/METADATA", metadata.encode()
    yield f"bankside-{version}.dist-info/licenses/LICENSE", (ROOT / "LICENSE").read_bytes()
    for library in LIBRARIES:
        yield from _library_files(library)


def _library_files(name: str) -> Iterator[tuple[str, bytes]]:
    """The Python files of an installed library, with its licence and what says its version."""
    try:
        files = distribution(name).files or []
    except PackageNotFoundError as error:
        raise EngineTrouble(
            f"{name} is missing from this Python environment; `pip install {name}` puts it there."
        ) from error
    for file in files:
        told = file.parts[0].endswith(".dist-info") and (
            file.name == "METADATA" or "licen" in str(file).lower()
        )
        if told or file.suffix == ".py":
            yield file.as_posix(), file.read_binary()


def _zip(files: dict[str, bytes]) -> bytes:
    """Return a zip of the files, in the order of their names, as of no particular day."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name in sorted(files):
            entry = zipfile.ZipInfo(name, _MOMENT)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.create_system = 3
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, files[name], compresslevel=9)
    return packed.getvalue()
