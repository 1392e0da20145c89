"""Web hosts that fail as hosts do, and later versions of the app for them to serve."""

from __future__ import annotations

import http.server
import importlib
import json
import shutil
import socket
import sys
import threading
from pathlib import Path
from types import ModuleType

from .app_server import QuietServer

ROOT = Path(__file__).parents[2]


class Host:
    """Serves a built app; what goes wrong is set while it runs.

    Paths that are `gone` are answered with 404, `unanswered` ones never, `held` ones when they are
    let go, `cut` ones break off in the middle, and `types` gives other media types by path. While
    `dead` the host answers nothing; `dies_at` is a path and a count: asked for it so many times, it
    is dead. `policy` is sent as Content-Security-Policy. `asked` is every path asked for.
    """

    def __init__(self, folder: Path, port: int = 0, cache_control: str = "no-cache") -> None:
        self.folder = folder
        self.cache_control = cache_control
        self.gone: set[str] = set()
        self.unanswered: set[str] = set()
        self.held: set[str] = set()
        self.cut: set[str] = set()
        self.types: dict[str, str] = {}
        self.dead = False
        self.dies_at: tuple[str, int] | None = None
        self.policy: str | None = None
        self.asked: list[str] = []
        self._stopped = threading.Event()
        self._changed = threading.Condition()
        self._server = QuietServer(("127.0.0.1", port), _handler(self))
        self._server.daemon_threads = True
        threading.Thread(target=self._server.serve_forever, args=(0.01,), daemon=True).start()

    @property
    def port(self) -> int:
        """Where it listens."""
        return int(self._server.server_address[1])

    @property
    def address(self) -> str:
        """Where the app's page is, with a slash at its end."""
        return f"http://127.0.0.1:{self.port}/"

    def listed(self) -> dict[str, str]:
        """The media types of the app's files by path, as its list gives them."""
        files = json.loads((self.folder / "files.json").read_text(encoding="utf-8"))
        return {file["path"]: file["type"] for file in (*files["shell"], *files["engine"])}

    def alive(self) -> bool:
        """Whether the host still answers."""
        if self.dead or self._stopped.is_set():
            return False
        return self.dies_at is None or self.asked.count(self.dies_at[0]) < self.dies_at[1]

    def wait_until_stopped(self) -> None:
        """Keep whoever asked waiting."""
        self._stopped.wait()

    def hear(self, path: str) -> None:
        """Note that a path was asked for, and keep whoever asked for a held one waiting."""
        with self._changed:
            self.asked.append(path)
            self._changed.notify_all()
            self._changed.wait_for(lambda: path not in self.held or self._stopped.is_set())

    def wait_until_asked(self, path: str) -> bool:
        """Wait until a path was asked for; False if that takes a minute."""
        with self._changed:
            return self._changed.wait_for(lambda: path in self.asked, timeout=60)

    def let_go(self, path: str) -> None:
        """Answer whoever waits for a held path."""
        with self._changed:
            self.held.discard(path)
            self._changed.notify_all()

    def stop(self) -> None:
        """Listen no more, and let go whoever is waiting."""
        if not self._stopped.is_set():
            self._stopped.set()
            with self._changed:
                self._changed.notify_all()
            self._server.shutdown()
            self._server.server_close()


def _handler(host: Host) -> type[http.server.BaseHTTPRequestHandler]:
    class Handler(http.server.BaseHTTPRequestHandler):
        protocol_version = "HTTP/1.1"

        def log_message(self, *_: object) -> None:
            pass

        def do_GET(self) -> None:
            path = self.path.split("?", 1)[0].lstrip("/") or "index.html"
            host.hear(path)
            if path in host.unanswered:
                host.wait_until_stopped()
            if not host.alive():
                self.connection.shutdown(socket.SHUT_RDWR)
                self.close_connection = True
                return
            file = host.folder / path
            if path in host.gone or not file.is_file():
                self._answer(404, "text/plain", b"There is nothing here.\n")
                return
            known = {"sw.js": "text/javascript", "files.json": "application/json"}
            media_type = host.types.get(path) or (host.listed() | known)[path]
            self._answer(200, media_type, file.read_bytes(), path in host.cut)

        def _answer(self, status: int, media_type: str, body: bytes, cut: bool = False) -> None:
            self.send_response(status)
            self.send_header("Content-Type", media_type)
            self.send_header("Content-Length", str(len(body)))
            self.send_header("Cache-Control", host.cache_control)
            if host.policy is not None:
                self.send_header("Content-Security-Policy", host.policy)
            self.end_headers()
            try:
                self.wfile.write(body[: len(body) // 2] if cut else body)
            except (BrokenPipeError, ConnectionResetError):
                self.close_connection = True
            if cut:
                self.connection.shutdown(socket.SHUT_RDWR)
                self.close_connection = True

    return Handler


def edition(app: Path, folder: Path, name: str, new_engine: bool = False) -> Path:
    """Make another version of the app in a folder: its page carries the name as a meta element."""
    shutil.copytree(app, folder)
    page = folder / "index.html"
    text = page.read_text(encoding="utf-8")
    page.write_text(text.replace("<title>", f'<meta name="edition" content="{name}" /><title>', 1))
    files = json.loads((folder / "files.json").read_text(encoding="utf-8"))
    place = files["engine_place"]
    if new_engine:
        python = f"engine/bankside-{name}.zip"
        (folder / place["python"]).rename(folder / python)
        for script in (folder / "assets").glob("*.js"):
            text = script.read_text(encoding="utf-8").replace(place["python"], python)
            script.write_text(text.replace(place["version"], name), encoding="utf-8")
        place |= {"python": python, "version": name}
    worker = folder / "sw.js"
    worker.write_text(worker.read_text(encoding="utf-8").split("\n", 1)[1], encoding="utf-8")
    build = _build_module("app_files")
    build.list_files(folder, _build_module("engine_files").EnginePlace(**place))
    return folder


def engine_place(app: Path) -> dict[str, str]:
    """Where the engine lies in an app: `pyodide`, a folder with a slash, and `python`, a zip."""
    files = json.loads((app / "files.json").read_text(encoding="utf-8"))
    place: dict[str, str] = files["engine_place"]
    return place


def _build_module(name: str) -> ModuleType:
    """A module of the build, which is no package: its modules find each other by bare name."""
    if name in sys.modules:
        return sys.modules[name]
    sys.path.insert(0, str(ROOT / "web"))
    try:
        return importlib.import_module(name)
    finally:
        sys.path.remove(str(ROOT / "web"))
