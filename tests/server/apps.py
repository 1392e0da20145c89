"""Small apps as the build lists them, and questions to the web application without a network."""

from __future__ import annotations

import asyncio
import json
from pathlib import Path
from typing import Any

from bankside.server.app import web_application
from bankside.server.built_app import BuiltApp, built_app

from .loops import run


def small_app(folder: Path, version: str, *shell: str) -> BuiltApp:
    """Make an app of the given files; each holds its name and the version."""
    types = {
        "html": "text/html",
        "js": "text/javascript",
        "mjs": "text/javascript",
        "txt": "text/plain",
        "wasm": "application/wasm",
    }
    for name in ("index.html", "sw.js", *shell):
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(f"{name} of {version}", encoding="utf-8")
    listed = [
        {"path": name, "type": types[name.rsplit(".", 1)[1]]} for name in ("index.html", *shell)
    ]
    told = {
        "format": "bankside.files/1",
        "version": version,
        "shell": [file for file in listed if not file["path"].startswith("engine/")],
        "engine": [file for file in listed if file["path"].startswith("engine/")],
    }
    (folder / "files.json").write_text(json.dumps(told), encoding="utf-8")
    return built_app(folder)


class Answer:
    """What came back: the status, the headers by their names in small letters, the body."""

    def __init__(self, sent: list[dict[str, Any]]) -> None:
        start = sent[0]
        self.status: int = start["status"]
        self.headers = {name.decode(): value.decode() for name, value in start["headers"]}
        self.body = b"".join(part.get("body", b"") for part in sent[1:])


def ask(app: BuiltApp, path: str, method: str = "GET", **headers: str) -> Answer:
    """Put one question to the web application of an app."""
    sent: list[dict[str, Any]] = []

    async def receive() -> dict[str, Any]:
        # There is nothing more to come, and nobody leaves: a client that waits for its answer.
        return await asyncio.Future()

    async def send(message: Any) -> None:
        sent.append(dict(message))

    scope = {
        "type": "http",
        "method": method,
        "path": path,
        "query_string": b"",
        "headers": [
            (name.replace("_", "-").encode(), value.encode()) for name, value in headers.items()
        ],
        "scheme": "http",
        "server": ("127.0.0.1", 8000),
    }
    run(web_application(app)(scope, receive, send))
    return Answer(sent)
