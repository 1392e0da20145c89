"""List what the built app is made of, and tell the service worker: see `files_contract.ts`."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any

from engine_files import EnginePlace, package_version

TYPES = {
    ".css": "text/css",
    ".html": "text/html",
    ".ico": "image/vnd.microsoft.icon",
    ".js": "text/javascript",
    ".json": "application/json",
    ".mjs": "text/javascript",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".txt": "text/plain",
    ".wasm": "application/wasm",
    ".webmanifest": "application/manifest+json",
    ".woff2": "font/woff2",
    ".zip": "application/zip",
}

WORKER = "sw.js"
LIST = "files.json"
_DIGITS = 12


class ListTrouble(Exception):
    """The app cannot be listed; the text is one sentence for people."""


def list_files(folder: Path, place: EnginePlace) -> str:
    """Write `files.json`, put the list in front of `sw.js`, and return the app's version.

    Raises ListTrouble if a file is of a kind whose media type is not known.
    """
    shell: list[dict[str, Any]] = []
    engine: list[dict[str, Any]] = []
    for path in sorted(path for path in folder.rglob("*") if path.is_file()):
        name = path.relative_to(folder).as_posix()
        if name not in {WORKER, LIST}:
            (engine if name.startswith("engine/") else shell).append(_entry(path, name))
    worker = (folder / WORKER).read_text(encoding="utf-8")
    whole = hashlib.sha256(worker.encode())
    for entry in shell:
        whole.update(f"{entry['path']} {entry['sha256']}\n".encode())
    files = {
        "format": "bankside.files/1",
        "version": f"{package_version()}+{whole.hexdigest()[:_DIGITS]}",
        "engine_place": place._asdict(),
        "shell": shell,
        "engine": engine,
    }
    stamped = f"self.FILES = {json.dumps(files, separators=(',', ':'))};\n{worker}"
    (folder / WORKER).write_text(stamped, encoding="utf-8", newline="\n")
    listed = json.dumps(files, indent=1) + "\n"
    (folder / LIST).write_text(listed, encoding="utf-8", newline="\n")
    return str(files["version"])


def _entry(path: Path, name: str) -> dict[str, Any]:
    if path.suffix not in TYPES:
        raise ListTrouble(
            f"{name} is of a kind whose media type is not known; TYPES in {Path(__file__).name} "
            "has to name it."
        )
    content = path.read_bytes()
    return {
        "path": name,
        "bytes": len(content),
        "sha256": hashlib.sha256(content).hexdigest(),
        "type": TYPES[path.suffix],
    }
